"""What is easily misread and would be answered wrongly: opened skeins, what is not hers, gauges, units taken back."""

from __future__ import annotations

import pytest

from yarnchat import Assistant

from .test_replies import plain

READ = [
    # a part ball is there besides: 3 x 170 + 22/50 x 170
    ("3 full balls (50 g / 170 m) plus a part ball weighing 22 g. Socks need 570 m. Enough?", "have", "584.8 m"),
    # so much of the next skein: (2 + 63/100) x 380
    ("Two whole hanks plus 63 g of a third, 100 g = 380 m. The shawl asks for 950 m. Enough?", "have", "999.4 m"),
    # several part balls weigh so much each: 3 x 20/50 x 120
    ("I have 3 part balls of 20 g of DK 50 g/120 m; need 200 m. Enough?", "have", "144 m"),
    # used, and not there: 2 x 115
    ("used a part ball of 31 g, and have 2 balls 50 g/115 m; need 300 m", "have", "230 m"),
    # what she has not got is not counted: 5 x 104
    ("I don't have 6 balls, I only have 5 balls, 104 m each. I need 530 m. Enough?", "have", "520 m"),
    # a unit taken back: 1200 m / 120 m
    ("need 1200 yds, sorry, metres. 120 m balls", "length", "1200 m"),
    # 20 sts beside 5 to the inch are over 4 in: 1100 x 20 / 20
    ("pattern says 1100 yd at a gauge of 20 sts. I get 5 sts per inch. 215 yd skeins", "length", "1100 yd"),
    # the finer yarn is the one that is held: 430/100 g against 108/100 g
    ("for a bulky, how many strands of fingering", "strands", ["4", "5"]),
    # of each square, and so many of them: 48 x 14 g
    ("each square takes 14 g and there are 48. 100 g balls", "mass", "672 g"),
    # a part of one more: 2 1/3 x 50 g
    ("I used 2 balls and a third of the third one, 50g each. how many grams is that?", "mass", "116.7 g"),
    # said again in the question, before or behind what it is told with: 5 x 180
    (
        "Do five cover it, or not? They've five left here, each of 180 yds. 975 yds is the need.",
        "have",
        "900 yd",
    ),
    # what is left of all there was, and not both
    ("I've 500 yds of my 800 left. Pattern needs 700 yds. Enough?", "have", "500 yd"),
    ("I've 5 balls left of the 9 I bought, 120 m each. Pattern needs 500 m. Enough?", "have", "600 m"),
    # a number of other things is no second lot: 12 x 80
    ("A dozen balls, 80 m each; the vest needs 1,020 m. Enough? It's 12 degrees in here.", "have", "960 m"),
    # a sentence opens in small letters behind a shortened unit
    ("pattern is medium (4), 620 m. the ball i like is light (3), 140 m. how many?", "length", "775 m"),
    # of more strands than one, those of the finer yarn: 2 x 1180
    (
        "I take it double to the same gauge, pattern is worsted, 1180 m, mine fingering, 210 m/50 g",
        "length",
        "2360 m",
    ),
    # what there was in all, told first: 148/96 x 240
    ("400 g at the start. 96 of 240 rows done and 148 g gone. Will I make it?", "need", "370 g"),
    # what is there still, of all there was: 7 - 4, and 3 / 0.4
    ("4 of 7 balls left, 40% done. enough?", "need", "7.5 skein"),
    # what is used instead: 1250 x 24.5 / 18
    ("Instead of using worsted I'll use sport at 320 yds. Needs 1250 yds. how many", "length", "1701.4 yd"),
    # one of several things that all make: 7 x 140
    (
        "Seven of us, a hat apiece, each hat takes 140 yds of DK, skeins of 230 yds. How many?",
        "length",
        "980 yd",
    ),
    # the two are two yarns: 1000/(10/4 + 10/8) m/100 g
    ("fingering 400 m/100 g with lace 800 m/100 g. what would the two together make?", "grist", "266.7 m/100 g"),
    # the reader knits, and the designer does not: 1140 x √(22 x 30 / (24 x 32))
    (
        "Tension 24 sts, 32 rows to 10 cm. 1140 m.\nReader: she gets 22 sts, 30 rows to 10 cm, 112 m/50 g. How many?",
        "length",
        "1056.8 m",
    ),
    # called by the first word of its name: 10 x 120 x 18 / 22.5 m
    ("Fell Aran 50g/85m, Clover DK 50g/120m. The pattern's in the Clover, 10 balls. How many Fell?", "length", "960 m"),
]


@pytest.mark.parametrize(("text", "figure", "value"), READ)
def test_it_is_read_as_it_is_meant(text: str, figure: str, value: object) -> None:
    answer = Assistant(notebook=":memory:").ask(text)
    assert (answer.status, plain(answer).get(figure)) == ("answered", value)


@pytest.mark.parametrize(
    "text",
    [
        "I've 10 balls but two are for my sister. 50g/110m, need 900 m",
        "I don't have 6 balls of 104 m. Need 530 m. Enough?",
        "I have 8 balls of DK, 115 m each. Forget 3 balls. Is that enough for 700 m?",
        "a started ball of 50 g, 120 m/50 g, need 110 m. Enough?",
        "My tension is 5 stitches to the inch, that's 24 to 4 inches. What weight is it?",
        "gauge 5.5",
        "borders 12 to 10 cm; 900 m DK in aran 85 m",
        "Cowl 60 cm round by 20 cm took 130 m. I want 70 round by 25. How many m?",
        "6 skeins of worsted fingering for 1000 yds",
        "how many strands of worsted to make lace?",
        "6 balls MC, 1 ball each of CC1, CC2, CC3 in Birch DK (50g/120m). In aran (50g/90m)?",
        "900 m of 4 ply in DK: 50 g, 125 m, Q68 a ball. What do I pay?",
        "bought 9, lost one on the bus, 200 yd each, need 1650 yds. enough?",
        "had ten balls of 50g/120m, three went into a hat, and the cardigan wants 850 m. enough?",
        "the scale says 215 g, the cone itself weighs 35 g. yarn is 320 m/100 g. need 600 m. enough?",
        "I had 900 g, used 120 g on a hat. 200 m/100g. Need 1600 m. enough?",
        "every repeat takes 9 g, 14 repeats, i have 120 g. enough?",
        "can i swap 5 ply for 4 ply, pattern 1000 m of 4 ply. 5ply is 300m/100g. how many",
        "300 g of 800 m/100 g lace, two strands held together, how long is it",
        "I used to have 8 balls, 120 m each. need 900 m. enough?",
        "I have 3 skeins of 200 m. Gran gave me 2 skeins. need 950 m. enough?",
        "I have 3 skeins of 200 m. There were 2 skeins in the tin. need 950 m. enough?",
        "scale reads 63 g with the bowl on, and the bowl by itself is 21 g. how long is it, at 400 m to 100 g?",
        "pattern holds worsted double, 900 yd. I use fingering single at the same gauge, 400 yd skeins. how many",
        "1000 m at 22 sts to 10 cm. My yarn knits to the very same gauge, 18 sts to 10 cm, 180 m a skein. how many?",
        "900 m of DK, four fifty a ball, 120 m a ball. cost?",
        "scarf of 200 rows, I've done 260 rows and used 310 yd. How much will the whole scarf take?",
    ],
)
def test_it_is_not_answered(text: str) -> None:
    answer = Assistant(notebook=":memory:").ask(text)
    assert answer.status in ("unclear", "refused")
    assert answer.asks or answer.cautions
