"""A lot in one look, as rows of words with what is drawn under them; Qt-free but for the drawings."""

from benchapp.desktop.theme.signs import sign_for
from benchapp.desktop.widgets.bars import PartsBar, RangeBar
from benchapp.desktop.widgets.choices import Row
from benchapp.desktop.words import tr
from benchapp.lots.kit import KitKind, KitLine
from benchapp.lots.lot_look import FoundFault, LotLook, StageCount

_NAMED = 12
"""units named one by one beside a fault; of more the rest are counted"""
_KINDS = {KitKind.part: "Parts", KitKind.meter: "Meters", KitKind.load: "Loads", KitKind.supply: "For first power"}


def stand_rows(look: LotLook) -> list[Row]:
    """Where the units stand: one bar for the lot, and those that may hurt or are on hold by name."""
    parts = tuple((sign_for(word), units) for word, units in look.stand)
    words = tr("{count} unit(s)", "", look.units).format(count=look.units)
    return [
        _head(tr("Where they stand")),
        Row(words=f"{words}: {_counts(look.stand)}", drawing=PartsBar(parts=parts)),
        *(Row(words=mark, detail=due, sign=sign_for(why)) for mark, why, due in look.mind),
    ]


def stage_rows(look: LotLook) -> list[Row]:
    """Each stage: how many units stand how."""
    rows = [
        Row(
            words=tr("{stage}: {counts}").format(stage=stage.title, counts=_counts(stage.counts)),
            drawing=PartsBar(parts=tuple((sign_for(word), units) for word, units in stage.counts), of=look.units),
        )
        for stage in look.stages
    ]
    return [_head(tr("How far they are")), *rows]


def yield_rows(look: LotLook) -> list[Row]:
    """Each stage that any unit went through: how many passed it at the first go."""
    rows = [_yield(stage) for stage in look.stages if stage.first_go.judged]
    none = Row(words=tr("No stage was carried through yet."))
    return [_head(tr("Passed at the first go")), *(rows or [none])]


def _yield(stage: StageCount) -> Row:
    found, percent = stage.first_go, 100 * (stage.first_go.share or 0.0)
    words = tr("{stage}: {passed} of {judged}, {percent:.0f} %")
    spread = tr("What so few can tell: between {lower:.0f} % and {upper:.0f} % (95 % sure).")
    return Row(
        words=words.format(stage=stage.title, passed=found.passed, judged=found.judged, percent=percent),
        detail=spread.format(lower=100 * found.lower, upper=100 * found.upper),
        drawing=RangeBar(share=percent / 100, lower=found.lower, upper=found.upper),
    )


def fault_rows(look: LotLook) -> list[Row]:
    """What was found wrong, the most frequent first; one that many units share says what to do."""
    rows = [_fault(fault, look.units) for fault in look.faults]
    return [_head(tr("Found wrong, mended or not")), *(rows or [Row(words=tr("Nothing so far."))])]


def _fault(fault: FoundFault, units: int) -> Row:
    name = fault.count.name[:1].upper() + fault.count.name[1:]
    named = ", ".join(fault.marks[:_NAMED])
    if len(fault.marks) > _NAMED:
        named = tr("{units} and {count} more").format(units=named, count=len(fault.marks) - _NAMED)
    if fault.shared:
        named = tr("{units}. That many share it: look at the others for it too.").format(units=named)
    many = tr("{count} unit(s)", "", fault.count.units).format(count=fault.count.units)
    words = tr("{fault}: {units}").format(fault=name, units=many)
    return Row(words=words, detail=named, share=fault.count.units / max(units, 1))


def kit_rows(look: LotLook) -> list[Row]:
    """What is to be fetched for what is still to be done, sort by sort."""
    rows = []
    for kind, title in _KINDS.items():
        lines = [line for line in look.kit if line.kind is kind]
        rows += [Row(words=tr(title), detail="\n".join(map(_kit, lines)))] if lines else []
    return [_head(tr("To fetch")), *(rows or [Row(words=tr("Nothing: no step is left to do."))])]


def _kit(line: KitLine) -> str:
    what = line.what[:1].upper() + line.what[1:]
    if line.kind is not KitKind.part:
        return tr("{what} ({why})").format(what=what, why=line.why)
    known, maybe = line.sure, line.units - line.sure
    if known and maybe:
        words = tr("{what}: {known} for sure, at most {maybe} more ({why})")
    else:
        words = tr("{what}: {known} ({why})") if known else tr("{what}: at most {maybe} ({why})")
    return words.format(what=what, known=known, maybe=maybe, why=line.why)


def _counts(counts: tuple[tuple[str, int], ...]) -> str:
    return ", ".join(f"{units} {tr(sign_for(word).word)}" for word, units in counts)


def _head(words: str) -> Row:
    return Row(words=words, head=True)
