"""The wire of a meter as a workshop's own files say it, found without reading all of them."""

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from benchapp.errors import BenchError

if TYPE_CHECKING:
    from benchapp.judgement.meters.wire import Wire


def wire_in(folders: Iterable[Path], meter: str) -> "Wire | None":
    """The wire in the last record of that meter in these folders; None where there is none, or it cannot be read."""
    from benchapp.files.beside import own_files, said_in
    from benchapp.files.models import build_model
    from benchapp.files.reader import parse_document
    from benchapp.files.text import read_text
    from benchapp.judgement.meters.records import MeterRecord

    found = None
    for path in (path for folder in folders for path in own_files(folder)):
        try:
            text = read_text(path)
            if said_in(text) == ("meter", meter):
                found = build_model(parse_document(text, path.name), MeterRecord).wire
        except BenchError:
            continue  # whoever opens the files hears what is wrong with it
    return found
