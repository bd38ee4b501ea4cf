"""Which two-terminal branches stand for a part in the network?"""

from collections.abc import Mapping
from itertools import pairwise

from benchapp.judgement.statements.band import DerivationStep
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show
from benchapp.wiring.assembly.ratings import FILE, winding_emf, winding_tolerance_ranges, working_resistance
from benchapp.wiring.model import assumptions
from benchapp.wiring.model.circuit import Branch, Extreme, PartKind, Toleranced, ToleranceRange
from benchapp.wiring.model.equipment import (
    AnyPart,
    BarrierPart,
    CapacitorPart,
    DiodePart,
    EarthPart,
    Equipment,
    FusePart,
    LinkPart,
    ResistorPart,
    SwitchPart,
    WindingPart,
)
from benchapp.wiring.model.written import Rated


def branches_of(part: AnyPart, equipment: Equipment, feeds: Mapping[str, float]) -> tuple[Branch, ...]:
    """The branches of one part; a barrier has none, a tapped winding one for every section.

    `feeds` holds for each iron core the resistance (ohm) of what feeds it, see `feeding`.
    """
    if isinstance(part, BarrierPart):
        return ()
    if isinstance(part, SwitchPart):
        return _switch(part)
    if isinstance(part, WindingPart):
        return _winding(part, equipment, feeds)
    a, b = part.between
    if isinstance(part, CapacitorPart):
        return (_capacitor(part),)
    if isinstance(part, DiodePart):
        return (Branch(part=part.id, kind=part.kind, a=a, b=b),)
    core = isinstance(part, LinkPart | EarthPart) and part.cord_core
    ohms = _resistance(part, equipment)
    return (Branch(part=part.id, kind=part.kind, a=a, b=b, resistance=ohms, copper=core, cord_core=core),)


def _resistance(part: LinkPart | EarthPart | FusePart | ResistorPart, equipment: Equipment) -> Toleranced:
    if part.resistance is not None:
        return part.resistance
    if isinstance(part, FusePart):
        return assumptions.fuse_resistance(part.rating)
    if isinstance(part, LinkPart | EarthPart) and part.cord_core and equipment.cord is not None:
        return assumptions.cord_core(equipment.cord.length, equipment.cord.area)
    return assumptions.EARTH if isinstance(part, EarthPart) else assumptions.LINK


def _capacitor(part: CapacitorPart) -> Branch:
    """It charges and stands open for an ohmmeter; at mains frequency it conducts, within its tolerance."""
    farads = part.capacitance
    why = DerivationStep(
        what=f"capacitance of {part.say or f'the capacitor {part.id}'}",
        value=f"{farads.stated}, from {show(farads.low, Kind.capacitance)} to {show(farads.high, Kind.capacitance)}",
        source=FILE,
    )
    ends = tuple(Extreme(ohms=farads.nominal / end) for end in (farads.low, farads.high) if end > 0)
    return Branch(
        part=part.id,
        kind=part.kind,
        a=part.between[0],
        b=part.between[1],
        farads=farads.nominal,
        tolerance_ranges=(ends,) if farads.low != farads.high else (),
        reasons=(why,),
    )


def _switch(part: SwitchPart) -> tuple[Branch, ...]:
    """One branch for each pair of nodes that some position joins, closed in every position that lists it."""
    closed: dict[tuple[str, str], set[str]] = {}
    for position, pairs in part.positions.items():
        for pair in pairs:
            closed.setdefault(pair, set()).add(position)
    return tuple(
        Branch(
            part=part.id,
            kind=PartKind.switch,
            a=a,
            b=b,
            resistance=part.resistance or assumptions.SWITCH,
            switch=part.id,
            closed_in=frozenset(positions),
        )
        for (a, b), positions in closed.items()
    )


def _winding(part: WindingPart, equipment: Equipment, feeds: Mapping[str, float]) -> tuple[Branch, ...]:
    emf, reasons = winding_emf(part, equipment, feeds)
    working, tolerance_ranges = (
        working_resistance(part, equipment, feeds),
        winding_tolerance_ranges(part, equipment, feeds),
    )
    whole = emf.nominal if emf is not None else 0.0
    rated = part.rated.volts if isinstance(part.rated, Rated) else whole
    points = [(0.0, part.between[0]), *sorted((tap.rated.volts, tap.at) for tap in part.taps), (rated, part.between[1])]
    sections = []
    for (start, a), (end, b) in pairwise(points):
        share = (end - start) / rated if rated else 1.0
        sections.append(_section(part, (a, b), share, (emf, working), reasons, tolerance_ranges))
    return tuple(sections)


def _section(
    part: WindingPart,
    ends: tuple[str, str],
    share: float,
    whole: tuple[Toleranced | None, Toleranced | None],
    reasons: tuple[DerivationStep, ...],
    tolerance_ranges: tuple[ToleranceRange, ...],
) -> Branch:
    """A section of a winding, with its share of the whole's voltage and resistance."""
    emf, working = whole
    return Branch(
        part=part.id,
        kind=PartKind.winding,
        a=ends[0],
        b=ends[1],
        resistance=_share(part.resistance, share),
        copper=True,
        core=part.core if emf is not None else None,
        emf=_share(emf, share),
        working=_share(working, share),
        tolerance_ranges=tolerance_ranges,
        reasons=reasons,
    )


def _share(spread: Toleranced | None, share: float) -> Toleranced | None:
    if spread is None or share == 1.0:
        return spread
    return Toleranced(
        nominal=spread.nominal * share, low=spread.low * share, high=spread.high * share, stated=spread.stated
    )
