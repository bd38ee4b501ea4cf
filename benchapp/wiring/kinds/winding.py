"""A winding: what its plate says, its sections between taps, and what in its ratings contradicts itself."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import chain, pairwise

from benchapp.files.locations import Key
from benchapp.files.models import FileModel
from benchapp.wiring.assembly.ratings import Ratings, Winding
from benchapp.wiring.model.circuit import Branch, Circuit, PartKind, Problem, Toleranced
from benchapp.wiring.model.equipment import Equipment, no_ohms
from benchapp.wiring.model.modes import Mode
from benchapp.wiring.model.written import RatedText

AGREES = (0.5, 2.0)  # stated regulation against what copper alone gives; common practice, no source


class Tap(FileModel):
    """A tap of a winding: its node, and the rated voltage from the winding's first end to it."""

    at: str
    """the node of the tap"""
    rated: RatedText
    """the voltage from the winding's first end: 220 V supply"""


class WindingPart(Winding):
    """A winding; its first end is the one with the dot. Without `rated` it takes the supply's voltage."""

    kind = PartKind(name="winding", place=3, fault_modes=(Mode.open, Mode.shorted_turns, Mode.shorted), couples=True)
    winding: str
    """the part's own id"""
    taps: tuple[Tap, ...] = ()
    """taps between its ends"""

    def branches(self, equipment: Equipment, feeds: Mapping[str, float]) -> tuple[Branch, ...]:
        """One for every section between taps, with its share of the whole's voltage and resistance."""
        ratings = Ratings(self, equipment, feeds)
        emf, working = ratings.emf, ratings.working_resistance
        whole = replace(
            self.branch(),
            copper=True,
            core=self.core if emf is not None else None,
            tolerance_ranges=ratings.tolerance_ranges,
            reasons=ratings.reasons,
        )
        rated = self.rated.volts if self.rated is not None else emf.nominal if emf is not None else 0.0
        taps = sorted((tap.rated.volts, tap.at) for tap in self.taps)
        sections = []
        for (start, a), (end, b) in pairwise([(0.0, whole.a), *taps, (rated, whole.b)]):
            share = (end - start) / rated if rated else 1.0
            section = replace(whole, a=a, b=b, resistance=_share(self.resistance, share))
            sections.append(replace(section, emf=_share(emf, share), working=_share(working, share)))
        return tuple(sections)

    def nodes(self) -> Iterator[tuple[Key, str]]:
        """Its ends and its taps."""
        return chain(super().nodes(), ((("taps", row, "at"), tap.at) for row, tap in enumerate(self.taps)))

    def complaints(self, key: Key, equipment: Equipment, circuit: Circuit) -> Iterator[Problem]:
        """Resistance, turns, taps and regulation, and a rating where there is no supply."""
        yield from no_ohms(self, self.resistance, key)
        if self.resistance is None:
            what = f"the winding '{self.id}' has no resistance, and a dead test reads it"
            yield Problem(key=(*key, self.kind.name), what=what, expected="'resistance: 1.2 ohm ± 15 %'")
        if self.tolerance is not None and self.tolerance >= 1:
            what = f"the turns of '{self.id}' cannot be out by {self.tolerance * 100:.4g} %"
            yield Problem(key=(*key, "tolerance"), what=what, expected="'tolerance: 3 %'")
        yield from self._taps(key)
        computed = Ratings(self, equipment, circuit.feeds).computed_regulation
        if self.regulation is not None and computed is not None:
            yield from self._regulation(key, self.regulation, computed)
        if equipment.supply is None and self.rated is not None:
            what = f"the winding '{self.id}' is rated {self.rated.stated}, but the equipment has no supply"
            yield Problem(key=(*key, "rated"), what=what, expected="a 'supply' with its voltage")

    def _taps(self, key: Key) -> Iterator[Problem]:
        if self.taps and self.rated is None:
            what = f"the winding '{self.id}' has taps but no rating of its own"
            yield Problem(key=(*key, "taps"), what=what, expected="'rated: 240 V supply'")
            return
        for row, tap in enumerate(self.taps):
            if self.rated is not None and not 0 < tap.rated.volts < self.rated.volts:
                yield Problem(
                    key=(*key, "taps", row, "rated"),
                    what=f"the tap at '{tap.at}' is rated {tap.rated.volts:g} V",
                    expected=f"more than 0 V and less than the whole winding's {self.rated.volts:g} V",
                )

    def _regulation(self, key: Key, stated: float, computed: float) -> Iterator[Problem]:
        if not AGREES[0] * computed <= stated <= AGREES[1] * computed:
            yield Problem(
                key=(*key, "regulation"),
                what=f"the regulation of '{self.id}' is stated as {stated * 100:.3g} %, "
                f"but its resistances and rated current give {computed * 100:.3g} %",
                expected=" to ".join(f"{share * computed * 100:.3g} %" for share in AGREES) + ", or other resistances",
            )


def _share(whole: Toleranced | None, share: float) -> Toleranced | None:
    if whole is None or share == 1.0:
        return whole
    return replace(whole, nominal=whole.nominal * share, low=whole.low * share, high=whole.high * share)
