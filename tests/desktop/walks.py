"""Places on a unit's route, walked to by keys once in a process; each test that begins there has a copy of its own."""

from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtWidgets import QApplication

from benchapp.actions.workbench.bench import Bench
from benchapp.desktop.theme.look import Look
from demo.playing import Player
from demo.scenario import Hidden, LotOfTheDay, read_day
from demo.simulated_bench import SimulatedUnit
from demo.technician import Technician
from tests.desktop.windows import WORKSHOP, Clock, prove_meters, take_in, window_on
from tests.people import staffed
from tests.templates import Template


def unit_of(mark: str = "TB-001", hidden: Hidden | None = None) -> SimulatedUnit:
    """What a unit of the lot gives; a sound one where nothing is hidden in it."""
    lot = LotOfTheDay(lot="Shelf nine", equipment="tb-mu1", first="TB-001", count=3, hidden={mark: hidden or Hidden()})
    return SimulatedUnit(read_day(), lot, mark)


def work_until(technician: Technician, unit: SimulatedUnit, condition) -> None:
    """Do what is due until the condition holds."""
    player = Player(technician, lambda _page: None)
    for _ in range(120):
        if condition():
            return
        player.do_what_is_due(unit)
    raise AssertionError(f"it never comes; {technician.page.name} at {technician.address} does")


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where the first unit of the lot stands; what is empty may be anything."""

    at: str = ""
    """an address, or how one begins: a stage, a step of many readings"""
    page: str = ""
    supply: str = ""
    hidden: Hidden | None = None
    """what is wrong with the unit"""

    def holds(self, technician: Technician) -> bool:
        """Whether the unit stands there."""
        address = technician.address
        return (
            (not self.at or address == self.at or address.startswith((f"{self.at}.", f"{self.at}/")))
            and self.page in ("", technician.page.name)
            and self.supply in ("", technician.view.supply)
        )


AT_LIVE = Place(page="reading", supply="limited")
"""the first live reading of a sound unit"""
DEAD = Place(at="continuity")
"""its first test with the plug out"""
AT_EARTH = Place(at="continuity.earth", page="reading")
AT_PINS = Place(at="continuity.outputs/outlet.1-outlet.2", page="reading")
"""the first two pins of its outlet"""


class Walks:
    """The places that were walked to in this process, by what they are."""

    def __init__(self, application: QApplication, folder: Path) -> None:
        self._application, self._folder = application, folder
        self._made: dict[str, Template] = {}

    def to(self, place: Place) -> Template:
        """A workbook of three mains units, the first of them there."""
        name = repr(place)
        if name not in self._made:
            folder = self._folder / str(len(self._made))
            folder.mkdir()
            self._made[name] = Template(folder, Clock(), lambda path, clock: self._walk(place, path, clock))
        return self._made[name]

    def _walk(self, place: Place, path: Path, clock: Clock) -> None:
        look = Look(self._application, dark=False)
        bench = Bench.create(path, clock=clock, folders=(WORKSHOP,), workshop=staffed())
        take_in(bench)
        prove_meters(bench)
        with window_on(look, bench) as technician:
            technician.take_unit("TB-001")
            work_until(technician, unit_of(hidden=place.hidden), lambda: place.holds(technician))
        look.forget()


def window_there(windows: ExitStack, look: Look, template: Template, folder: Path, place: Place) -> Technician:
    """A technician before a window on a copy in that folder, the unit on the bench."""
    bench = Bench.open(template.copied(folder), clock=template.clock(), folders=(WORKSHOP,))
    technician = windows.enter_context(window_on(look, bench))
    technician.take_unit("TB-001")
    assert place.holds(technician)
    return technician
