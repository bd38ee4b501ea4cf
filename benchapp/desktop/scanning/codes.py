"""What a barcode scanner typed: the code on a unit's tag, or a code that is none of ours; Qt-free."""

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from benchapp.actions.workbench.bench import Bench

_HASH = re.compile(r" [0-9A-F]{8}$", re.IGNORECASE)
"""what stands behind the shelf mark in a tag's code"""
_GOODS = re.compile(r"[0-9]{8}")
"""so many digits in a row are a code of goods, and no reading or answer"""


def unit_of_code(bench: "Bench", text: str) -> str:
    """The mark of the unit whose tag or shelf mark was scanned; empty where it is none of this workbook."""
    typed = " ".join(text.split()).casefold()
    wanted = {typed, _HASH.sub("", typed)}
    if not typed:
        return ""
    return next((one.mark for one in bench.units() if {one.mark.casefold(), one.shelf_mark.casefold()} & wanted), "")


def is_code(bench: "Bench", text: str) -> bool:
    """Whether what stands in a field was scanned: a unit's mark, or a code of goods."""
    return bool(_GOODS.search(text) or unit_of_code(bench, text))
