"""Can the leads of a meter be what was said of them at the bench opening?

Nulled or measured, never both: a resistance that is taken off twice makes a poor earth path look good.
"""

from math import isfinite

LARGEST = 2.0
"""ohm that a pair of leads may have at most; good ones have about 0.2 ohm (reference row 9.10)"""


def refuse_leads(meter: str, resistance: float | None, *, nulled: bool) -> str | None:
    """The sentence with which a lead resistance in ohm is refused; None where it can be used."""
    if resistance is None:
        return None
    if nulled:
        return (
            f"The leads of {meter} are said to be nulled and to have {resistance:g} ohm. Say one of the two: "
            "what was nulled is no longer in the readings."
        )
    if not isfinite(resistance) or resistance < 0:
        return f"Leads of {resistance:g} ohm cannot be: measure those of {meter} again, tips together."
    if resistance > LARGEST:
        return f"Leads of {resistance:g} ohm are no good: take other leads for {meter} (at most {LARGEST:g} ohm)."
    return None
