"""Hazards of old equipment: which a design is asked about, and which of those found still shut something.

What is found stays found, whatever is said of that answer later: it goes by a repair where its file lets it be mended
and nothing else shuts it, or by a supervisor who clears it.
"""

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from tests.sequences.interlock.oracle.history import History

Written = Mapping[str, Any]


def with_hazards(step: Written, design: Written, hazards: Mapping[str, Written]) -> Written | None:
    """The step with a checkpoint for each hazard that the design is asked about; None where nothing is left to see."""
    if step.get("old hazards") != "true":
        return step
    points = list(step.get("checkpoints", ()))
    points += [_point(hazards[name]) for name in sorted(hazards) if is_asked(hazards[name], design)]
    return {**step, "checkpoints": points} if points else None


def _point(hazard: Written) -> Written:
    fault = {"part": hazard.get("part", "enclosure"), "words": hazard["seen"]}
    return {"check": hazard["hazard"], "fault": fault, "grave": "do not use", "hazard": hazard["hazard"]}


def is_asked(hazard: Written, design: Written) -> bool:
    """Whether each unit of the design is looked at for it; of a design that nobody knows it always is."""
    where = hazard.get("found in", {})
    if hazard.get("presumed") == "true":
        return False
    if hazard["hazard"] in design.get("hazards", ()):
        return True
    years = [int(one) for one in str(design.get("made", "")).split(" to ") if one]
    too_old = years and "from" in where and years[-1] < int(where["from"])
    too_new = years and "until" in where and years[0] > int(where["until"])
    if too_old or too_new or not _is_so(where.get("when", {}), design):
        return False
    if design.get("design known") == "false":
        return True
    kinds = {next(iter(part)) for part in design["circuit"]}
    return where.get("only named") != "true" and (not where.get("parts") or bool(kinds & set(where["parts"])))


def _is_so(when: Written, design: Written) -> bool:
    mains = "mains fed" not in when or (when["mains fed"] == "true") is ("supply" in design)
    return mains and ("class" not in when or design["class"] in when["class"])


class OldHazards:
    """The hazards that were found in one unit, as far as nothing has cleared them."""

    def __init__(self, history: "History") -> None:
        self.history, self.files = history, history.files

    def open(self) -> Iterator[tuple[int, Written]]:
        """Each that is still in it: the number of the entry that found it, and its file."""
        for number, name, part, address in self._found():
            hazard = self.files.hazards.get(name, {"shuts": ["work"], "sale": {}})
            if not self._is_cleared(number, name) and not self._is_mended(number, hazard, part, address):
                yield number, hazard

    def _found(self) -> Iterator[tuple[int, str, str, str]]:
        for told in self.history.before:
            if told.kind == "fault" and told.said.get("old_hazard"):
                yield told.number, told.said["old_hazard"], told.said.get("part", ""), told.address
            marks = told.said.get("marks", {}) if told.kind == "answer" and told.step is not None else {}
            for point in told.step.written.get("checkpoints", ()) if told.step is not None else ():
                if point.get("hazard") and marks.get(point["check"]) == "bad":
                    yield told.number, point["hazard"], point["fault"]["part"], told.address

    def _is_cleared(self, number: int, name: str) -> bool:
        cleared = [one.said for one in self.history.before if one.kind == "hazard-cleared"]
        return any((said["fault"], said["hazard"]) == (number, name) for said in cleared)

    def _is_mended(self, number: int, hazard: Written, part: str, address: str) -> bool:
        sale = hazard["sale"].get("gb", hazard["sale"].get("elsewhere", {})).get("may")
        if sale != "after repair" or {"work", "opening"} & set(hazard.get("shuts", ())):
            return False
        repairs = [one for one in self.history.before if one.kind == "repair" and one.number > number]
        mine = [
            o
            for o in repairs
            if o.said.get("fault") == number or (o.said.get("fault") is None and o.said["part"] == part)
        ]
        if not mine or self.files.step(address) is None:
            return bool(mine)
        later = self.history.answers(address)
        return any(one.number > mine[0].number and self.history.done(one) for one in later)

    def complaints(self, *what: str) -> Iterator[str]:
        """Of whatever would be done that one of them shuts."""
        for number, hazard in self.open():
            if {"work", *what} & set(hazard.get("shuts", ())):
                yield f"old hazard: {hazard.get('hazard', 'nobody knows it')} of entry {number}"

    def unasked(self) -> Iterator[str]:
        """What shuts mains was looked for, and the look still counts."""
        for name, hazard in self.files.hazards.items():
            if not is_asked(hazard, self.files.design) or not {"work", "mains"} & set(hazard.get("shuts", ())):
                continue
            steps = [step for step in self.files.steps if self._looks_for(step.written, name)]
            given = [self.history.answer(step.address) for step in steps]
            if not any(one is not None and self.history.good(one) for one in given):
                yield f"hazards asked: nobody looked for {name}"

    @staticmethod
    def _looks_for(written: Written, name: str) -> bool:
        return any(point.get("hazard") == name for point in written.get("checkpoints", ()))
