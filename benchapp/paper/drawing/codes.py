"""The QR code of a tag (ISO/IEC 18004, error correction level Q: a quarter of the code may be scratched away).

The modules of a code go into the page as one filled path of merged runs: no seams between rows at any zoom, sharp
on any printer, and drawn some ten times faster than a rectangle for each run (tests/performance/test_tags.py).
"""

import re

import segno

QUIET_ZONE = 4  # modules of white on every side (ISO/IEC 18004, clause "quiet zone")

_RUN = re.compile(rb"\x01+")


def code_matrix(text: str) -> tuple[bytes, ...]:
    """Rows of modules, 1 for dark."""
    return tuple(bytes(row) for row in segno.make_qr(text, error="q", boost_error=False).matrix)


def code_path(text: str, x: float, y: float, side: float) -> str:
    """PDF operators that draw a code in black, its quiet zone included, in a square whose LOWER left corner is x, y."""
    rows = code_matrix(text)
    module = side / (len(rows) + 2 * QUIET_ZONE)
    left, top = x + QUIET_ZONE * module, y + side - QUIET_ZONE * module
    runs = (
        f"{run.start()} {row} {run.end() - run.start()} 1 re"
        for row, modules in enumerate(rows)
        for run in _RUN.finditer(modules)
    )
    return f"q 0 g {module:.5f} 0 0 {-module:.5f} {left:.4f} {top:.4f} cm\n{' '.join(runs)} f Q"
