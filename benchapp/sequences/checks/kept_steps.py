"""A workshop's own sequence or route under a shipped id: what the shipped one asks for safety's sake stays asked.

Steps that show something towards power, read a published limit, or find something grave stay as they are; more may be
asked, sentences may grow, worked cases and the other steps are free.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from pydantic import BaseModel

from benchapp.files.looser import Looser, keeps_words, lost_words
from benchapp.sequences.language.models import RouteFile, SequenceFile, Step, id_of
from benchapp.sequences.language.vocabulary import WAY_BACK
from benchapp.sequences.planning.planned_kind import PlannedKind

MAY_GROW = frozenset({"checkpoints", "do", "opens", "set_up", "shows"})
"""Fields of a step in which more asks for more."""
IN_WORDS = frozenset({"say", "why", "words"})
"""Fields of a step that may be added to."""

LONGEST = 90
"""characters of a value that a sentence shows (own choice)"""


def lost_of_sequence(own: SequenceFile, shipped: SequenceFile) -> Iterator[Looser]:
    """Everything that an own sequence asks no more, or asks otherwise, than the shipped one of the same id."""
    yield from lost_words(("say",), (own.say,), (shipped.say,) if shipped.say else ())
    for field in ("supply", "fits"):
        mine, theirs = getattr(own, field), getattr(shipped, field)
        if mine != theirs:
            yield Looser(key=(field,), what=f"{field}: {_said(mine)} is not as shipped", expected=_said(theirs))
    for field in ("cautions", "needs_before"):
        written = field.replace("_", " ")
        for name in getattr(shipped, field):
            if name not in getattr(own, field):
                yield Looser(key=(written,), what=f"{written}: the shipped “{name}” is missing", expected=f"“{name}”")
    if shipped.overdue_meters == "refused" and own.overdue_meters != "refused":
        what = "the shipped sequence takes no reading of an overdue meter"
        yield Looser(key=("overdue meters",), what=what, expected="refused")
    steps = {id_of(step): (number, step) for number, step in enumerate(own.steps)}
    leads_back = any(set(step.shows) & set(WAY_BACK) for step in shipped.steps)  # of it every step is kept
    for step in shipped.steps:
        if leads_back or _guards(step):
            yield from _lost_of_step(step, *steps.get(id_of(step), (0, None)))


def lost_of_route(own: RouteFile, shipped: RouteFile) -> Iterator[Looser]:
    """Sequences of the shipped route that an own one of the same id leaves out, and another way back."""
    for name in shipped.sequences:
        if name not in own.sequences:
            what = f"“{name}” of the shipped route is missing"
            yield Looser(key=("sequences",), what=what, expected="it here, or a route with an id of its own")
    if own.way_back != shipped.way_back:
        what = f"way back “{own.way_back}” is not the shipped one"
        yield Looser(key=("way back",), what=what, expected=str(shipped.way_back))
    for words in shipped.not_tested:
        if words not in own.not_tested and set(own.sequences) <= set(shipped.sequences):
            yield Looser(key=("not tested",), what=f"“{words}” is no more said to be untested", expected=f"“{words}”")


OWN_RULES = ("from fuse rules", "from limiter rules")


def _guards(step: Step) -> bool:
    """Whether something of safety rests on the step."""
    accept = str(getattr(step, "accept", ""))
    grave = any(str(word) not in ("mend", "note") for word in _severities(step))
    return bool(step.shows or step.opens or grave) or accept.startswith("limit ") or accept in OWN_RULES


def _severities(value: object) -> Iterator[object]:
    if isinstance(value, BaseModel):
        for name in type(value).model_fields:
            inner = getattr(value, name)
            if name == "grave":
                yield inner
            else:
                yield from _severities(inner)
    elif isinstance(value, tuple):
        for inner in value:
            yield from _severities(inner)


def _lost_of_step(shipped: Step, number: int, own: Step | None) -> Iterator[Looser]:
    name = id_of(shipped)
    if own is None:
        yield Looser(key=("steps",), what=f"the shipped step “{name}” is missing", expected="it, as it is shipped")
    elif PlannedKind.of(own).name != PlannedKind.of(shipped).name:
        what = f"step “{name}” is of another kind than the shipped one"
        yield Looser(key=("steps", number), what=what, expected=PlannedKind.of(shipped).name)
    else:
        for field in type(shipped).model_fields:
            mine, theirs = getattr(own, field), getattr(shipped, field)
            if not _keeps(mine, theirs, field):
                written = field.replace("_", " ").strip()
                what = f"step “{name}”, {written}: {_said(mine)} is not what the shipped step asks"
                yield Looser(key=("steps", number, written), what=what, expected=_said(theirs))


def _keeps(own: Any, shipped: Any, field: str = "") -> bool:  # noqa: ANN401  any field of a step
    """Whether an own value asks all that the shipped one asks."""
    if field in IN_WORDS and isinstance(shipped, str):
        return keeps_words(str(own), shipped)
    if isinstance(shipped, BaseModel):
        names = type(shipped).model_fields
        return type(own) is type(shipped) and all(_keeps(getattr(own, n), getattr(shipped, n), n) for n in names)
    if isinstance(shipped, tuple) and isinstance(own, tuple):
        if field in MAY_GROW:
            return all(any(_keeps(mine, theirs) for mine in own) for theirs in shipped)
        return len(own) == len(shipped) and all(map(_keeps, own, shipped))
    return bool(own == shipped)


def _said(value: object) -> str:
    """A value of a file in one line, cut where it is long."""
    words = _whole(value)
    return words if len(words) <= LONGEST else f"{words[:LONGEST]} …"


def _whole(value: object) -> str:
    if isinstance(value, BaseModel):
        return _whole({name: getattr(value, name) for name in type(value).model_fields if getattr(value, name)})
    if isinstance(value, Mapping):
        return (
            "{" + ", ".join(f"{name}: {_whole(inner)}" for name, inner in value.items()) + "}" if value else "nothing"
        )
    if isinstance(value, tuple):
        return "[" + ", ".join(map(_said, value)) + "]" if value else "nothing"
    return f"“{value}”" if value else "nothing"
