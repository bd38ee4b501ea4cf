"""What the day at the bench lets be recorded of a unit: meters proved, the RCD's button tried, the bench not closed."""

from collections.abc import Mapping
from typing import Any

from benchapp.sequences.interlock.free_probes import PROBED
from benchapp.sequences.interlock.live_conditions import MAINS_CAUTION
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.bench_day import BenchDay
from benchapp.sequences.planning.entries import EntryKind


def refuse_by_the_day(day: BenchDay, kind: EntryKind, content: Mapping[str, Any]) -> str | None:
    """The sentence with which the day refuses such an entry; None where it may be recorded, as far as the day goes."""
    if kind is EntryKind.answer:
        return _refuse_reading(day, content)
    if kind is EntryKind.note and PROBED in content:
        return _refuse_reading(day, content[PROBED])
    if kind is EntryKind.caution:
        return _refuse_caution(day, str(content.get("caution", "")))
    return _refuse_meter(day, content) if kind is EntryKind.meter else None


def _refuse_reading(day: BenchDay, content: Mapping[str, Any]) -> str | None:
    """What was found at the bench after a meter was taken in hand counts: the day closed, or the meter not proved."""
    meter, live = str(content.get("meter", "")), content.get("supply", Supply.none) != Supply.none
    if (meter or live) and day.closed:
        return "The bench was closed for today: no meter counts as proved since. Open it again first."
    check = day.check_of(meter) if live else None
    if check is not None and not check.proved:
        return f"{meter} was not proved at the last bench opening. Take another, or prove it (F8)."
    return None


def _refuse_caution(day: BenchDay, caution: str) -> str | None:
    """The caution before mains needs the RCD tried that day."""
    if caution != MAINS_CAUTION or (day.is_open and day.rcd_button_tested):
        return None
    return (
        "The RCD's button was not tried at today's bench opening, and mains comes through it. "
        "Open the bench (F8): press the button, see that it trips, and say so."
    )


def _refuse_meter(day: BenchDay, content: Mapping[str, Any]) -> str | None:
    """A meter comes to a unit with what the opening found of it, and nothing else."""
    meter = str(content.get("meter", ""))
    found, said = meter_content(day, meter), {name: content.get(name) for name in ("proved", "lead_resistance")}
    said["nulled"] = bool(content.get("nulled", False))
    if said == found:
        return None
    return f"This is not what the day's bench opening found of {meter}. Take it in hand again, as it is."


def meter_content(day: BenchDay, meter: str) -> dict[str, Any]:
    """What an entry that takes the meter in hand says of the day: when it was proved (empty: never), and its leads."""
    check = day.check_of(meter)
    return {
        "proved": day.opened if check is not None and check.proved else "",
        "lead_resistance": None if check is None else check.lead_resistance,
        "nulled": check is not None and check.nulled,
    }
