"""Words of the trade beside the words of our files that mean the same.

Each group begins with words that our files know; those behind them are other words for the same thing (common practice,
no source). A word is only ever offered where it is known.
"""

from collections.abc import Iterator

_GROUPS = (
    # classes of IEC 61140
    ("0", "class 0", "zero"),
    ("I", "1", "class 1", "class i", "one"),
    ("II", "2", "class 2", "class ii", "two", "double insulated"),
    ("III", "3", "class 3", "class iii", "three", "selv"),
    # which reading is kept, what is accepted
    ("highest", "at most", "max", "maximum", "peak", "largest", "most"),
    ("lowest", "at least", "min", "minimum", "smallest", "least"),
    ("steady", "mean", "average", "stable", "settled"),
    ("count", "counts", "dgt", "dgts", "digit", "digits", "lsd", "d"),
    # meter functions
    ("resistance", "ohm", "ohms", "ohmmeter"),
    ("continuity", "beep", "beeper", "buzzer"),
    ("earth continuity", "earth bond", "bond", "earth resistance", "ground continuity"),
    ("insulation", "insulation resistance", "isolation test", "500 v test"),
    ("AC voltage", "ac volts", "vac", "volts ac", "v ac", "ac v", "acv"),
    ("DC voltage", "dc volts", "vdc", "volts dc", "v dc", "dc v", "dcv"),
    ("mains voltage", "mains", "mains volts", "line voltage"),
    ("AC current", "ac amps", "amps", "amps ac", "ac a", "current"),
    ("DC current", "dc amps", "amps dc", "dc a"),
    ("power", "watts", "wattage"),
    ("frequency", "hertz", "hz"),
    ("temperature", "degrees"),
    # kinds of step
    ("inspect", "look", "check", "visual", "inspection"),
    ("work", "do", "action", "actions", "task"),
    ("measure", "read", "reading", "meter", "test"),
    ("probe", "probes", "pins"),
    ("ask", "question", "choose"),
    ("wait", "pause", "timer", "hold", "soak"),
    ("compute", "calculate", "calculation", "formula", "sum"),
    ("photo", "picture", "image", "foto", "photograph"),
    # kinds of part
    ("link", "wire", "joint", "track", "jumper"),
    ("winding", "coil", "inductor", "transformer", "choke"),
    ("capacitor", "cap", "condenser"),
    ("earth", "ground", "gnd", "bonding", "pe"),
    ("barrier", "insulation", "isolation", "gap"),
    ("diode", "rectifier"),
    # what feeds a unit
    ("full", "on", "mains", "live", "yes"),
    ("none", "off", "no", "dead", "unplugged"),
    ("limited", "limiter", "lamp limiter", "variable transformer"),
    # how grave a fault is, what a judgement is called
    ("note", "minor", "remark", "low"),
    ("mend", "serious", "repair", "major", "medium"),
    ("do not use", "danger", "dangerous", "critical", "unsafe", "high"),
    ("pass", "passed", "ok", "good"),
    ("fail", "failed", "bad", "not ok"),
    # a plug
    ("moulded", "molded", "sealed", "cast"),
    ("rewirable", "rewireable", "screwed"),
)


def same_meaning(plain: str) -> Iterator[str]:
    """Words that mean the same as this one, which is in small letters with spaces for dashes; itself is among them."""
    for group in _GROUPS:
        if plain in {word.casefold() for word in group}:
            yield from group
