"""What a voltmeter should read between two terminals with mains applied, and why: a band with its derivation.

Every tolerance (turns, regulation, resistance, capacitance) stands at one of its ends, chosen so that they together do
the widest they can. Mains counts with its reading and twice its standard uncertainty; with no reading, with
the whole legal range of the region.
"""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from benchapp.judgement.acceptance.acceptance import KnownQuantity
from benchapp.judgement.limits.cords import LimitFacts
from benchapp.judgement.limits.mains_fit import VoltageFit
from benchapp.judgement.limits.sources import OWN_FIGURE
from benchapp.judgement.statements.band import Band, DerivationStep
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show, show_uncertainty
from benchapp.wiring.assembly.selecting import SupplyFit, supply_fit
from benchapp.wiring.expected.dead import check_terminals
from benchapp.wiring.expected.live_tolerance import LiveQuestion
from benchapp.wiring.expected.stated import stated_voltage
from benchapp.wiring.expected.unknown_parts import unknown_part
from benchapp.wiring.model import assumptions
from benchapp.wiring.model.circuit import Circuit, Load, Problem, State, WiringProblem
from benchapp.wiring.network.live import supply_of
from benchapp.wiring.network.rectified import Rectified
from benchapp.words import say

if TYPE_CHECKING:
    from benchapp.judgement.limits.profiles import LimitProfile

RESIDUE = 0.1  # V of hum that a hand meter picks up between joined terminals; common practice, no source
ROUNDING = 1e-9  # V: less is arithmetic, not voltage
STEADY = 1e-3  # a share of the voltage below which nothing moves it
LOWEST_MAINS = 90.0  # V of a supply that is no mains below it: the lowest mains anywhere is 100 V ± 10 %; from memory
NOT_MEASURED = "No mains reading: the band covers the whole legal range. Measure the mains to narrow it."
COVERAGE = 2.0  # times the standard uncertainty of the mains reading: about 95 % (JCGM 100, 6.3)


def expected_voltage(
    circuit: Circuit,
    a: str,
    b: str,
    *,
    mains: KnownQuantity | None,
    profile: "LimitProfile | None" = None,
    state: State | None = None,
    loads: Iterable[Load] = (),
) -> Band:
    """Band (V r.m.s.) between two terminals at the measured mains; with None, over the region's legal range.

    Raises WiringProblem for an unknown terminal, equipment without a supply, or when nothing tells the mains voltage.
    """
    check_terminals(circuit, a, b)
    stated = stated_voltage(circuit, a, b)
    if stated is not None:
        return stated
    supply = supply_of(circuit)
    if Rectified(circuit, state or State()).between(a, b):
        return _behind_a_diode(circuit, a, b)
    if mains is None and supply.voltage < LOWEST_MAINS:
        return _not_the_mains(circuit)
    low, likely, high, mains_reason, cautions = _mains(circuit, mains, profile)
    asked = LiveQuestion(circuit, supply, a, b, state or State(), tuple(loads))
    volts = asked.at(likely)
    unknown = unknown_part(circuit, asked, likely)
    if unknown is not None:
        return _behind_unknown(circuit, a, b, unknown)
    if volts is None:
        return _ghost(circuit, a, b, asked.cautions())
    fit = supply_fit(circuit, state or State(), profile, None if mains is None else float(mains.value_si))
    down, up, moved = asked.tolerance_range(likely)
    tap = _tap_of_supply(LiveQuestion(circuit, supply, a, b, state or State(), ()), likely)
    down, up = down + tap * volts, up + tap * volts
    lower, upper = (volts - down) * low / likely, max((volts + up) * high / likely, RESIDUE)
    reasons = (mains_reason, *asked.reasons(moved), *_tap_reason(tap))
    return Band(
        kind=Kind.voltage,
        unit="V",
        lower=lower if lower > RESIDUE else None,
        upper=upper,
        expected=volts if volts > ROUNDING else 0.0,
        derivation=(*reasons, _result(max(lower, 0.0), volts, upper)),
        cautions=_with_misfit(fit, (*cautions, *asked.cautions())),
    )


def _with_misfit(fit: SupplyFit, cautions: tuple[str, ...]) -> tuple[str, ...]:
    """What the mains does to the unit stands first where it is too much for it, else last."""
    said = (fit.sentence,) if fit.sentence else ()
    return (*cautions, *said) if fit.fit is VoltageFit.weak else (*said, *cautions)


def _mains(
    circuit: Circuit, mains: KnownQuantity | None, profile: "LimitProfile | None"
) -> tuple[float, float, float, DerivationStep, tuple[str, ...]]:
    """Lowest, likely and highest mains voltage (V), why, and what to say about it."""
    supply = supply_of(circuit)
    if mains is not None:
        volts, by = float(mains.value_si), COVERAGE * mains.standard_uncertainty
        shown = f"{show(volts, Kind.voltage)} ± {show_uncertainty(by, Kind.voltage)}"
        words = f"{shown} (k = {COVERAGE:g}), rated {supply.stated}"
        return volts - by, volts, volts + by, DerivationStep(what=mains.what, value=words, source=mains.source), ()
    if profile is None:
        what = "nothing tells the mains voltage"
        raise WiringProblem(Problem(key=(), what=what, expected="a mains reading, or the region's limits"))
    from benchapp.judgement.limits.bands import limit_band

    legal = limit_band(profile, "mains-voltage", LimitFacts(equipment_class="unknown"))
    low, high = legal.lower or 0.0, legal.upper or 0.0
    words = f"{show(low, Kind.voltage)} to {show(high, Kind.voltage)}, rated {supply.stated}"
    reason = DerivationStep(what="mains, not measured", value=words, source=_source_of_range(legal))
    return low, (low + high) / 2, high, reason, (NOT_MEASURED,)


def _source_of_range(legal: Band) -> str:
    """The source of the nominal mains, and of its tolerance too where one of the two is a workshop's own figure."""
    sources = dict.fromkeys(line.source for line in legal.derivation)
    own = any(OWN_FIGURE in source for source in sources)
    return "; ".join(sources) if own else next(iter(sources), "the region's limits")


def _tap_of_supply(free: LiveQuestion, mains: float) -> float:
    """The tolerance (ratio) of a voltage that without a load no part moves and that is not the mains itself.

    It comes from a tap of the winding that the supply feeds, as in an autotransformer, whose rating is the supply's
    and states no tolerance of its own turns.
    """
    volts = free.at(mains) or 0.0
    down, up, _ = free.tolerance_range(mains)
    fixed = down + up < STEADY * volts and abs(volts - mains) > STEADY * mains
    return assumptions.TURNS_TOLERANCE if fixed else 0.0


def _tap_reason(tolerance: float) -> tuple[DerivationStep, ...]:
    if not tolerance:
        return ()
    share = f"± {tolerance * 100:g} %"
    return (DerivationStep(what="turns up to the tap", value=share, source=assumptions.COMMON_PRACTICE),)


def _ghost(circuit: Circuit, a: str, b: str, more: tuple[str, ...]) -> Band:
    nothing = f"nothing joins {circuit.say(a)} and {circuit.say(b)}"
    return _not_judged(
        DerivationStep(what="floating", value=nothing, source="the circuit"),
        "A 10 Mohm meter shows a ghost voltage here: not judged. Repeat it across a stated shunt to be sure.",
        *more,
    )


def _behind_a_diode(circuit: Circuit, a: str, b: str) -> Band:
    decides = f"a diode decides on the voltage between {circuit.say(a)} and {circuit.say(b)}, and no output states it"
    return _not_judged(
        DerivationStep(what="behind a diode", value=decides, source="the circuit"),
        "A diode feeds this, and the file states no voltage here: not judged. It may be as high as its whole supply.",
    )


def _not_the_mains(circuit: Circuit) -> Band:
    fed = f"{circuit.title} is fed by {supply_of(circuit).stated}"
    return _not_judged(
        DerivationStep(what="its own supply", value=fed, source=assumptions.FILE),
        "No mains feeds this: not judged. Measure what feeds it, and state its outputs with their source.",
    )


def _behind_unknown(circuit: Circuit, a: str, b: str, part: str) -> Band:
    name = circuit.part_names.get(part, part)
    words = f"between {circuit.say(a)} and {circuit.say(b)} lies {name}, and nobody can tell what it leaves"
    return _not_judged(
        DerivationStep(what="not known", value=words, source="the circuit"),
        say(
            "What {name} hands on is not known: not judged. State the output with its source, or rate the winding.",
            name=name,
        ),
    )


def _not_judged(why: DerivationStep, *cautions: str) -> Band:
    return Band(kind=Kind.voltage, unit="V", lower=None, upper=None, derivation=(why,), cautions=cautions)


def _result(lower: float, volts: float, upper: float) -> DerivationStep:
    if lower <= RESIDUE:
        words = f"at most {show(upper, Kind.voltage)}"
    else:
        words = f"{show(volts, Kind.voltage)}, from {show(lower, Kind.voltage)} to {show(upper, Kind.voltage)}"
    return DerivationStep(what="so the reading should be", value=words, source="solution of the network")
