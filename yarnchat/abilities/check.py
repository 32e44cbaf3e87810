"""Check: whether a materials line agrees with itself; each finding names both figures and the tolerance."""

from __future__ import annotations

from dataclasses import fields, replace

from yarnchat.abilities import agreement, materials, size_lists, unchecked
from yarnchat.abilities.agreement import Report
from yarnchat.abilities.base import Ability, Context, Draft, Frame, Talk
from yarnchat.abilities.sanity import sane
from yarnchat.answers import Finding
from yarnchat.quantity import LENGTHS, Quantity
from yarnchat.queries import Colour, Grading, Needle, PutUp, Query, Series, Yarn
from yarnchat.refusals import unclear

AGREES = "It agrees with itself"


def answer(query: Query, _context: Context) -> Draft:
    """Everything that was said twice, or that has a published range, held against each other."""
    sane(query)
    if sum(yarn.price is not None for yarn in query.both_sides) > 1:
        raise unclear("Prices I do not check. Type the line without them, or ask what the yarn costs.")
    report = Report()
    yarns = _yarns(query)
    for said in yarns:
        agreement.yarn(said, report)
    agreement.rates(yarns, report)
    agreement.lengths_of_one(yarns, report)
    label = _label(yarns)
    query = replace(query, colours=tuple(_labelled(colour, label) for colour in query.colours))
    _amounts(query, label, report)
    _skein_told_twice(query, label, report)
    _told_twice(query, yarns, report)
    unchecked.note(query, yarns, label, report)
    if not report.compared and not report.remarks:
        lacking = f" Not compared: {'; '.join(dict.fromkeys(report.missed))}." if report.missed else ""
        raise unclear(
            f"There is nothing in that to hold against anything else.{lacking} Type for example: "
            "check 5 (6, 7) skeins of DK, 231 yd / 211 m per 100 g, 1100 (1250, 1500) yd."
        )
    return _draft(query, report)


def _amounts(query: Query, label: PutUp | None, report: Report) -> None:
    """The lists of the line: their sizes, and each colour's amounts."""
    sample, chests = _chests(query)
    if size_lists.lists(query.colours, query.sizes, sample + len(chests), report):
        colours = _colours(query)
        for colour in colours:
            materials.colour(colour, colour.put_up or label, query.sizes, report)
        materials.total(colours, report)
        size_lists.rising("", chests, "chest", query.sizes, report)
    size_lists.names_rise(query.sizes, report)


def _skein_told_twice(query: Query, label: PutUp | None, report: Report) -> None:
    """``100 g, 110 m, 101 yds``: a lone length in the other unit, about as long as the label's, is that once more."""
    lone = query.amounts[0] if len(query.amounts) == 1 and len(query.amounts[0].values) == 1 else None
    length = label.length if label else None
    if lone is None or length is None or not length.value or lone.unit not in LENGTHS or lone.unit == length.unit:
        return
    if _ABOUT[0] < lone.first().to(length.unit).value / length.value < _ABOUT[1]:
        report.compared.append("length in yards against length in metres")
        agreement.duals(length, lone.first(), report)


_ABOUT = (0.75, 1.33)
"""So far a length may be from the label's to be the same told in another unit (common practice, no source)."""


def _labelled(colour: Colour, label: PutUp | None) -> Colour:
    """A colour with the line's label where its own says no more: ``4 x 100 g`` is of the yarn of 220 m/100 g."""
    weighed = label is not None and label.mass is not None and colour.put_up == PutUp(mass=label.mass)
    return replace(colour, put_up=label) if weighed else colour


def _told_twice(query: Query, yarns: list[Yarn], report: Report) -> None:
    """The fibres of a blend, and what the line says twice."""
    if query.blend:
        materials.blend(query.blend, report)
    if query.twice:
        size_lists.measures(query.twice, report)
        size_lists.cast_on(query.twice, next((yarn.gauge for yarn in yarns if yarn.gauge), None), report)
        agreement.classes(query.twice.classes, report)
        for one, other in query.twice.needles:
            agreement.same_needle(one, other, report)


def _draft(query: Query, report: Report) -> Draft:
    """The verdict, what was found or that nothing was, and what could not be compared; nothing listed twice."""
    compared, missed = list(dict.fromkeys(report.compared)), list(dict.fromkeys(report.missed))
    findings = list({finding.text: finding for finding in report.findings}.values())
    draft = Draft(_verdict(findings, bool(compared), bool(missed)))
    if query.want == "whether" and compared:
        draft.headline = f"No. {findings[0].text}" if findings else f"Yes. {draft.headline}"
    if findings:
        draft.working = [f"compared {what}" for what in compared]
    elif compared:
        findings.append(Finding(level="note", text=f"Clean: {'; '.join(compared)}."))
    findings += [Finding(level="note", text=text) for text in dict.fromkeys(report.remarks)]
    if missed:
        findings.append(Finding(level="note", text=f"Not compared: {'; '.join(missed)}."))
    draft.findings = findings
    return draft


def _yarns(query: Query) -> list[Yarn]:
    """The yarns of the line: what does not contradict is one yarn, with a second needle or gauge said."""
    yarns: list[Yarn] = []
    for yarn in (*query.both_sides, *(held.yarn for held in query.stash)):
        joined = _joined(yarns[-1], yarn) if yarns else None
        if joined:
            yarns[-1] = joined
        elif yarn != Yarn():
            yarns.append(yarn)
    measured = query.measured
    if measured and len(yarns) <= 1:
        yarn = yarns[0] if yarns else Yarn()
        needle = measured.needle or _in_mm(measured.amount)
        if needle and yarn.needle and not yarn.other_needle:
            yarn = replace(yarn, other_needle=needle)
        if measured.gauge and yarn.gauge and not yarn.other_gauge:
            yarn = replace(yarn, other_gauge=measured.gauge)
        return [yarn]
    return yarns


def _joined(one: Yarn, other: Yarn) -> Yarn | None:
    """Both as one yarn, or None where they contradict."""
    unsaid = {}
    for slot in fields(Yarn):
        old, new = getattr(one, slot.name), getattr(other, slot.name)
        if new is None or new == old:
            continue
        if old is None:
            unsaid[slot.name] = new
        elif slot.name in ("needle", "gauge") and getattr(one, f"other_{slot.name}") is None:
            unsaid[f"other_{slot.name}"] = new
        else:
            return None
    return replace(one, **unsaid)


def _in_mm(amount: Quantity | None) -> Needle | None:
    """A bare length in mm beside a needle, as in US 8 (5 mm)."""
    return Needle(f"{amount.value:g}", "mm") if amount and amount.unit == "mm" else None


def _colours(query: Query) -> tuple[Colour, ...]:
    """The colours of the line; skeins read as a holding are an amount of the lone colour."""
    held = tuple(Series((holding.amount,), holding.unit) for holding in query.stash)
    colours = query.colours or (Colour(),)
    if len(colours) > 1 or not held:
        return colours
    return (replace(colours[0], amounts=(*colours[0].amounts, *held)),)


def _label(yarns: list[Yarn]) -> PutUp | None:
    return next((yarn.put_up for yarn in yarns if yarn.put_up), None)


def _chests(query: Query) -> tuple[int, tuple[float, ...]]:
    """Whether a sample's chest was said besides, and the chests of the sizes in the unit of the first."""
    grading = query.grading or Grading()
    return int(grading.sample_chest is not None), tuple(
        chest.to(grading.chests[0].unit).value for chest in grading.chests
    )


def _verdict(findings: list[Finding], compared: bool, missed: bool) -> str:
    """The headline: the worst level found, and how often."""
    if not compared:
        return "Nothing in it could be held against anything else."
    errors, doubts = (sum(finding.level == level for finding in findings) for level in ("error", "doubt"))
    if errors:
        also = f" and {_count(doubts, 'more thing')} to look at" if doubts else ""
        return f"It does not add up: {_count(errors, 'thing')} cannot be right{also}."
    if doubts:
        return f"Worth a second look: {_count(doubts, 'thing')} may be wrong."
    return f"{AGREES}, as far as it can be checked." if missed else f"{AGREES}."


def _count(count: int, what: str) -> str:
    return f"{count} {what}{'' if count == 1 else 's'}"


ABILITY = Ability(
    name="check",
    summary="See whether a materials line or a label agrees with itself.",
    examples=(
        "check this: Larkspur DK, 231 yds / 211 m per 100 g, 5 (6, 7) skeins, 1100 (1250, 1500) yds",
        "does this add up: worsted, 100 g = 210 yd (150 m)",
        "proof: US 7 (4.5 mm) needles, 18 sts = 4 in, worsted weight",
    ),
    frames=(Frame(90, cues=("check",)),),
    uses=frozenset(
        {
            "pattern",
            "yarn",
            "blend",
            "twice",
            "want",
            "need",
            "sizes",
            "several_sizes",
            "several_colours",
            "grading",
            "measured",
            "stash",
        }
    ),
    answer=answer,
    talk=Talk(
        carries="ask.check",
        carries_to="follow.this",
        heeds=frozenset({"number left over"}),
        starts=True,
        of_text=True,
    ),
)
