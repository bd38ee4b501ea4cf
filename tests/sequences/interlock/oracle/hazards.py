"""Hazards of old equipment that were found in a unit, and which of them still shut something.

What is found stays found, whatever is said of that answer later: it goes by a repair where its file lets it be mended
and nothing else shuts it, or by a supervisor who clears it.
"""

from collections.abc import Iterator

from tests.sequences.interlock.oracle.asked_hazards import Written, is_asked
from tests.sequences.interlock.oracle.history import History


class OldHazards:
    """The hazards that were found in one unit, as far as nothing has cleared them."""

    def __init__(self, history: History) -> None:
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
