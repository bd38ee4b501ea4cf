"""Whether a printer can be asked for a sheet's own paper: what is wrong, which sheet fits, what to put in."""

from collections.abc import Sequence

from benchapp.actions.papers.print_jobs import Sheet
from benchapp.desktop.words import tr
from benchapp.printers.values import Printer

_NAMED = 6
"""papers of a printer that a sentence names"""


def wrong_paper(printer: Printer, sheet: Sheet, sheets: Sequence[Sheet]) -> tuple[str, Sheet | None]:
    """What is wrong, empty where nothing is, and the sheet that fits: one of the paper the printer is set to first."""
    if printer.takes(sheet.width, sheet.height):
        return "", None
    by_usual = sorted(sheets, key=lambda one: not printer.is_set_to(one.width, one.height))
    fitting = next((one for one in by_usual if printer.takes(one.width, one.height)), None)
    papers = ", ".join(dict.fromkeys(one.name for one in printer.papers[:_NAMED])) or tr("none that it names")
    words = tr(
        "{printer} cannot take “{sheet}”: its paper is {papers}. Nothing is shrunk or stretched to fit; choose another "
        "sheet, or another printer."
    )
    return words.format(printer=printer.title, sheet=sheet.title, papers=papers), fitting


def what_to_put_in(printer: Printer, sheet: Sheet) -> str:
    """Which paper belongs into the printer, and that it is set to another where it is."""
    usual = printer.usual_size()
    if usual is None or printer.is_set_to(sheet.width, sheet.height):
        words = tr("Put “{sheet}” into {printer}. Printed at true size.")
        return words.format(sheet=sheet.title, printer=printer.title)
    words = tr("Put “{sheet}” into {printer} first: it is set to {usual}. Printed at true size, never fitted.")
    return words.format(sheet=sheet.title, printer=printer.title, usual=usual.name)
