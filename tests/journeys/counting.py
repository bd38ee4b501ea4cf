"""Keys counted: a technician who types no more than the window needs, and what of it is typed on which page."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from demo.playing import Player
from demo.simulated_bench import SimulatedUnit
from demo.technician import Technician

OPEN_SHOWN = ("OL", ">200 Mohm")
"""what a meter shows, in one way or another, where nothing passes"""

ADDED: dict[tuple[str, str], int | None] = {
    ("inspect", "visual-inspection.old-hazards"): None,
    ("inspect", "visual-inspection.outside"): 2,  # wax or pitch, vents
    ("inspect", "visual-inspection.cord-closely"): None,
    ("ask", "visual-inspection.recall"): None,
    ("inspect", "plug-rewire.plug-outside"): 2,  # full size, no adaptor
    ("set-up", "insulation.live-to-case"): 1,  # the tester's voltage
    ("reading", "insulation.outputs-to-metal"): None,
    ("ask", "first-power.limiter"): None,
    ("ask", "first-power.lamp-watts"): None,
    ("work", "first-power.plug-in"): 1,  # the join of the insulation test is off
    ("ask", "first-power.lamp"): None,
    ("work", "live-voltage.plug-in"): 1,  # switched on in its order
    ("set-up", "live-voltage.outputs/outlet.1-2"): None,  # the meter turned to volts with its leads off
    ("reading", "live-voltage.protective-conductor-current"): None,
    ("caution", "make-safe.discharge"): None,
    ("set-up", "make-safe.low-to-touched/case"): None,
    ("reading", "make-safe.low-to-touched/outlet.1"): None,
    ("reading", "make-safe.low-outputs"): None,
    ("work", "make-safe.prove-again"): None,
    ("work", "clean.clean"): 2,  # mask and no brush, mould never dry
}
"""Keys that the work against harm added: by page and step, None for all of them. None of them may go for the figure."""


@dataclass
class Page:
    """What one page took."""

    name: str
    address: str
    rows: tuple[str, ...] = ()
    """the lines of a page that is worked as a list"""
    keys: list[str] = field(default_factory=list)

    @property
    def added(self) -> int:
        """How many of the keys the work against harm added."""
        if (self.name, self.address) not in ADDED:
            return 0
        own = ADDED[self.name, self.address]
        return len(self.keys) if own is None else own


class CountingTechnician(Technician):
    """Counts each key that is struck; rubs nothing out where nothing stands."""

    def __init__(self, technician: Technician) -> None:
        super().__init__(technician.window)
        self.struck: list[str] = []

    def strike(self, *keys: str) -> None:
        self.struck += keys
        super().strike(*keys)

    def type(self, text: str) -> None:
        self.struck += text
        super().type(text)

    def retype(self, text: str) -> None:
        if getattr(self.at_keyboard(), "text", str)():
            super().retype(text)
        else:
            self.type(text)


class SparingPlayer(Player):
    """Types what the meter shows, without the unit that the page knows and a zero that says nothing."""

    def _do_reading(self, unit: SimulatedUnit) -> None:
        shown = unit.reading(self._technician.view.plan, self._step())
        if shown in OPEN_SHOWN:
            self._technician.strike("*")
        else:
            self._technician.type(typed_of(shown, self._step().unit))
            self._technician.strike("Enter")

    def _do_ask(self, unit: SimulatedUnit) -> None:
        model, answer = self._step().model, unit.answer(self._step())
        if model.answers:
            super()._do_ask(unit)
        else:
            self._technician.type(typed_of(answer, model.value))
            self._technician.strike("Enter")


def typed_of(shown: str, unit: str) -> str:
    """A reading as sparing hands type it: "0.12 ohm" is ".12" where ohms are asked for, "15 mA" is "15m"."""
    number, _, own = shown.partition(" ")
    return (number.removeprefix("0") if number.startswith("0.") else number) + own.removesuffix(unit)


def work_to_the_end(
    technician: CountingTechnician, unit: SimulatedUnit, player: SparingPlayer | None = None
) -> Iterator[Page]:
    """Take the unit through its route; each page that was worked, with its keys. Without a player all is typed."""
    player = player or SparingPlayer(technician, lambda _page: None)
    while technician.page.name != "outcome":
        page = Page(technician.page.name, technician.address, tuple(getattr(technician.page, "names", ())))
        technician.struck.clear()
        player.do_what_is_due(unit)
        page.keys = list(technician.struck)
        yield page


def counted(pages: list[Page]) -> tuple[int, int]:
    """All keys of these pages, and how many of them the work against harm added."""
    return sum(len(page.keys) for page in pages), sum(page.added for page in pages)


def table(pages: list[Page]) -> Iterator[str]:
    """The count as lines: by kind of page, how many pages, keys, and keys that the work against harm added."""
    keys, added = counted(pages)
    yield f"{keys} typed, {added} of them added by the work against harm"
    for name in dict.fromkeys(page.name for page in pages):
        those = [page for page in pages if page.name == name]
        keys, added = counted(those)
        yield f"  {name:<8}{len(those):>3} pages{keys:>5} keys{added:>4} of them added"
