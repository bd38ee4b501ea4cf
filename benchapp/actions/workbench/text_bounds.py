"""How long a text may be that a person types into the record: a longer one is refused with a sentence, before the disk.

The bounds are own choices, several times what anybody writes; they keep every text printable and every list readable.
What is recorded above them already, by an earlier program or a stranger, is still shown, and cut on paper.
"""

from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass

from benchapp.actions.workbench.problems import Refused
from benchapp.sequences.planning.content import Content
from benchapp.words import say

LONGEST = {"initials": 60, "shelf mark": 60, "name": 200, "note": 4_000}
"""characters, by what the text is"""


def refuse_long(**texts: str) -> None:
    """Raise Refused for the first text that is too long; each is named by what it is (`shelf_mark`, `note`)."""
    for name, text in texts.items():
        what = name.replace("_", " ")
        if len(text) > (most := LONGEST[what]):
            raise Refused(
                say(
                    "The {what} that begins “{text}” has {count} characters, and at most {most} are "
                    "kept. Shorten it, then record it again.",
                    what=what,
                    text=text[:30],
                    count=len(text),
                    most=most,
                )
            )


def refuse_long_texts(content: Content) -> None:
    """Raise Refused where any text in the content of an entry is longer than a note may be."""
    for text in _texts(content):
        refuse_long(note=text)


def _texts(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        for name, one in value.items():
            yield from _texts(name)
            yield from _texts(one)
    elif isinstance(value, list | tuple | frozenset | set):
        for one in value:
            yield from _texts(one)
    elif is_dataclass(value) and not isinstance(value, type):
        for field in fields(value):
            yield from _texts(getattr(value, field.name))
