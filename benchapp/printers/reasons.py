"""Why a printer waits, in sentences: the standard's words for it (RFC 8011, section 5.4.12) and what a person does."""

from collections.abc import Iterable

WAITS = (
    (("media-empty", "media-needed"), "{printer} is out of paper. Put in {paper}; it then goes on by itself."),
    (("media-jam",), "Paper is jammed in {printer}. Take it out; it then goes on by itself."),
    (("cover-open", "door-open", "interlock-open"), "{printer} is open. Close it; it then goes on by itself."),
    (("input-tray-missing",), "The paper tray of {printer} is out. Put it in with {paper}; it then goes on by itself."),
    (("output-area-full", "output-tray-missing"), "{printer} has no room for printed paper. Make room."),
    (
        ("toner-empty", "marker-supply-empty", "developer-empty"),
        "{printer} is out of ink or toner. Change it; it then goes on by itself.",
    ),
    (
        ("offline", "shutdown", "timed-out"),
        "{printer} does not answer. See that it is switched on and connected; it then goes on by itself.",
    ),
    (("paused", "moving-to-paused"), "{printer} is stopped in this computer's settings. Start it again there."),
)
"""Keywords, and the sentence; the first row that has one of a printer's reasons counts."""
STOPPED = "{printer} is stopped. Look at what it says itself, or at this computer's settings for printers."
_WEIGHTS = ("-error", "-warning")


def why_it_waits(printer: str, paper: str, reasons: Iterable[str], *, stopped: bool) -> str:
    """The sentence for a printer's `printer-state-reasons`; empty where nothing keeps it from printing."""
    said = {_plain(reason) for reason in reasons}
    found = next((words for keywords, words in WAITS if said.intersection(keywords)), STOPPED if stopped else "")
    return found.format(printer=printer, paper=paper)


def _plain(reason: str) -> str:
    """The keyword without its weight; a mere report ("-report") keeps its ending and so is none of the rows."""
    for weight in _WEIGHTS:
        reason = reason.removesuffix(weight)
    return reason
