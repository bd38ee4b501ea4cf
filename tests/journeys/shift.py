"""A shift at the bench: a technician, and a made-up unit that answers as its circuit lets it, sound or not."""

from collections.abc import Callable
from typing import Any

from benchapp.sequences.planning.answer_content import is_reading
from demo.playing import Player
from demo.scenario import Hidden, LotOfTheDay, read_day
from demo.simulated_bench import SimulatedUnit
from demo.technician import Technician

LEADS = dict(read_day().leads)


class Shift:
    """One technician working on one unit, by keys alone."""

    def __init__(self, technician: Technician, mark: str, *, equipment: str = "tb-mu1", **hidden: Any) -> None:
        lot = LotOfTheDay(
            lot="Shelf nine", equipment=equipment, first="TB-001", count=3, hidden={mark: Hidden(**hidden)}
        )
        self.technician = technician
        self.unit = SimulatedUnit(read_day(), lot, mark)
        self._player = Player(technician, lambda _page: None)

    def take_in(self, count: int = 3) -> None:
        """Take in the lot by keys, put the unit on the bench, open the bench for the day."""
        lot = self.unit.lot
        self.technician.take_in(name=lot.lot, equipment=lot.equipment, count=count, first=lot.first, initials="AB")
        self.technician.take_unit(self.unit.mark)
        self.technician.open_the_bench(LEADS)

    def do_what_is_due(self) -> None:
        """Do what the page asks for."""
        self._player.do_what_is_due(self.unit)

    def work_until(self, condition: Callable[[], bool]) -> None:
        """Do what each page asks for until the condition holds."""
        for _ in range(150):
            if condition():
                return
            self._player.do_what_is_due(self.unit)
        raise AssertionError(f"it never comes; {self.technician.page.name} at {self.technician.address} does")

    def work_until_page(self, name: str) -> None:
        """Do what each page asks for until that page is shown."""
        self.work_until(lambda: self.technician.page.name == name)

    # what the window and the workbook say
    def stage(self, name: str) -> str:
        """How a stage stands, in the word of the board."""
        stages = self.technician.view.state.stages
        return next(str(stage.status) for stage in stages if stage.title == name)

    def entries(self) -> list[Any]:
        """The unit's history as it lies in the workbook."""
        context = self.technician.window.context
        assert context is not None
        return list(context.bench.entries(self.unit.mark))

    def readings_at(self, address: str) -> list[str]:
        """What was typed at a step, first to last."""
        return [entry.content.typed for entry in self.entries() if entry.address == address and is_reading(entry)]
