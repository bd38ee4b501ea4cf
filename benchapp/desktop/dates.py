"""Times as the people at this computer write them: by the system's locale, on this computer's clock.

Only what a screen shows or a person types passes here; files, JSON and the record keep ISO 8601.
"""

from datetime import date, datetime

from PySide6.QtCore import QDateTime, QLocale


def shown_minute(at: str | datetime) -> str:
    """A time (ISO 8601, or with its zone) to the minute, the year in four digits; empty where there is none."""
    if not at:
        return ""
    when = datetime.fromisoformat(at) if isinstance(at, str) else at
    locale = QLocale()
    day = locale.dateFormat(QLocale.FormatType.ShortFormat)
    day = day if "yyyy" in day else day.replace("yy", "yyyy")
    clock = locale.timeFormat(QLocale.FormatType.ShortFormat)
    return locale.toString(QDateTime.fromSecsSinceEpoch(int(when.timestamp())), f"{day} {clock}")


def day_here(at: str) -> str:
    """The day of a time (ISO 8601) on this computer's clock; empty where there is none."""
    return datetime.fromisoformat(at).astimezone().date().isoformat() if at else ""


def typed_day(text: str) -> date | None:
    """The day that somebody typed: ISO 8601, or its month in words (English, or this computer's language).

    None for anything else: `1/5/2026` could be two days.
    """
    plain = " ".join(text.split())
    try:
        return date.fromisoformat(plain)
    except ValueError:
        pass
    for locale in (QLocale.c(), QLocale()):
        for pattern in ("d MMMM yyyy", "d MMM yyyy"):
            day = locale.toDate(plain, pattern)
            if day.isValid():
                return date(day.year(), day.month(), day.day())
    return None
