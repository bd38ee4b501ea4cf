"""Whether words on a page make a person look at a thing: all stems of one alternative begin some word of the text."""

import re
from collections.abc import Iterable

SHORT = 2
"""letters up to which a stem is the whole word: no is not the beginning of none"""


def says(text: str, stems: str) -> bool:
    """Whether each of the stems ("earth sleev") begins a word of the text; "+" in a stem joins words that follow."""
    words = re.findall(r"[a-z0-9²]+", text.lower())
    run = " ".join(words)
    for stem in stems.lower().split():
        if "+" in stem:
            if not re.search(rf"\b{re.escape(stem.replace('+', ' '))}", run):
                return False
        elif not any(word == stem if len(stem) <= SHORT else word.startswith(stem) for word in words):
            return False
    return True


def says_any(text: str, alternatives: Iterable[str]) -> bool:
    """Whether the text says one of the alternatives."""
    return any(says(text, one) for one in alternatives)
