"""What has to be looked at and read for a role to be shown, whatever its steps are called."""

from collections.abc import Iterator, Sequence

from tests.sequences.interlock.oracle.files import Step, looks
from tests.sequences.interlock.oracle.history import History


def unmet(history: History, role: str, steps: Sequence[Step]) -> Iterator[str]:
    """What is missing of it, of all steps of this unit that are fit to show the role."""
    if role in _RULES:
        yield from _RULES[role](history, steps)


def _unseen(_history: History, steps: Sequence[Step]) -> Iterator[str]:
    """Something of every unit, beside the hazards of its age."""
    if not any(looks(step) for step in steps if "old hazards" not in step.written):
        yield "nothing is looked at that every unit has"


def _unseen_plug(history: History, steps: Sequence[Step]) -> Iterator[str]:
    """It is looked at from outside, and inside where it can be opened."""
    looks = [step for step in steps if step.kind == "inspect"]
    inside = [step for step in looks if "plug" in step.written.get("opens", ())]
    if not any(_sees_pins(step) for step in looks if step not in inside):
        yield "nobody looks at it from outside"
    if history.facts()["plug"] != "moulded" and not inside:
        yield "nobody looks inside it"


def _sees_pins(step: Step) -> bool:
    """Whether it looks at the plug itself; who looks at the fuse looks at no pin."""
    points = step.written.get("checkpoints", ())
    parts = {one["check"]: one.get("fault", {}).get("part", "plug") for one in points}
    firm = [one for one in points if one.get("grave") != "note" and not {"may not apply", "when"} & set(one)]
    about_the_fuse = "plug-fuse" in parts.values() or "plug fuse" in step.when
    return not about_the_fuse and any(parts[one["check"]] == "plug" for one in firm)


def _unread_pins(history: History, steps: Sequence[Step]) -> Iterator[str]:
    """Every two pins of the plug that this unit has."""
    read = {frozenset(end.rpartition(".")[2] for end in step.at) for step in steps}
    for pair in ("LN", "LE", "NE") if history.is_class_one() else ("LN",):
        if frozenset(pair) not in read:
            yield f"{pair} is not read"


def _unearthed(history: History, steps: Sequence[Step]) -> Iterator[str]:
    """Each metal that the design bonds is read to."""
    ends = {end for step in steps for end in step.at}
    yield from (f"{one} is not read to" for one in sorted(history.files.earthed - ends))


def _untested(history: History, steps: Sequence[Step]) -> Iterator[str]:
    """What can be touched is tested against the mains: each bare metal, and each output."""
    files, facts = history.files, history.facts()
    ends = {end for step in steps for end in step.at}
    yield from (f"{one} is not tested" for one in sorted(files.metal - ends))
    tested = {end.partition(".")[0] for end in ends}
    if "outputs" not in tested:
        yield from (f"the output {one} is not tested" for one in sorted(files.outputs - tested))
    if facts["class"] == "II" and facts["bare metal"] and not files.metal:
        yield "bare metal that the design does not name"


_RULES = {
    "visual": _unseen,
    "plug": _unseen_plug,
    "polarity": _unread_pins,
    "earth continuity": _unearthed,
    "insulation": _untested,
}
