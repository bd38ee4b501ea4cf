"""Words of the trade beside the words of our files that mean the same, from resources/words.

A word is only ever offered where it is known.
"""

import tomllib
from collections.abc import Iterator
from functools import cache

from benchapp.files.shipped import shipped_folder


@cache
def _groups() -> tuple[tuple[str, ...], ...]:
    text = (shipped_folder("resources") / "words" / "synonyms.toml").read_text(encoding="utf-8")
    return tuple(tuple(group) for group in tomllib.loads(text)["groups"])


def same_meaning(plain: str) -> Iterator[str]:
    """Words that mean the same as this one, which is in small letters with spaces for dashes; itself is among them."""
    for group in _groups():
        if plain in {word.casefold() for word in group}:
            yield from group
