"""Dates on papers as this workshop writes them; one whose workshop has settled nothing is written as ISO 8601."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import datetime

FORMS: Mapping[str, str] = {
    "": "{year:04}-{month:02}-{day:02}",
    "day/month/year": "{day:02}/{month:02}/{year:04}",
    "month/day/year": "{month:02}/{day:02}/{year:04}",
    "day.month.year": "{day:02}.{month:02}.{year:04}",
}
"""by the workshop's setting; a setting that is none of them counts as none"""

_form: ContextVar[str] = ContextVar("form of dates", default="")


@contextmanager
def dates_as(form: str) -> Iterator[None]:
    """While a paper is put together, its dates have that form."""
    token = _form.set(form)
    try:
        yield
    finally:
        _form.reset(token)


def day(at: str) -> str:
    """The date of an entry where the workshop is: "2026-05-04", or in the form that is set."""
    when = _local(at)
    return FORMS.get(_form.get(), FORMS[""]).format(year=when.year, month=when.month, day=when.day)


def day_and_time(at: str) -> str:
    """Date and time of an entry where the workshop is: "2026-05-04 09:30"."""
    return f"{day(at)} {_local(at):%H:%M}"


def _local(at: str) -> datetime:
    return datetime.fromisoformat(at).astimezone()
