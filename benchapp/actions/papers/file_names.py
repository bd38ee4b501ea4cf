"""Names of files made from shelf marks: one mark, one name, and a person reads the mark in it."""

import re
import unicodedata
from collections import Counter
from collections.abc import Iterable
from hashlib import sha256

LONGEST = 120
"""bytes in UTF-8 of a name without its ending; most file systems take 255 (common practice, no source)"""
_DEVICES = re.compile(r"(con|prn|aux|nul|com[0-9]|lpt[0-9])(\..*)?", re.IGNORECASE)
"""what Windows takes for a device, whatever the ending (Microsoft: "Naming Files, Paths, and Namespaces")"""


def name_of_mark(mark: str) -> str:
    """The mark as a file name without ending: A/1 becomes A%2F1, as in a web address (RFC 3986, section 2.1).

    Letters, digits, blanks within and - _ . stay. A mark that is too long is cut, with the beginning of its SHA-256
    behind it.
    """
    name = "".join(sign if sign.isalnum() or sign in "-_. " else _percent(sign) for sign in mark)
    if name.startswith((".", " ", "-")):  # hidden, lost, or taken for an option
        name = _percent(name[0]) + name[1:]
    if name.endswith((".", " ")):  # Windows drops them
        name = name[:-1] + _percent(name[-1])
    if _DEVICES.fullmatch(name):
        name = _percent(name[0]) + name[1:]
    if len(name.encode()) > LONGEST:
        name = f"{name.encode()[: LONGEST - 20].decode(errors='ignore')} ({_digits(mark)})"
    return name


def names_of_marks(marks: Iterable[str]) -> dict[str, str]:
    """The same for many, told apart also where a file system takes tb-1 for TB-1, or é for e and its accent."""
    names = {mark: name_of_mark(mark) for mark in marks}
    alike = Counter(_folded(name) for name in names.values())
    return {mark: f"{name} ({_digits(mark)})" if alike[_folded(name)] > 1 else name for mark, name in names.items()}


def _percent(sign: str) -> str:
    return "".join(f"%{byte:02X}" for byte in sign.encode("utf-8", "surrogatepass"))


def _digits(mark: str) -> str:
    return sha256(mark.encode("utf-8", "surrogatepass")).hexdigest()[:8]


def _folded(name: str) -> str:
    return unicodedata.normalize("NFC", unicodedata.normalize("NFD", name).casefold())
