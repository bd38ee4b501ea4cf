"""Texts of two million characters and of thousands of mistakes, made to keep a reader busy. No file of anybody's."""

from collections.abc import Callable, Iterator

LONGEST = 1_990_000
"""Characters, a little below what a file may have."""
MANY = 4_900
"""Values, a little below what a file may have."""


def filled(begin: str, unit: str, end: str = "") -> str:
    """As many times the unit as fit."""
    return begin + unit * ((LONGEST - len(begin) - len(end)) // len(unit)) + end


def numbered(begin: str, unit: str, each: int = 1) -> str:
    """The unit with a number in it, `each` values at a time."""
    return begin + "".join(unit.replace("#", str(number)) for number in range(MANY // each))


_PART = "- resistor: r#\n  between: [a#, b]\n  resistance: 1 ohm ± 5 %\n"
_EQUIPMENT = "equipment: a\ntitle: Attic unit\nclass: I\ncircuit:\n"
_TEXTS: dict[str, Callable[[], str]] = {
    "one key again and again": lambda: filled("equipment: a\n", "a: 1\n"),
    "one key again on few lines": lambda: filled("equipment: {", "a: 1, ", "}"),
    "aliases": lambda: filled("equipment: &x a\nb: [", "*x, ", "]"),
    "anchors": lambda: filled("equipment: a\nb: [", "&x 1, ", "]"),
    "tags": lambda: filled("equipment: a\nb: [", "!t 1, ", "]"),
    "one long tag": lambda: filled("equipment: !<", "a", "> b"),
    "one long anchor": lambda: filled("equipment: &", "a", " b"),
    "tabs on one line": lambda: filled("equipment: a\n", "\t"),
    "tabs on many lines": lambda: filled("equipment: a\n" + "\t\n" * 90_000 + "# ", "x"),
    "characters that cannot be shown": lambda: filled("equipment: a\n" + "\x01\n" * 90_000 + "# ", "\x02"),
    "brackets in brackets": lambda: filled("equipment: ", "["),
    "braces in braces": lambda: filled("", "{"),
    "lists in lists": lambda: filled("equipment:\n", "- "),
    "keys in keys": lambda: filled("", "? "),
    "one long word": lambda: filled("equipment: ", "a"),
    "one long word in quotes": lambda: filled("equipment: '", "a ", "'"),
    "one long word of escapes": lambda: filled('equipment: "', "\\x41", '"'),
    "one long number": lambda: filled("equipment: a\nb: ", "9"),
    "letters of four bytes": lambda: filled("equipment: ", "\U0001f600"),
    "empty lines": lambda: filled("", "\n"),
    "carriage returns": lambda: filled("", "\r"),
    "comments": lambda: filled("equipment: a\n" + "#\n" * 90_000 + "# ", "x"),
    "documents": lambda: filled("equipment: a\n", "---\n"),
    "an id of quotes and spaces": lambda: filled("equipment: '", " ", "'x"),
    "ids": lambda: filled("", "route: x\n"),
    "lists as keys": lambda: filled("equipment: a\n", "? [a]\n: 1\n"),
    "numbers that are none": lambda: filled("equipment: a\nb: [", ".inf, ", "]"),
    "values in brackets": lambda: filled("equipment: [", "1,", "]"),
    "commas in braces": lambda: filled("equipment: {", "a: 1,5,", "}"),
    "colons": lambda: filled("", ":"),
    "percent signs": lambda: filled("", "%"),
    "keys that are not known": lambda: numbered("equipment: a\n", "k#: 1\n"),
    "keys of a sequence that are not known": lambda: numbered("sequence: a\n", "k#: true\n"),
    "long keys that are not known": lambda: numbered("equipment: a\n", "k" * 190 + "#: 1\n"),
    "parts of no kind": lambda: _EQUIPMENT + "- {}\n" * MANY,
    "parts of two kinds": lambda: numbered(_EQUIPMENT, "- {fuse: a, resistor: b}\n", 3),
    "parts of a misspelt kind": lambda: numbered(_EQUIPMENT, "- {fsue: a}\n", 2),
    "one part with many keys": lambda: numbered(f"{_EQUIPMENT}- fuse: a\n", "  k#: 1\n"),
    "parts of one name": lambda: numbered(_EQUIPMENT, _PART.replace("r#", "r"), 6),
    "parts in a star": lambda: numbered(_EQUIPMENT, _PART, 6),
    "steps of no kind": lambda: "sequence: a\ntitle: Steps\nsteps:\n" + "- {}\n" * MANY,
    "steps that lack all": lambda: numbered("sequence: a\ntitle: Steps\nsteps:\n", "- measure: s#\n", 2),
    "ranges of no meter": lambda: numbered("meter: a\ntitle: Meter\nfunctions:\n", "  f#: {}\n"),
    "sequences that are not there": lambda: numbered("route: a\ntitle: Way\nequipment: [a]\nsequences:\n", "- s#\n"),
    "figures without a source": lambda: numbered("limits: gb\ntitle: Limits\n", "l#: 1 ohm\n"),
    "a label with many keys": lambda: numbered("label sheet: a\ntitle: Labels\n", "k#: {}\n"),
    "weights of no part": lambda: numbered("faults: a\nparts:\n", "  k#: {}\n"),
    "a caution as one word": lambda: filled("caution: a\ntitle: Caution\nwords: ", "a "),
}
_RESISTORS = _EQUIPMENT.replace("class: I", "class: none\nconnectors: {input: binding-posts-2}") + (
    "- resistor: first\n  between: [input.red, m0]\n  resistance: 1 ohm ± 5 %\n"
)
_TEXTS |= {
    "parts in a chain": lambda: _RESISTORS + _chain(240),
    "parts that end nowhere": lambda: _RESISTORS + "".join(_PART.replace("#", str(number)) for number in range(240)),
}


def _chain(length: int) -> str:
    part = "- resistor: c{0}\n  between: [m{0}, m{1}]\n  resistance: 1 ohm ± 5 %\n"
    return "".join(part.format(number, number + 1) for number in range(length)) + part.format("z", "x").replace(
        "[mz, mx]", f"[m{length}, input.blank]"
    )


NAMES = tuple(_TEXTS)


def hostile_text(name: str) -> str:
    """One of the texts."""
    return _TEXTS[name]()


def hostile_texts() -> Iterator[tuple[str, str]]:
    """All of them by name, one at a time."""
    for name in NAMES:
        yield name, hostile_text(name)
