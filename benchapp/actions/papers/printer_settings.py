"""What this computer's user chose when printing last: printer, sheet, first free label; and each printer's offset."""

import json
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import asdict, dataclass, field, replace
from typing import Any

from benchapp.operating_system import data_folder
from benchapp.workbook.file.whole_files import read_json, write_whole

FILE = "printers.json"
Offset = tuple[float, float]
"""millimetres to the right and down"""


@dataclass(frozen=True, slots=True, kw_only=True)
class PrinterSettings:
    """The last printer, sheets by paper, first free labels by sheet, offsets by printer."""

    printer: str = ""
    sheets: Mapping[str, str] = field(default_factory=dict)
    free: Mapping[str, int] = field(default_factory=dict)
    offsets: Mapping[str, Offset] = field(default_factory=dict)

    def offset(self, printer: str) -> Offset:
        """How far that printer's ink has to be moved."""
        return self.offsets.get(printer, (0.0, 0.0))

    def with_choice(self, printer: str, paper: str, sheet: str, offset: Offset) -> "PrinterSettings":
        """The same with a printer, its offset and the sheet for a paper."""
        offsets = {**self.offsets, printer: offset}
        return replace(self, printer=printer, offsets=offsets, sheets={**self.sheets, paper: sheet})

    def with_free(self, sheet: str, label: int) -> "PrinterSettings":
        """The same with the first free label of the sheet that is in use."""
        return replace(self, free={**self.free, sheet: label})


def read_printer_settings() -> PrinterSettings:
    """Those of this user; new ones where there are none, or none that can be read."""
    try:
        kept: dict[str, Any] = read_json(data_folder() / FILE)
        return PrinterSettings(
            printer=str(kept["printer"]),
            sheets={str(paper): str(sheet) for paper, sheet in kept["sheets"].items()},
            free={str(sheet): int(label) for sheet, label in kept["free"].items()},
            offsets={str(name): (float(x), float(y)) for name, (x, y) in kept["offsets"].items()},
        )
    except (OSError, ValueError, TypeError, KeyError, AttributeError):
        return PrinterSettings()


def keep_printer_settings(settings: PrinterSettings) -> None:
    """Keep them; where they cannot be written the next print asks again."""
    path = data_folder() / FILE
    with suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, json.dumps(asdict(settings), indent=1, ensure_ascii=False).encode())
