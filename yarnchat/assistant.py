"""One conversation: a text is read, held against what was said before, worked out, and made an Answer."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from yarnchat.abilities import abilities
from yarnchat.abilities.base import WHOLE, Ability, Context, Draft, Talk
from yarnchat.abilities.help import ABILITY as HELP
from yarnchat.abilities.remembered import Memory, memory, plain, same_name
from yarnchat.abilities.swatch_counts import counted
from yarnchat.answers import Answer
from yarnchat.choosing import asked, asking, choose, talk_of
from yarnchat.corrections import corrected
from yarnchat.followups.leaning import (
    another_need,
    follows,
    further_on,
    piece_of_the_swatch,
    to_remember,
    turned_round,
)
from yarnchat.followups.merging import counted_over_as_before, in_unit, merged
from yarnchat.knowledge.classes import classes_named
from yarnchat.language.clean import printable
from yarnchat.language.names import class_hint
from yarnchat.language.reader import read
from yarnchat.language.reading import Reading
from yarnchat.language.scan import NO_NAMES, Names
from yarnchat.language.wishes import names_a_size
from yarnchat.notebook import Notebook, NotebookError
from yarnchat.quantity import LENGTHS, MASSES
from yarnchat.queries import Holding, Note, Query, Yarn, slots_told
from yarnchat.refusals import Refusal, not_understood, refused, unclear
from yarnchat.replies import (
    WHICH_IS_WRITTEN_FOR,
    Parts,
    completes,
    for_the_pattern_told,
    of_the_one_told,
    replied,
    unsaid,
    with_its_unit,
)
from yarnchat.safeguards import (
    account_for,
    all_or_the_rest,
    each_of_what,
    lists_left,
    may_be_an_amount,
    nothing_besides,
    nothing_lost,
    one_of_them,
    skein_or_need,
    skeins_of_hers,
    something_changed,
    unit_put_right,
)
from yarnchat.suggesting import suggestions

_GENERAL = "Type for example: 1200 yd worsted pattern in 420 yd/100 g fingering?"
_START = (
    "1200 yd worsted pattern in 420 yd/100 g fingering?",
    "how many 210 yd skeins for 1200 yd?",
    "what weight is 22 sts to 4 in?",
)


@dataclass(frozen=True, slots=True)
class _Meant:
    """A whole question, the ability that works it out, and the question before where something was kept of that."""

    query: Query
    ability: Ability
    kept: Query | None


class Assistant:
    """A conversation with one knitter: each question is read against those before it.

    ``notebook``: a path, ":memory:" for one that is not kept, or None for the user's own. It is opened when it is first
    needed. One that cannot be read is a caution of the Answer; what asks for the notebook itself is then "refused".
    """

    def __init__(self, notebook: str | Path | None = None) -> None:
        self._context = Context(lambda: Notebook(notebook))
        self._held: tuple[str, ...] = ()
        """The names in the notebook when ``_known`` was made of them."""
        self._known = NO_NAMES
        self._last: Query | None = None
        """The last question that was answered, or was clear enough to be added to."""
        self._answer: Answer | None = None
        self._sizes: tuple[str, ...] = ()
        self._spoken: dict[str, Yarn] = {}
        """Yarns named in the conversation with what is on a skein, by name."""
        self._alone = ""
        """The last text, where it was read by itself: ``check that`` asks of it as it stands."""
        self._offered: list[Yarn] = []
        """The yarns that this thread was answered with, in order."""
        self._missing = ""
        """The slot that was asked for last."""
        self._asked_back = False
        """Whether the last answer was a question about ``last``."""
        self._unread: tuple[str, ...] = ()
        """The lists of numbers that were left over of the question that the next may lean on."""
        self._keeping = ""
        """How the last text had something kept, so that ``and 3 skeins of …`` is kept so too; "" where it had not."""
        self._proposed: str | None = None
        """The question that a plain yes asks."""
        self._unitless: tuple[str, list[str]] | None = None
        """The last text, where it was asked back about, and what of it was not read."""
        self._of_the_rest = False
        """Whether the last answered question asked what is left over."""
        self._parts = Parts()
        """What was told since the last question that was answered whole."""

    @property
    def last(self) -> Query | None:
        """The question that the next one may lean on."""
        return self._last

    def ask(self, text: str) -> Answer:
        """The answer to any text at all; nothing is raised for it.

        Only an Answer whose status is "answered" has figures. Lengths and masses carry their units, as the question has
        them or the settings say; values are not rounded, and ``low`` and ``high`` are the range of an estimate.
        """
        alone = self._more_to_keep(text) or read(text, self._names())
        again = self._of_the_text_before(text, alone)
        reading = again or alone
        if again is None and reading.query.slots() - {"want"}:
            self._alone = text
        self._keeping = ""
        proposed, self._proposed = self._proposed, None
        missing, self._missing = self._missing, ""
        if proposed and _agrees(reading):
            return self.ask(proposed).model_copy(update={"asked": text})
        unitless, self._unitless = self._unitless, None
        if unitless and (united := with_its_unit(*unitless, reading.lone_unit)):
            return self.ask(united).model_copy(update={"asked": text})
        try:
            self._put_right(text, reading)
            self._ask_of_a_slip(text, reading)
            self._remember_labels(reading)
            self._remember_spoken(reading)
            self._go_back(reading)
            self._size_by_its_name(text, reading)
            return self._answered(text, reading, missing)
        except Refusal as refusal:
            if whole := self._told_in_parts(text, reading, refusal):
                return whole
            self._missing = refusal.missing
            self._unitless = text, reading.unused
            self._unread = self._unread or lists_left(reading)
            self._asked_back = refusal.status == "unclear" and self._last is not None
            return self._declined(text, reading, refusal)
        except NotebookError as error:
            return self._declined(text, reading, refused(str(error)))

    # how a question goes ---------------------------------------------------------------------------------------------

    def _answered(self, text: str, reading: Reading, missing: str) -> Answer:
        """The answer to a text that was read: what it means, what is left over, and what its ability makes of it.

        ``missing``: the slot that the answer before asked for, or could have used; a Refusal where there is no answer.
        """
        self._of_yarn_at_all(reading)
        if aside := self._of_the_talk(text, reading):
            return aside
        meant = self._put_in_its_place(reading) or self._supplied(reading, missing) or self._meant(reading)
        if meant.kept is not None:
            self._alone = ""
            _no_unknown_yarn(text, reading)
        self._unread = self._still_unread(reading, meant.kept)
        meant = replace(meant, query=self._completed(meant, reading))
        if not (meant.kept and reading.unused):
            self._pending(meant.query)
        _settled(meant, reading)
        draft = meant.ability.answer(meant.query, self._context)
        if meant.kept and meant.query.want in ("mass", *MASSES) and not _tells_mass(draft):
            raise unclear("A mass of what? Give the yarn's length and mass. Type for example: its yarn is 50 g/120 m.")
        answer = _answer(text, meant.query, draft, reading, meant.kept)
        self._proposed = draft.proposes
        self._keep(text, reading, meant, answer)
        return answer

    def _of_yarn_at_all(self, reading: Reading) -> None:
        """A Refusal where a text is of another craft or topic, or has numbers and not a word of yarn."""
        if reading.refusal and reading.refusal.status == "not_understood":
            raise reading.refusal
        query = reading.query
        strange = not reading.of_yarn and len(reading.unknown) > 3 and self._last is None
        if strange and query.slots() & {"need", "stash"} and not (query.measured or query.progress):
            raise not_understood(
                f"I only know yarn for hand-knitting, and see none in that. {_GENERAL}", *reading.unused
            )

    def _of_the_talk(self, text: str, reading: Reading) -> Answer | None:
        """The answer to a text that is of the talk itself: names sizes, starts afresh, asks why; None for any other."""
        if reading.query.slots() == {"sizes"}:
            return self._sizes_named(text, reading)
        if "follow.afresh" in reading.cues and not (reading.query.slots() or reading.unused or reading.unknown):
            return self._started_afresh(text)
        if self._sizes:
            reading.query = _with_sizes(reading.query, self._sizes)
        return self._again(text, reading)

    def _completed(self, meant: _Meant, reading: Reading) -> Query:
        """What is meant, with what was not said and is known: the yarn identified before, her settings, her counts."""
        query = self._with_subject(meant.query, reading).asked_of(meant.ability.name)
        return self._as_counted(self._as_set(query, reading), reading)

    def _keep(self, text: str, reading: Reading, meant: _Meant, answer: Answer) -> None:
        """Keeps of an answered question what the next text may lean on."""
        query, ability, kept = meant.query, meant.ability, meant.kept
        if not ability.talk.off_thread:
            self._last = query
            bought = _bought(query)
            self._offered = [*(self._offered if kept else ()), *bought]
        how = "add to my stash" if query.stash else "remember swatch" if query.swatch else ""
        self._keeping = how if ability.talk.off_thread and query.note else ""
        self._answer = answer
        self._of_the_rest = "rest.left" in reading.cues
        self._missing = unsaid(query, answer)
        self._asked_back = False
        self._parts = self._parts.with_text(text, reading) if kept and self._parts.texts else Parts()

    def _of_the_text_before(self, text: str, alone: Reading) -> Reading | None:
        """``check that``: the text before it read with it, where that was read by itself.

        Not where this tells something besides, but for an amount to hold that against.
        """
        if not self._alone or len(text) > _A_COMMAND:
            return None
        told = alone.query.slots() - {"want"} or alone.unused or alone.bare_count is not None
        told = told and "follow.against" not in alone.cues  # does it match 1050 (1180, 1340) m?
        if told or not alone.cues & asking("of_text") or alone.cues & {"follow.no", "follow.afresh"}:
            return None
        together = read(f"{self._alone}\n{text}", self._names())
        if together.refusal or not together.cues & asking("of_text"):
            return None
        self._last = None
        together.notes.append("of what you typed before")
        return together

    def _more_to_keep(self, text: str) -> Reading | None:
        """``and 3 skeins of Larkrise Lace, 50 g/400 m``, after something was put into the stash: goes there too."""
        more = _AND_MORE.match(text) if self._keeping and "?" not in text else None
        if more is None:
            return None
        reading = read(f"{self._keeping}: {text[more.end() :]}", self._names())
        swatched = [reading.query.swatch.yarn] if reading.query.swatch else []
        named = [yarn for yarn in (*reading.query.both_sides, *swatched) if yarn.name]
        told = reading.query.stash or reading.query.swatch
        if reading.refusal or reading.query.note is None or not told or not named:
            return None
        return reading

    def _told_in_parts(self, text: str, reading: Reading, refusal: Refusal) -> Answer | None:
        """The answer to what was told piece by piece and asks something only together, or what that still lacks.

        None where the pieces together ask nothing.
        """
        before, self._parts = self._parts, Parts()
        if refusal.status != "unclear" or refusal.missing == WHICH_IS_WRITTEN_FOR:
            return None
        self._parts = before.with_text(text, reading)
        joined = before.joined(text, reading)
        together = read(joined, self._names()) if joined else None
        if joined is None or together is None or together.refusal:
            return None
        last, self._last = self._last, None
        together.notes.append("together with what you said before")
        try:
            answer = self._answered(joined, together, "")
        except Refusal as lacking:
            if lacking.missing and not refusal.missing and self._last is not None:
                self._missing, self._asked_back = lacking.missing, True
                return self._declined(text, together, lacking)
            self._last = last
            return None
        except NotebookError:
            self._last = last
            return None
        return answer.model_copy(update={"asked": text})

    def _still_unread(self, reading: Reading, kept: Query | None) -> tuple[str, ...]:
        """The lists of numbers left over of this text; a Refusal where it leans on one that left a list over."""
        amounts = all(map(may_be_an_amount, self._unread))
        told_anew = reading.query.amounts if amounts else "follow.no" in reading.cues
        if kept is not None and self._unread and not told_anew:
            said = " and ".join(f"“{printable(piece)}”" for piece in self._unread[:2])
            still = f"I still can't tell what {said} stood for in the question before. Ask it whole."
            raise unclear(still, *self._unread)
        return lists_left(reading)

    def _put_in_its_place(self, reading: Reading) -> _Meant | None:
        """``150 rows, not 140``: the question before with the one number in the place of the other."""
        if self._last is None or reading.instead is None:
            return None
        new, old = reading.instead
        together = corrected(self._last, old, new)
        if together is None:
            if reading.query.slots() & _OF_ITS_OWN:
                return None
            raise unclear(f"I see no {old:g} in the question before to put {new:g} in its place. Ask it whole.")
        meant = self._laid_over(self._last, together, reading)
        reading.unused, reading.aside = [], []
        if meant is None:
            self._last = reading.query = together
            raise _not_read(reading)
        return meant

    def _supplied(self, reading: Reading, missing: str) -> _Meant | None:
        """The question that was asked back about, with what was ``missing``, where a text tells that and no more."""
        last = self._last
        together = replied(last, missing, reading, asked=self._asked_back) if last and missing else None
        meant = self._laid_over(last, together, reading) if last and together else None
        if meant and last:
            account_for(reading, last, meant.query)
            reading.aside = []
        return meant

    @staticmethod
    def _laid_over(last: Query, together: Query, reading: Reading) -> _Meant | None:
        """A question made of the last one and this text, with the ability it means; None where it means none."""
        lost = last.stash and not together.stash  # what she has is of another weight
        found = choose(together, reading.cues | (set() if lost else _carried(talk_of(last), reading)))
        return _Meant(together, found[0], last) if found else None

    def _meant(self, reading: Reading) -> _Meant:
        """What this text asks: by itself, or with the question before it where it leans on that."""
        self._size_by_its_measure(reading)
        query, last = reading.query, self._last
        own = choose(query, reading.cues)
        alone = _Meant(query, own[0], None) if own else None
        of_the_pattern = for_the_pattern_told(last, reading) if last and self._asked_back else None
        if last and of_the_pattern and (filled := self._laid_over(last, of_the_pattern, reading)):
            return filled
        completed = last is not None and self._asked_back and completes(last, reading)
        if (
            last
            and completed
            and (filled := self._laid_over(last, of_the_one_told(merged(last, reading), query), reading))
        ):
            return filled
        made_over = last and (piece_of_the_swatch(last, query) or turned_round(last, reading))
        if made_over and (found := choose(made_over, reading.cues)):
            return _Meant(made_over, found[0], last)
        if last is None or "follow.afresh" in reading.cues or not follows(last, reading):
            if alone is None and last and (filled := self._for_the_same_yarn(last, reading)):
                return filled
            if alone is None:
                self._pending(query)
                raise _not_read(reading)
            return alone
        anew = not to_remember(last, query) and not further_on(last, query)
        if own and alone and anew and _stands_alone(query, *own, reading):
            return alone
        if not _says_something(reading, last):
            if alone is None:
                raise _nothing_changed(reading)
            return alone
        together = self._together(last, reading)
        if meant := self._laid_over(last, together, reading):
            return meant
        if alone is None:
            if query.slots() == {"pick"} or (self._asked_back and query.slots() - {"want"}):
                self._last = together  # I'm the middle one, and then: my yarn is DK
            raise _not_read(reading)
        return alone

    def _size_by_its_name(self, text: str, reading: Reading) -> None:
        """``medium in DK``, ``C, please``, ``L/XL in aran``: one of the sizes that the last question was told of."""
        of_a_yarn = any(yarn.weight_class for yarn in reading.query.both_sides)
        if self._last is None or reading.query.pick or (reading.query.amounts and not of_a_yarn):
            return
        found = [name for name in self._last.sizes if names_a_size(text, name)]
        longest = max(found, key=len, default="")
        listed = len(reading.query.sizes) > 1 and "/".join(reading.query.sizes) != longest  # sizes S (L)
        if longest and not listed and all(name in longest for name in found) and not longest.isdigit():
            reading.query = replace(reading.query, pick=longest, sizes=())
            reading.unused = [piece for piece in reading.unused if piece.lower() != longest.lower()]

    def _size_by_its_measure(self, reading: Reading) -> None:
        """``for the 38 in, how many yards?``, after ``bust 34 (36, 38)``: a size of the last question."""
        measured = reading.query.measured
        small = measured.amount if measured and measured.amount and measured.amount.unit in ("cm", "in") else None
        name = f"{small.value:g}" if small else ""
        if measured and self._last and name in self._last.sizes and reading.query.slots() <= {"measured", "want"}:
            wanted = measured.into if measured.into in (*LENGTHS, *MASSES) else None
            reading.query = replace(reading.query, measured=None, pick=name, want=reading.query.want or wanted)

    def _for_the_same_yarn(self, last: Query, reading: Reading) -> _Meant | None:
        """``Pattern: 900 yds of bulky``, after a question of another need: for the yarn told before."""
        if (
            not another_need(reading.query)
            or not last.yarns
            or not last.colours
            or last.stash
            or "follow.afresh" in reading.cues
        ):
            return None
        return self._laid_over(last, self._together(last, reading), reading)

    def _together(self, last: Query, reading: Reading) -> Query:
        """The last question with this text laid over it; a Refusal where something of either would be lost."""
        if reading.bare_gauge:
            reading.query = counted_over_as_before(last, reading.query)
        nothing_besides(last, reading)
        together = merged(last, reading)
        account_for(reading, last, together)
        one_of_them(last, reading.query)
        all_or_the_rest(self._answer, reading, asked=self._of_the_rest)
        nothing_lost(reading.query, together)
        something_changed(reading, last, together)
        each_of_what(reading, together)
        if self._asked_back:
            skein_or_need(reading, last, together)
        if asks := skeins_of_hers(last, together):
            self._pending(together)
            raise asks
        unit = _unit_wanted(reading)
        if unit is None:
            return together
        unit_put_right(reading, last, unit)
        weighed = all(series.unit in MASSES for series in together.amounts)
        return replace(together, want=unit) if weighed else in_unit(together, unit)

    def _started_afresh(self, text: str) -> Answer:
        """``start over`` alone: what was said before is let go; what the notebook keeps stays."""
        self._last, self._answer, self._sizes, self._unread = None, None, (), ()
        said = "Started afresh: nothing of the questions before is kept."
        return Answer(asked=text, status="answered", ability=HELP.name, reading="start afresh", headline=said)

    def _sizes_named(self, text: str, reading: Reading) -> Answer:
        """``sizes XS (S, M, L)`` alone names the sizes of what follows."""
        self._sizes = reading.query.sizes
        if self._last is not None:
            self._last = _with_sizes(self._last, self._sizes)
        said = f"{self._sizes[0]} ({', '.join(self._sizes[1:])})"
        return Answer(
            asked=text,
            status="answered",
            ability=HELP.name,
            reading=f"sizes: {said}",
            headline=f"Sizes named for what follows: {said}.",
        )

    def _again(self, text: str, reading: Reading) -> Answer | None:
        """``why?`` and ``how sure is that?`` show the last answer again: its working and range are the reply.

        What is said to come from somewhere, as in ``where does 18 sts come from``, is no new fact.
        """
        query = reading.query
        told = query.slots() - {"want"} and "follow.origin" not in reading.cues
        if query.want not in ("why", "sure") or told:
            return None
        last = self._answer
        if last is None and self._last is not None:
            raise unclear(f"I read {self._last} and have worked nothing out yet. Ask it whole.")
        if last is None:
            return None
        lead = "How this came about:" if query.want == "why" else "How sure this is:"
        ratio = last.figures.get("ratio")
        detail = ""
        if query.want == "sure" and ratio is not None:
            detail = " the range covers about 19 cases of 20;"
        return last.model_copy(
            update={"asked": text, "ability": HELP.name, "reading": f"{lead}{detail} {last.reading}"}
        )

    def _pending(self, query: Query) -> None:
        if query.note and query.note.verb == "correct":
            return
        if query.slots() & _leant_on():
            self._last = query

    def _with_subject(self, query: Query, reading: Reading) -> Query:
        """``95 yd balls of it``, after a yarn was identified: it is of that class."""
        last = self._answer
        if not reading.it_is_said or last is None or "need" not in query.slots():
            return query
        if last.ability is None or not abilities()[last.ability].talk.of_other_yarns:
            return query
        named = last.figures.get("weight_class")
        if isinstance(named, list) and len(named) > 1:
            self._pending(query)
            raise unclear(f"It may be {' or '.join(map(str, named))}. Which shall I reckon with?")
        label = named[0] if isinstance(named, list) and named else None
        if not isinstance(label, str) or len(query.yarns) != 1 or query.yarns[0].weight_class or query.yarns[0].name:
            return query
        found = classes_named(label)
        if len(found) != 1:
            return query
        return replace(query, yarns=(replace(query.yarns[0], weight_class=found[0].key, class_as_said=label),))

    def _as_set(self, query: Query, reading: Reading) -> Query:
        """The question with her settings: lengths in her unit, swatches weighed on her scale."""
        if not query.colours and not query.swatch:
            return query
        settings = memory(self._context).settings
        if settings.units and query.colours and _unit_wanted(reading) is None:
            query = in_unit(query, settings.units)
        if settings.scale_step and query.swatch:
            query = replace(query, swatch=replace(query.swatch, mass_step=settings.scale_step))
        return query

    def _as_counted(self, query: Query, reading: Reading) -> Query:
        """The question with the counts of its swatch taken to 4 in, or over the swatch's own size."""
        if query.swatch is None:
            return query
        swatch, told = counted(query.swatch, memory(self._context))
        reading.notes += [told] if told else []
        return replace(query, swatch=swatch)

    def _names(self) -> Names:
        """The names in the notebook; none where it cannot be read, which is said when it is needed."""
        try:
            held = self._context.notebook.names()
        except NotebookError:
            return NO_NAMES
        if held is not self._held:
            self._held, self._known = held, Names(held)
        return self._known

    def _ask_of_a_slip(self, text: str, reading: Reading) -> None:
        """Asks where words that mean nothing else are nearly the name of something remembered."""
        if self._held and reading.query.note is None and (slip := self._context.notebook.slip(text, reading.unknown)):
            said, name = slip
            self._proposed = _with_name(text, said, name) or _with_name(printable(text), said, name)
            meant = printable(self._proposed or text)
            raise unclear(f"I remember no “{said}”. Did you mean {name}?", said, suggestions=(meant,))

    def _put_right(self, text: str, reading: Reading) -> None:
        """``Marsh Fog is actually 430 yd/115 g``: something remembered is told otherwise than before."""
        if "verb.stated" not in reading.cues:
            return
        query = reading.query
        told = [yarn for yarn in query.both_sides if yarn != Yarn()]
        asked = "?" in text or query.slots() & {"need", "stash", "used", "swatch", "piece", "note", "several_yarns"}
        if asked or len(told) != 1:
            return
        [yarn] = told
        facts = yarn.class_as_said or query.slots() & _FACTS
        if facts and any(same_name(row.name, yarn.name) for row in memory(self._context).yarns):
            reading.query = replace(Query(note=Note("correct", name=yarn.name)), yarns=(yarn,))

    def _go_back(self, reading: Reading) -> None:
        """``back to the DK``, ``the first yarn again``: a yarn of this thread, with all that was told of it.

        So does ``and in the DK?``, where another yarn was asked about since and the DK was told with its put-up.
        """
        query = reading.query
        told = [yarn for yarn in query.both_sides if yarn != Yarn()]
        if not self._offered or query.slots() - _OF_A_YARN_AGAIN:
            return
        meant = None
        if "follow.first" in reading.cues and len(told) < 2:
            meant = next(
                (yarn for yarn in self._offered if not told or yarn.weight_class == told[0].weight_class), None
            )
        elif len(told) == 1 and ("follow.back" in reading.cues or self._is_another(told[0], reading)):
            alike = (
                yarn
                for yarn in reversed(self._offered)
                if told[0].filled_from(replace(yarn, price=None)) == replace(yarn, price=told[0].price)
            )
            meant = next(alike, None)
        if meant:
            meant = replace(meant, price=told[0].price or meant.price) if told else meant
            reading.query = replace(query, pattern=Yarn(), yarns=(meant,))
            reading.notes.append(f"back to {meant}")

    def _is_another(self, told: Yarn, reading: Reading) -> bool:
        """Whether a weight told alone is that of no yarn of the last question, and of one asked about before."""
        if self._last is None or not told.weight_class or reading.cues & _SAYS_WHOSE:
            return False
        last = {yarn.weight_class for yarn in self._last.both_sides}
        wound = (yarn for yarn in self._offered if yarn.put_up)
        return told.weight_class not in last and any(yarn.weight_class == told.weight_class for yarn in wound)

    def _remember_spoken(self, reading: Reading) -> None:
        """A yarn named again without its label has the one it was named with; one named with a label is kept."""
        query = reading.query
        if query.note:
            return
        told: list[Yarn] = []
        for yarn in query.yarns:
            unsaid = yarn.name and not yarn.put_up and not query.colours  # an amount said now may be its skein's length
            before = self._spoken.get(plain(yarn.name)) if unsaid else None
            told.append(yarn.filled_from(before) if before else yarn)
            reading.notes += [f"named before: {before}"] if before else []
        for yarn in (query.pattern, *told):
            if yarn.name and yarn.put_up:
                self._spoken[plain(yarn.name)] = yarn
        if tuple(told) != query.yarns:
            stash = tuple(_told_of(held, told) for held in query.stash)
            reading.query = replace(query, yarns=tuple(told), stash=stash)

    def _remember_labels(self, reading: Reading) -> None:
        """The labels of remembered yarns filled in where the question names them; a near miss is asked about."""
        query = reading.query
        named = [yarn for yarn in (*query.both_sides, *(held.yarn for held in query.stash)) if yarn.name]
        if not named or query.note or query.swatch:
            return
        known = memory(self._context)
        if known.trouble or not known.labels:
            return
        query = _weights_apart(query, known)
        for yarn in named:
            full = known.complete(yarn)
            if full != yarn:
                told = f"from your notebook: {full}"
                reading.notes += [told] if told not in reading.notes else []
            elif not yarn.put_up and not any(same_name(row.name, yarn.name) for row in known.labels):
                near = self._context.notebook.near(yarn.name or "")
                if near:
                    raise unclear(
                        f"I remember no “{yarn.name}”. Did you mean {' or '.join(near[:2])}?", yarn.name or ""
                    )
        reading.query = replace(
            query,
            pattern=_labelled(query.pattern, known),
            yarns=tuple(_labelled(yarn, known) for yarn in query.yarns),
            stash=tuple(replace(held, yarn=_labelled(held.yarn, known)) for held in query.stash),
        )

    def _declined(self, text: str, reading: Reading, refusal: Refusal) -> Answer:
        query = reading.query
        return Answer(
            asked=text,
            status=refusal.status,
            ability=query.ability or None,
            reading=printable(str(query)),
            headline=refusal.sentence,
            asks=refusal.sentence if refusal.status != "refused" else None,
            cautions=[refusal.sentence] if refusal.status == "refused" else [],
            unused=[printable(piece) for piece in (*refusal.unused, *(reading.unused if not refusal.unused else ()))],
            suggestions=list(refusal.suggestions or _offered(query, refusal)),
        )


def _stands_alone(query: Query, ability: Ability, rank: int, reading: Reading) -> bool:
    """Whether a text that could lean on the question before is plainly a question of its own."""
    whole = rank >= WHOLE and bool(query.slots() - {"want"})
    return whole or ability.talk.alone(query, reading.cues)


@cache
def _leant_on() -> frozenset[str]:
    """The slots that a later text may lean on."""
    own = {name for name, slot in slots_told().items() if slot.leant_on}
    return frozenset(own | {"need", "yarn", "pattern.weight_class", "pattern.put_up"})


def _tells_mass(draft: Draft) -> bool:
    """Whether a mass is among the figures, of the whole or of a part."""
    parts = [part for row in (draft.sizes, draft.colours, draft.yarns) for part in row]
    inner = [size for part in parts for size in part.sizes]
    known = {"mass", "grist", "weight_class"}
    return any(known & figures.keys() for figures in (draft.figures, *(part.figures for part in (*parts, *inner))))


def _nothing_changed(reading: Reading) -> Refusal:
    """``and now?``: nothing that could be changed in the question before, or nothing that was understood."""
    if reading.cues & {"follow.again", "follow.this"} and len(reading.unknown) <= 2:
        return unclear(
            "I can't tell what to change in the question before. Type for example: and in 230 yd/100 g DK?",
            *(printable(word) for word in reading.unknown),
        )
    return _not_read(reading)


def _answer(text: str, query: Query, draft: Draft, reading: Reading, kept: Query | None) -> Answer:
    """A draft made an Answer: its reading line says the query, what is kept, put right, and left aside."""
    told = query.slots() - {"want"}
    lines = [str(query) if told else query.ability]
    if kept is not None and told and (stands := _kept(kept, query, reading.query)):
        lines.append(f"from before: {', '.join(stands)}")
    lines += [f"spelling: {note}" if note.startswith("read “") else note for note in reading.notes]
    lines += [f"left aside: {', '.join(reading.aside)}"] if reading.aside else []
    return Answer(
        asked=text,
        status="answered",
        ability=query.ability,
        reading="; ".join(printable(line) for line in lines),
        headline=draft.headline,
        figures=draft.figures,
        sizes=draft.sizes,
        colours=draft.colours,
        yarns=draft.yarns,
        findings=draft.findings,
        working=draft.working,
        cautions=draft.cautions,
    )


_FACTS = frozenset(
    f"{side}.{slot}" for side in ("pattern", "yarn") for slot in ("put_up", "gauge", "needle", "price", "wpi")
)
"""What can be put right of a yarn that is remembered."""


def _kept(before: Query, now: Query, said: Query) -> list[str]:
    """What of the question before stands in this one without being said again, in words."""
    return [
        slot.called
        for name, slot in slots_told().items()
        if hasattr(now, name)
        and getattr(now, name)
        and getattr(now, name) == getattr(before, name) != getattr(said, name)
    ]


def _offered(query: Query, refusal: Refusal) -> tuple[str, ...]:
    """Questions to try instead: made from what was read, or where nothing was, of each kind one."""
    if refusal.status == "refused":
        return ()
    made = suggestions(query)
    return made or (_START if refusal.status == "not_understood" else ())


def _with_sizes(query: Query, names: tuple[str, ...]) -> Query:
    """The names given to the sizes before, where the question lists as many sizes and names none."""
    counts = {len(series.values) for series in query.amounts} - {1}
    return replace(query, sizes=names) if not query.sizes and counts == {len(names)} else query


_OF_ITS_OWN = frozenset({"pattern.weight_class", "yarn.weight_class", "pattern.put_up", "yarn.put_up", "piece"})
"""What a text tells that is a question of its own, whatever number it denies."""
_OF_A_YARN_AGAIN = frozenset({"want", "yarn"}) | {
    f"{side}.{slot}" for side in ("yarn", "pattern") for slot in ("weight_class", "name", "price")
}
"""What may be told of the yarn to go back to; one weight alone may be read as the pattern's."""
_SAYS_WHOSE = frozenset({"pattern.noun", "pattern.in", "pattern.after", "pattern.label", "pattern.verb"})
_A_COMMAND = 60
"""A text that asks of the one before as it stands is no longer than this, in characters."""
_AND_MORE = re.compile(r"\s*(?:and|also|plus|then)\s+(?:this one(?: as well| too)?\s*[:,-]?\s*)?", re.IGNORECASE)


def _no_unknown_yarn(text: str, reading: Reading) -> None:
    """``used 2 skeins of the Oldfold``: a follow-up that names a yarn nobody has told of is not of the one before."""
    for word in reading.unknown:
        named = word[:1].isupper() and re.search(rf"\b(?:of|of the|my|much|many|any)\s+{re.escape(word)}\b", text)
        if named:
            raise unclear(f"I know no yarn called {printable(word)} alone. Type its whole name.", word)


def _settled(meant: _Meant, reading: Reading) -> None:
    """A Refusal where something of a question is in doubt, lacks or is left over that its ability heeds."""
    talk = meant.ability.talk
    if reading.refusal and ("doubtful number" if reading.refusal.unused else "doubt") in talk.heeds:
        raise reading.refusal
    if reading.query.want == "skeins" and not talk.counts and not meant.query.slots() & {"need", "stash"}:
        raise unclear("How much does the pattern take? Type for example: 1200 yd, or: 6 skeins of 210 yd each.")
    if "measures left aside" in talk.heeds and len(reading.measures_aside) > 1:
        sizes = " and ".join(f"“{printable(piece)}”" for piece in reading.measures_aside[:3])
        raise unclear(
            f"I can't tell what to do with {sizes} here. For another size type for example: "
            "the 96 cm chest takes 920 m, how much for 104 cm?",
            *reading.measures_aside,
        )
    told = "need" in reading.query.slots() & meant.query.slots()
    if meant.kept and told and "need" not in meant.ability.uses:  # it takes 1260 m, after: what weight is 20 sts?
        amount = reading.query.amounts[0]
        raise unclear(f"I can't tell what {amount} changes in the question before. Ask it whole, with everything.")
    _nothing_left(reading, meant.query if meant.kept else reading.query, meant.ability)


def _nothing_left(reading: Reading, query: Query, ability: Ability) -> None:
    """A number no slot took, or a slot this ability takes no notice of, is asked about."""
    if "number left over" not in ability.talk.heeds:
        return
    if reading.unused:
        pieces = " and ".join(f"“{printable(piece)}”" for piece in reading.unused[:3])
        stand = "stand" if len(reading.unused) > 1 else "stands"
        raise unclear(
            f"I can't tell what {pieces} {stand} for. Leave it out, or say what it is: a length, a skein's length, "
            "a gauge, a size.",
            *reading.unused,
        )
    uses = ability.uses
    missed = [slot for slot in query.slots() if slot not in uses and slot.split(".")[0] not in uses]
    known = [slots_told().get(slot.split(".")[-1]) for slot in sorted(missed)]
    numbers = [slot.called for slot in known if slot and slot.numbered]
    if numbers:
        raise unclear(f"I can't tell what to do with {numbers[0]} here. Ask the two apart.")


def _not_read(reading: Reading) -> Refusal:
    """The question names no ability: what is missing, or the piece that was not understood."""
    slots = reading.query.slots()
    if reading.unused and not slots:
        return unclear(f"I can't tell what “{printable(reading.unused[0])}” stands for. {_GENERAL}", *reading.unused)
    twice = {"need.count", "need.length", "pattern.put_up"} <= slots
    if twice and not slots & {"yarn", "several_colours"}:
        return unclear(
            f"I read {reading.query}, but not what you want to know of it. Does it agree with itself? "
            "Then type: check that."
        )
    if "need" in slots and "yarn" not in slots:
        return unclear(
            f"I read {reading.query}. In which yarn? Type its weight or gauge and its put-up: "
            "in 420 yd/100 g fingering."
        )
    if (
        "need" in slots
        or "yarn" in slots
        or "stash" in slots
        or "pattern.weight_class" in slots
        or "pattern.put_up" in slots
        or "pattern.gauge" in slots
    ):
        return unclear(
            f"I read {reading.query}, but not what to work out from it. Say what you want to know: how many skeins, "
            f"in which yarn, is it enough? {_GENERAL}"
        )
    if slots - {"want"}:
        return unclear(f"I read {reading.query}, but not what you want to know of it. {_GENERAL}")
    if reading.of_yarn and (reading.unused or reading.cues & asking()):
        return unclear(
            f"I can see it is about yarn, but not what to work out: a length, a weight or a put-up is missing. "
            f"{_GENERAL}"
        )
    words = [printable(word) for word in reading.unknown[:3]]
    piece = f" “{' '.join(words)}”" if words else " that"
    return not_understood(f"I could not read{piece} as a question about yarn. {_GENERAL}", *words)


def _labelled(yarn: Yarn, known: Memory) -> Yarn:
    """A yarn with its remembered label; its price only where an ability asks for it, since it was not said."""
    return replace(known.complete(yarn), price=yarn.price)


def _weights_apart(query: Query, known: Memory) -> Query:
    """``a 1000 m DK jumper with my Plover Tweed``: a weight that is not the remembered yarn's is the pattern's."""
    told = query.yarns or (query.pattern,)
    if len(told) != 1 or not query.colours:
        return query
    [yarn] = told
    own = known.complete(Yarn(name=yarn.name)).weight_class if yarn.name else None
    if own is None or yarn.weight_class in (None, own) or class_hint(yarn.name or "") == yarn.weight_class:
        return query
    if query.yarns and (query.pattern.weight_class or query.pattern.gauge):
        return query
    pattern = query.pattern if query.yarns else Yarn()
    pattern = replace(pattern, weight_class=yarn.weight_class, class_as_said=yarn.class_as_said)
    return replace(query, pattern=pattern, yarns=(replace(yarn, weight_class=None, class_as_said=None),))


def _told_of(held: Holding, told: list[Yarn]) -> Holding:
    """What she has, of the yarn as it is told where that is the same."""
    yarn = next((yarn for yarn in told if same_name(yarn.name, held.yarn.name)), None)
    return replace(held, yarn=yarn) if yarn and not held.yarn.put_up else held


def _agrees(reading: Reading) -> bool:
    """Whether a text says yes and nothing else."""
    return "follow.yes" in reading.cues and not (reading.query.slots() or reading.unknown or reading.unused)


def _with_name(text: str, said: str, name: str) -> str | None:
    """A text with the name that was meant in the place of what was said; None where that does not stand in it."""
    meant = re.sub(re.escape(said), name, text, count=1, flags=re.IGNORECASE)
    return meant if meant != text else None


def _bought(query: Query) -> tuple[Yarn, ...]:
    """The yarns a question was of: those to knit with, of the pattern's weight where none is said, or its own yarn."""
    if not query.yarns:
        return (query.pattern,) if query.pattern.put_up else ()
    if not talk_of(query).of_one_yarn:
        return query.yarns
    own = Yarn(weight_class=query.pattern.weight_class, class_as_said=query.pattern.class_as_said)
    return tuple(yarn if yarn.weight_class or yarn.name else yarn.filled_from(own) for yarn in query.yarns)


def _carried(talk: Talk, reading: Reading) -> set[str]:
    """The question of before, where this text asks none of its own."""
    if talk.carries is None or reading.cues & asking("starts"):
        return set()
    if talk.carries_to and (talk.carries_to not in reading.cues or "need" in reading.query.slots()):
        return set()
    return {talk.carries}


def _unit_wanted(reading: Reading) -> str | None:
    measured = reading.query.measured
    if measured and measured.into in ("m", "yd") and measured.amount is None:
        return measured.into
    return None


def _says_something(reading: Reading, last: Query) -> bool:
    """Whether a text adds anything to the question before: a slot, a question, a number."""
    query = reading.query
    if (
        query.slots() - {"want"}
        or (reading.dim and last.piece)
        or (reading.small and (last.grading or last.sizes or last.piece or last.measured))
    ):
        return True
    if reading.colour and len(last.colours) > 1:
        return True
    if reading.many and last.piece:
        return True
    if reading.bare_count is not None and reading.cues & {"have.before", "have.after"}:
        return True
    if last.stash and (reading.bare_count is not None or reading.cues & {"have.more", "have.one_less"}):
        return True
    lone = reading.bare_count is not None and (len(reading.unknown) <= 2 or "gauge.does" in reading.cues)
    if lone and last.piece and reading.measures_named:
        return True  # make it 25 wide
    if lone and (last.measured or last.colours or last.pattern.gauge or (last.yarns and last.yarns[0].gauge)):
        return True
    return bool(query.want or asked(reading.cues - asking("in_passing")))
