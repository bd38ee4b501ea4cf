"""Times as the people at this computer write them: by the system's locale, on this computer's clock.

Only what a screen shows passes here; files, JSON and the record keep ISO 8601.
"""

from datetime import datetime

from PySide6.QtCore import QDateTime, QLocale


def shown_minute(at: str | datetime) -> str:
    """A time (ISO 8601, or with its zone) to the minute, the year in four digits; empty where there is none."""
    if not at:
        return ""
    when = datetime.fromisoformat(at) if isinstance(at, str) else at
    locale = QLocale()
    date = locale.dateFormat(QLocale.FormatType.ShortFormat)
    date = date if "yyyy" in date else date.replace("yy", "yyyy")
    clock = locale.timeFormat(QLocale.FormatType.ShortFormat)
    return locale.toString(QDateTime.fromSecsSinceEpoch(int(when.timestamp())), f"{date} {clock}")


def day_here(at: str) -> str:
    """The day of a time (ISO 8601) on this computer's clock; empty where there is none."""
    return datetime.fromisoformat(at).astimezone().date().isoformat() if at else ""
