"""A workshop's own drawing of a shipped connector: its pins mean what the shipped ones mean, and lie where they lie."""

from collections.abc import Iterator

from benchapp.files.looser import Looser
from benchapp.wiring.model.connectors import Connector, Pin

MOVED = 0.5
"""mm by which a pin may be measured otherwise: a quarter of the least distance of two pins (common practice)"""


def changed_face(own: Connector, shipped: Connector) -> Iterator[Looser]:
    """Everything that would send a probe to another pin than the shipped face of the same id."""
    for field in ("view", "mains", "say"):
        mine, theirs = getattr(own, field), getattr(shipped, field)
        if mine != theirs:
            yield Looser(key=(field,), what=f"{field} “{mine}” is not “{theirs}”, as shipped", expected=f"{theirs}")
    there = {pin.pin: pin for pin in shipped.pins}
    for number, pin in enumerate(own.pins):
        theirs = there.pop(pin.pin, None)
        key = ("pins", number, "pin")
        if theirs is None:
            yield Looser(key=key, what=f"the shipped connector has no pin {pin.pin}", expected=_names(shipped))
        else:
            yield from _changed_pin(number, pin, theirs)
    for name in there:
        yield Looser(key=("pins",), what=f"pin {name} of the shipped connector is missing", expected=_names(shipped))


def _names(connector: Connector) -> str:
    return ", ".join(pin.pin for pin in connector.pins)


def _changed_pin(number: int, own: Pin, shipped: Pin) -> Iterator[Looser]:
    if max(abs(own.x - shipped.x), abs(own.y - shipped.y)) > MOVED:
        what = f"pin {own.pin} at x {own.x:g} mm, y {own.y:g} mm lies elsewhere than shipped"
        yield Looser(key=("pins", number, "x"), what=what, expected=f"x {shipped.x:g} mm, y {shipped.y:g} mm")
    for field in ("label", "say"):
        mine, theirs = getattr(own, field), getattr(shipped, field)
        if mine != theirs:
            what = f"pin {own.pin}: “{mine}” is not “{theirs}”, as shipped"
            yield Looser(key=("pins", number, field), what=what, expected=theirs or "nothing")
