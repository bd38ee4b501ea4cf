"""What of a catalogue is a workshop's own: safety texts and figures that were added, or took a shipped one's place.

They are named at intake, beside the step they bear on, on paper and when a workbook is verified.
"""

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from benchapp.files.looser import keeps_words
from benchapp.judgement.limits.own_figures import own_places
from benchapp.judgement.limits.stricter import stated_in
from benchapp.sequences.planning.planned import OwnText, Plan, PlannedStep

if TYPE_CHECKING:
    from benchapp.judgement.limits.profiles import LimitProfile
    from benchapp.sequences.language.models import Caution
    from benchapp.sequences.planning.catalogue import Catalogue

FROM_LIMITS = ("limit ", "from fuse rules")
"""How what a step accepts begins where the region's limits decide."""
MOST_NAMED = 5
"""own texts that one line names (own choice)"""


def own_texts(catalogue: "Catalogue") -> tuple[OwnText, ...]:
    """Every own limit and caution, and every other own file that takes the place of a shipped one."""
    return tuple(_own_texts(catalogue))


def named(own: Sequence[OwnText], *, most: int = MOST_NAMED) -> str:
    """Own texts in one line, as many as a person reads there, then how many more."""
    lines = [one.words for one in own[:most]] + ([f"{len(own) - most} more"] if len(own) > most else [])
    return "; ".join(lines)


def own_texts_of_step(plan: Plan, step: PlannedStep) -> tuple[OwnText, ...]:
    """Those of a plan's own texts and figures that bear on one of its steps, cautions apart."""
    connectors = {name.partition(".")[0] for name in step.terminals}
    bearing = {
        ("route", plan.route),
        ("equipment", plan.equipment_id),
        ("sequence", step.address.partition(".")[0]),
        *(("connector", face.connector) for name, face in plan.connectors.items() if name in connectors),
        *((("limits", plan.profile.limits),) if step.accept.startswith(FROM_LIMITS) else ()),
    }
    return tuple(one for one in plan.own_texts if (one.kind, one.ident) in bearing)


def _own_texts(catalogue: "Catalogue") -> Iterator[OwnText]:
    for (kind, ident), name in catalogue.names.items():
        shipped = catalogue.replaced.get((kind, ident))
        if catalogue.is_own(kind, ident):
            for words in _words(kind, ident, catalogue.model(kind, ident), shipped):
                yield OwnText(kind=kind, ident=ident, file=Path(name).name, words=f"{words} ({Path(name).name})")


def _words(kind: str, ident: str, own: object, shipped: object) -> Iterator[str]:
    if kind == "limits":
        yield from _figures(own, shipped)  # type: ignore[arg-type]
    elif kind == "caution":
        yield from _added_words(own, shipped)  # type: ignore[arg-type]
    elif kind == "hazard" and shipped is None:
        yield f"hazard {ident}: “{own.title}”"  # type: ignore[attr-defined]
    elif shipped is not None:
        yield f"{kind} {ident}: in place of the shipped one"


def _figures(own: "LimitProfile", shipped: "LimitProfile | None") -> Iterator[str]:
    if shipped is None:
        yield f"limits {own.limits}: all {len(own_places(own))} figures and rules"
        return
    published = stated_in(shipped)
    for place, stated in own_places(own).items():
        said = f"limits {own.limits}, {', '.join(place)}: {stated.item.words}"
        theirs = published.get(place)
        yield f"{said} in place of {theirs.item.words}, {theirs.item.cited}" if theirs else said


def _added_words(own: "Caution", shipped: "Caution | None") -> Iterator[str]:
    if shipped is None:
        yield f"caution {own.caution}: “{own.title}”"
        return
    theirs = (shipped.title, *shipped.words)
    for sentence in (own.title, *own.words):
        rest = sentence
        for one in (said for said in theirs if keeps_words(sentence, said)):
            rest = " ".join(rest.split()).replace(" ".join(one.split()), "").strip()
        if rest:
            yield f"caution {own.caution}: “{rest}”"
