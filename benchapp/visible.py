"""Text as it is safe to show: what would steer a console, turn the order of letters or stay unseen is written out.

C0 and C1 control characters (ISO/IEC 6429), the bidirectional controls (Unicode Standard Annex #9) and lone surrogates
become `\\x1b`, `\\u202e`, as program text writes them. Letters, marks, joiners and spaces of any script stay.
"""

from unicodedata import category

_JOINERS = "\u200c\u200d"
"""Cf characters that words of some scripts are spelt with."""


def visible(text: str, *, keep: str = "") -> str:
    """The text with every character written out that cannot be seen; `keep` names some that may stay ("\\n")."""
    if text.isprintable():
        return text
    return "".join(letter if _is_seen(letter) or letter in keep else _written_out(letter) for letter in text)


def _is_seen(letter: str) -> bool:
    return letter.isprintable() or letter in _JOINERS or category(letter) == "Zs"


def _written_out(letter: str) -> str:
    number = ord(letter)
    if number <= 0xFF:
        return f"\\x{number:02x}"
    return f"\\u{number:04x}" if number <= 0xFFFF else f"\\U{number:08x}"
