"""CUPS, the printing system of Linux and macOS, through its own library (libcups, the API of CUPS 2; standard library).

A document is handed over as it is: the paper by its name, one page to a side, and `print-scaling` none (PWG 5100.16),
so that no filter fits it to other paper. What becomes of it is asked by its job number.
"""

import ctypes
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from benchapp.operating_system import printing_library
from benchapp.printers.problems import NOTHING_RECORDED, PrinterProblem
from benchapp.printers.reasons import why_it_waits
from benchapp.printers.values import Parcel, Progress, Stage
from benchapp.words import say

AT_TRUE_SIZE = {
    "print-scaling": "none",
    "fit-to-page": "false",
    "number-up": "1",
    "sides": "one-sided",
    "job-sheets": "none",
}
"""Said even where it is usual: a queue may be set otherwise."""
_ACTIVE, _ENDED = 0, 1  # CUPS_WHICHJOBS_ACTIVE, CUPS_WHICHJOBS_COMPLETED
_HELD, _STOPPED, _CANCELLED, _ABORTED, _COMPLETED = 4, 6, 7, 8, 9  # job-state, RFC 8011, section 5.3.7
_PRINTER_STOPPED = "5"  # printer-state, RFC 8011, section 5.4.11


class _Option(ctypes.Structure):
    _fields_ = (("name", ctypes.c_char_p), ("value", ctypes.c_char_p))


class _Destination(ctypes.Structure):
    _fields_ = (
        ("name", ctypes.c_char_p),
        ("instance", ctypes.c_char_p),
        ("is_default", ctypes.c_int),
        ("num_options", ctypes.c_int),
        ("options", ctypes.POINTER(_Option)),
    )


class _Job(ctypes.Structure):
    _fields_ = (
        ("id", ctypes.c_int),
        *((name, ctypes.c_char_p) for name in ("dest", "title", "user", "format")),
        ("state", ctypes.c_int),
        ("size", ctypes.c_int),
        ("priority", ctypes.c_int),
        *((name, ctypes.c_long) for name in ("completed", "created", "processed")),
    )


@cache
def _library() -> Any:  # noqa: ANN401 (a C library)
    """The library with the types of what is called in it; None where there is none."""
    try:
        lib = ctypes.CDLL(printing_library() or "no such library")
    except OSError:
        return None
    options, jobs = ctypes.POINTER(_Option), ctypes.POINTER(_Job)
    text, number = ctypes.c_char_p, ctypes.c_int
    for name, result, arguments in (
        ("cupsAddOption", number, (text, text, number, ctypes.POINTER(options))),
        ("cupsFreeOptions", None, (number, options)),
        ("cupsPrintFile", number, (text, text, text, number, options)),
        ("cupsLastErrorString", text, ()),
        ("cupsGetJobs", number, (ctypes.POINTER(jobs), text, number, number)),
        ("cupsFreeJobs", None, (number, jobs)),
        ("cupsCancelJob", number, (text, number)),
        ("cupsGetNamedDest", ctypes.POINTER(_Destination), (ctypes.c_void_p, text, text)),
        ("cupsGetOption", text, (text, number, options)),
        ("cupsFreeDests", None, (number, ctypes.POINTER(_Destination))),
    ):
        function = getattr(lib, name)
        function.restype, function.argtypes = result, arguments
    return lib


def is_there() -> bool:
    """Whether this computer has the library."""
    return _library() is not None


def send(parcel: Parcel) -> int:
    """Hand a document over; returns its job number. Raises PrinterProblem where CUPS does not take it."""
    lib, title = _library(), parcel.title.encode()
    wanted = {**AT_TRUE_SIZE, "media": parcel.paper.key, "copies": str(parcel.copies)}
    with TemporaryDirectory(prefix="benchapp-print-") as folder, _options(lib, wanted) as (count, options):
        path = Path(folder) / "document.pdf"
        path.write_bytes(parcel.pdf)
        job = int(lib.cupsPrintFile(_queue(parcel), str(path).encode(), title, count, options))
    if not job:
        raise PrinterProblem(
            say(
                "{title} did not take it ({last_error}). See that the printer is still set up and takes "
                "jobs, in this computer's settings. {NOTHING_RECORDED}",
                title=parcel.printer.title,
                last_error=_last_error(lib),
                NOTHING_RECORDED=NOTHING_RECORDED,
            )
        )
    return job


def progress(parcel: Parcel, job: int) -> Progress:
    """How far that job has come. Raises PrinterProblem where CUPS does not say."""
    lib, title = _library(), parcel.printer.title
    state = _state_of(lib, parcel, job, _ACTIVE) or _state_of(lib, parcel, job, _ENDED)
    if state == _COMPLETED:
        return Progress(stage=Stage.DONE)
    if state == _CANCELLED:
        return Progress(
            stage=Stage.FAILED,
            words=say(
                "The job was taken back from {title}. {NOTHING_RECORDED}",
                title=title,
                NOTHING_RECORDED=NOTHING_RECORDED,
            ),
        )
    if state in (None, _ABORTED):
        words = say(
            "{title} gave it up, or this computer did. Look at both, then print again. {NOTHING_RECORDED}",
            title=title,
            NOTHING_RECORDED=NOTHING_RECORDED,
        )
        return Progress(stage=Stage.FAILED, words=words)
    if state == _HELD:
        return Progress(
            stage=Stage.WAITING,
            words=say("The job is held in this computer's list of print jobs for {title}.", title=title),
        )
    reasons, stopped = _printer_state(lib, parcel)
    words = why_it_waits(title, parcel.paper.name, reasons, stopped=stopped or state == _STOPPED)
    return Progress(stage=Stage.WAITING if words else Stage.PRINTING, words=words)


def take_back(parcel: Parcel, job: int) -> None:
    """Cancel the job; one that has ended meanwhile stays as it is."""
    _library().cupsCancelJob(_queue(parcel), job)


def _queue(parcel: Parcel) -> bytes:
    """The queue's name without the name of a set of options behind it."""
    return parcel.printer.name.partition("/")[0].encode()


@contextmanager
def _options(lib: Any, wanted: dict[str, str]) -> Iterator[tuple[int, Any]]:  # noqa: ANN401
    options = ctypes.POINTER(_Option)()
    count = 0
    for name, value in wanted.items():
        count = lib.cupsAddOption(name.encode(), value.encode(), count, ctypes.byref(options))
    try:
        yield count, options
    finally:
        lib.cupsFreeOptions(count, options)


def _state_of(lib: Any, parcel: Parcel, job: int, which: int) -> int | None:  # noqa: ANN401
    """The state of a job among the active or the ended ones; None where it is not there."""
    jobs = ctypes.POINTER(_Job)()
    count = lib.cupsGetJobs(ctypes.byref(jobs), _queue(parcel), 0, which)
    if count < 0:
        raise PrinterProblem(
            say(
                "This computer's printing system does not answer ({last_error}): whether {title} was "
                "printed is not known. Look at the printer. {NOTHING_RECORDED}",
                last_error=_last_error(lib),
                title=parcel.title,
                NOTHING_RECORDED=NOTHING_RECORDED,
            )
        )
    try:
        return next((int(jobs[n].state) for n in range(count) if jobs[n].id == job), None)
    finally:
        lib.cupsFreeJobs(count, jobs)


def _printer_state(lib: Any, parcel: Parcel) -> tuple[list[str], bool]:  # noqa: ANN401
    """The printer's reasons, and whether it is stopped."""
    found = lib.cupsGetNamedDest(None, _queue(parcel), None)
    if not found:
        return [], False
    try:
        queue = found.contents
        reasons, state = (
            (lib.cupsGetOption(name, queue.num_options, queue.options) or b"").decode()
            for name in (b"printer-state-reasons", b"printer-state")
        )
        return reasons.split(","), state == _PRINTER_STOPPED
    finally:
        lib.cupsFreeDests(1, found)


def _last_error(lib: Any) -> str:  # noqa: ANN401
    return (lib.cupsLastErrorString() or b"no reason given").decode(errors="replace").strip().rstrip(".")
