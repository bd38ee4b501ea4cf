"""What is looked at, at once, before smoke, smell, hum or heat counts as a false alarm (common practice, no source)."""

LOOKS = (
    "No smoke, and no smell of burning or hot varnish, at its vents, its switch and its plug.",
    "No part of case, cord and plug is warmer than the hand.",
    "No brown, blistered or molten spot on case, cord, plug and pins; nothing has run out.",
    "Turned and tilted, nothing in it rattles that did not before.",
)
"""Each of them, on the unplugged unit, once its voltage was proved low."""
