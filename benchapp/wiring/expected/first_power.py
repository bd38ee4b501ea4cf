"""The current at first power: what a sound item draws through its limiter, and which limiter can judge it at all."""

from collections.abc import Iterator
from dataclasses import replace

from benchapp.errors import BenchError
from benchapp.judgement.acceptance.acceptance import KnownQuantity
from benchapp.judgement.statements.band import Band, DerivationStep
from benchapp.judgement.statements.statements import Rule
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show
from benchapp.wiring.expected.limiters import (
    LAMP_SHARE,
    TIMES_THE_ITEM,
    TURNED_UP,
    Lamp,
    Limiter,
    Variable,
    least_lamp,
    shown_volts,
    tells_a_short,
)
from benchapp.wiring.expected.sound_current import SoundCurrent, sound_current
from benchapp.wiring.model import assumptions
from benchapp.wiring.model.circuit import Circuit
from benchapp.wiring.model.kind_of_load import LAMP_CANNOT_JUDGE, KindOfLoad
from benchapp.wiring.network.live import supply_of
from benchapp.words import say

SEEN = 0.002  # A: below this a plug-in meter shows nothing that can be relied on; common practice, no source
SIBLINGS_ENOUGH = 3  # units before they say anything; common practice, no source
SIBLINGS_APART = (
    2.0  # times below the least and above the most of them; a maker: it varies strongly from piece to piece
)
NO_CURRENT = "No current at all: the path through the primary is open."
OFF_AT_ONCE = "Off at once above {most}: a short, or shorted turns."


class LimiterProblem(BenchError):
    """A limiter that cannot tell a short from this item."""


def expected_current(circuit: Circuit, limiter: Limiter | None, *, mains: float) -> Band:
    """Band (A) of the current through the limiter, nothing connected to the outputs; with None, on full mains.

    `mains` is the place's voltage. Raises WiringProblem where nothing tells what it draws, LimiterProblem for a limiter
    that cannot judge it.
    """
    if limiter is None:
        return _on_full_mains(circuit, mains)
    if reason := why_not_limiter(circuit, limiter):
        raise LimiterProblem(reason)
    sound = sound_current(circuit, mains)
    lower, upper = limiter.least(sound.low), limiter.highest(sound.high)
    if sound.kind is KindOfLoad.universal_motor:
        lower = 0.0
    reasons = (*_of_limiter(limiter), *sound.derivation)
    return _band(lower, None if sound.likely is None else limiter.highest(sound.likely), upper, reasons)


def narrowed(band: Band, siblings: tuple[float, ...]) -> Band:
    """The band with what sound siblings drew (A) through the same limiter; never a wider one."""
    if len(siblings) < SIBLINGS_ENOUGH:
        return band
    least, most = min(siblings) / SIBLINGS_APART, max(siblings) * SIBLINGS_APART
    lower = max(band.lower or 0.0, least if least >= SEEN else 0.0) or None
    upper = most if band.upper is None else min(band.upper, most)
    if lower is not None and lower > upper:
        return band
    words = f"{len(siblings)} read {show(min(siblings), Kind.current)} to {show(max(siblings), Kind.current)}"
    line = DerivationStep(what="sound siblings", value=words, source=f"this lot; {assumptions.COMMON_PRACTICE}")
    off = OFF_AT_ONCE.format(most=show(upper, Kind.current))
    cautions = tuple(off if is_off_at_once(one) else one for one in band.cautions)
    return replace(band, lower=lower, upper=upper, derivation=(*band.derivation, line), cautions=cautions)


def is_off_at_once(caution: str) -> bool:
    """Whether a caution of the band says above which current the unit goes off."""
    return caution.startswith(OFF_AT_ONCE.partition("{")[0])


def _on_full_mains(circuit: Circuit, mains: float) -> Band:
    """What it draws with nothing to limit it: long running, and what no lamp can judge."""
    supply = supply_of(circuit)
    sound = sound_current(circuit, mains)
    share = assumptions.HEATER_SHARE if sound.kind is KindOfLoad.heater else assumptions.RUNNING_SHARE
    if supply.no_load_current is not None or supply.power is None or sound.kind not in LAMP_CANNOT_JUDGE:
        return _band(sound.low, sound.likely, sound.high, sound.derivation)
    rated = supply.power / supply.near(mains)
    words = f"{share[0] * 100:g} % to {share[1] * 100:g} % of the rated {show(rated, Kind.current)}"
    reason = DerivationStep(what="current on full mains", value=words, source=assumptions.COMMON_PRACTICE)
    over = mains / supply.near(mains)
    return _band(share[0] * rated * min(over, 1.0), None, share[1] * rated * max(over, 1.0), (reason,))


def why_not_limiter(circuit: Circuit, limiter: Limiter, *, largest: float | None = None) -> str:
    """Why this limiter cannot judge the first power of the design, with what could; empty where it can.

    `largest` are the watts of the workshop's largest lamp: none above it is named. Raises WiringProblem.
    """
    sound = sound_current(circuit, limiter.mains)
    if isinstance(limiter, Variable):
        low, high = (share * limiter.mains for share in TURNED_UP)
        if low <= limiter.volts <= high:
            return ""
        read_at = shown_volts(limiter.mains)
        return say(
            "A variable transformer is turned up slowly and read at {read_at}, not at {volts:g} V.",
            read_at=read_at,
            volts=limiter.volts,
        )
    if sound.kind in LAMP_CANNOT_JUDGE:
        return say(
            "No lamp can judge {a_kind}: a sound one looks like a short. Take a variable "
            "transformer, or the route that goes by resistance and insulation.",
            a_kind=_a_kind(sound.kind),
        )
    if largest is not None and limiter.watts > largest:
        return say("The workshop's largest lamp is {largest:g} W. {take}", largest=largest, take=_take(sound, largest))
    if tells_a_short(limiter, sound.high, resistive=sound.resistive):
        return ""
    drawn = show(sound.high, Kind.current)
    return say(
        "A lamp of {watts:g} W passes {show} into a short, and a sound one of this design may "
        "draw {drawn}: it cannot tell them apart. {take}",
        watts=limiter.watts,
        show=show(limiter.short_circuit, Kind.current),
        drawn=drawn,
        take=_take(sound, largest),
    )


def _take(sound: SoundCurrent, largest: float | None) -> str:
    """Which lamp could, never one above the workshop's largest."""
    watts = least_lamp(sound.high, sound.mains, resistive=sound.resistive)
    if watts is None or (largest is not None and watts > largest):
        return "No lamp of this workshop can: take a variable transformer."
    return f"Take a lamp of {watts:g} W" + ("" if largest in (None, watts) else f" to {largest:g} W") + "."


def lamps_that_can(circuit: Circuit, *, mains: float, largest: float) -> tuple[float, float] | None:
    """The smallest and largest lamp (W) that can judge this design here; None: none can. Raises WiringProblem."""
    sound = sound_current(circuit, mains)
    watts = least_lamp(sound.high, mains, resistive=sound.resistive)
    if sound.kind in LAMP_CANNOT_JUDGE or watts is None or watts > largest:
        return None
    return watts, largest


def _a_kind(kind: KindOfLoad) -> str:
    return f"a {kind.value}"


def _of_limiter(limiter: Limiter) -> Iterator[DerivationStep]:
    source = assumptions.COMMON_PRACTICE
    if isinstance(limiter, Variable):
        share = f"{limiter.words} of {limiter.mains:g} V: {limiter.volts / limiter.mains * 100:.3g} % of the mains"
        yield DerivationStep(what="limiter", value=share, source=source)
        return
    words = f"{limiter.words} at {limiter.mains:g} V passes {show(limiter.short_circuit, Kind.current)} into a short"
    yield DerivationStep(what="limiter", value=words, source="watts / volts, calculated")
    words = f"it draws at most {LAMP_SHARE:g} of that, and the lamp has at least {TIMES_THE_ITEM:g} times its watts"
    yield DerivationStep(what="so a short stands out from a sound one", value=words, source=source)


def _band(lower: float, expected: float | None, upper: float, reasons: tuple[DerivationStep, ...]) -> Band:
    """Applied as it stands: its ends are wide already, and a sound item at either end is not held up."""
    seen = lower if lower >= SEEN else None
    least = "nothing that this meter shows" if seen is None else show(lower, Kind.current)
    words = f"{least} to {show(upper, Kind.current)}"
    most = OFF_AT_ONCE.format(most=show(upper, Kind.current))
    return Band(
        kind=Kind.current,
        unit="A",
        lower=seen,
        upper=upper,
        rule=Rule.simple,
        expected=expected,
        derivation=(*reasons, DerivationStep(what="so the current should be", value=words, source="the lines above")),
        cautions=((NO_CURRENT,) if seen is not None else ()) + (most,),
    )


def limiter_of(kind: str, watts: float | None, volts: float | None, *, mains: float) -> Limiter | None:
    """The limiter as a unit's facts name it; None where they do not say enough."""
    if kind == LAMP and watts is not None:
        return Lamp(watts=watts, mains=mains)
    if kind == VARIABLE and volts is not None:
        return Variable(volts=volts, mains=mains)
    return None


LAMP, VARIABLE = "lamp", "variable transformer"
"""How a unit's facts name its limiter."""


def mains_volts(known: KnownQuantity | None, nominal: float) -> float:
    """The mains (V) as read, else the place's nominal one."""
    return nominal if known is None else float(known.value_si)
