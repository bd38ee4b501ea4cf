"""The hazards of old equipment that a lot's design may hold: one key each says that every unit of the lot has it."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from benchapp.desktop.theme.look import Look
from benchapp.desktop.theme.signs import Shape, Sign, Tone
from benchapp.desktop.widgets.choices import Cap, ChoiceList, Row
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.sequences.language.hazards import OldHazard

EACH = Sign(shape=Shape.ring, word="look at each", tone=Tone.quiet)
ALL = Sign(shape=Shape.cross, word="all have it", tone=Tone.bad)
_CAPS = (Cap(key="1", sign=EACH), Cap(key="2", sign=ALL))


class LotHazards(ChoiceList):
    """1: each unit is looked at, on its own page. 2: it was seen, and all units of the lot have it."""

    def __init__(self, look: Look) -> None:
        super().__init__(look, "new-lot-hazards", tr("Hazards of old equipment: 1 look at each unit, 2 all have it"))
        self._hazards: tuple[OldHazard, ...] = ()
        self._in_all: set[str] = set()
        self.struck.connect(self._strike)

    def offer(self, hazards: Sequence["OldHazard"]) -> None:
        """Ask about these; none of them is said of the whole lot yet."""
        self._hazards, self._in_all = tuple(hazards), set()
        self.set_rows(())
        self._paint()
        self.setVisible(bool(hazards))

    @property
    def in_all(self) -> tuple[str, ...]:
        """The ids of those that every unit of the lot has."""
        return tuple(one.hazard for one in self._hazards if one.hazard in self._in_all)

    def _paint(self) -> None:
        here = self.row_at_hand()
        self.set_rows([self._row(one) for one in self._hazards])
        self.go_to(max(here, 0))

    def _row(self, hazard: "OldHazard") -> Row:
        sign = ALL if hazard.hazard in self._in_all else EACH
        return Row(words=hazard.title, detail=f"{tr(sign.word)}: {hazard.signs}", sign=sign, caps=_CAPS)

    def _strike(self, row: int, key: str) -> None:
        if not 0 <= row < len(self._hazards) or key not in ("1", "2"):
            return
        name = self._hazards[row].hazard
        self._in_all = self._in_all | {name} if key == "2" else self._in_all - {name}
        self._paint()
        self.go_to(min(row + 1, len(self._hazards) - 1))
