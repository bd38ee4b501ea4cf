"""The day at the bench refuses what its opening does not bear out."""

from dataclasses import dataclass, replace

import pytest

from benchapp.sequences.interlock.bench_day import meter_content, refuse_by_the_day
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.bench_day import BenchDay, KnownSource, refuse_opening
from benchapp.sequences.planning.contents import read_content
from benchapp.sequences.planning.entries import EntryKind
from tests.people import OPENED

MORNING = "2026-06-01T08:00:00Z"


@dataclass(frozen=True, kw_only=True)
class Found:
    meter: str
    proved: bool = True
    lead_resistance: float | None = None
    nulled: bool = False


READ = {"typed": "1", "value": 1.0, "bound": "exact"}
ANSWER = {"step": "measure", "judgement": "pass", "kind": "resistance", "rules_version": "1", **READ}
PROBED = {"a": "outlet.1", "b": "outlet.2", "standard_uncertainty": 0.1, **READ}


def content_of(kind, said):
    """The content of such an entry, with what else one needs."""
    if kind is EntryKind.answer:
        return read_content(kind, {**ANSWER, **said})
    if "probed" in said:
        return read_content(kind, {"words": "x", "probed": {**PROBED, **said["probed"]}})
    return read_content(kind, said)


OPEN = BenchDay(
    opened=MORNING,
    meters=(Found(meter="tb-m1", lead_resistance=0.1), Found(meter="tb-pm1", proved=False)),
    rcd_button_tested=True,
    **OPENED,
)
CLOSED = BenchDay(opened=MORNING, meters=OPEN.meters, rcd_button_tested=True, closed=True, **OPENED)
MAINS = {"caution": "mains-live"}


@pytest.mark.parametrize(
    ("day", "kind", "content"),
    [
        (OPEN, EntryKind.answer, {"meter": "tb-m1", "supply": "full"}),
        (OPEN, EntryKind.answer, {"meter": "tb-pm1", "supply": "none"}),
        (OPEN, EntryKind.answer, {"meter": "tb-it1", "supply": "full"}),
        (OPEN, EntryKind.note, {"words": "x", "probed": {"meter": "tb-m1", "supply": "full"}}),
        (OPEN, EntryKind.caution, MAINS),
        (replace(OPEN, rcd_rating=0.005), EntryKind.caution, MAINS),
        (CLOSED, EntryKind.answer, {"supply": "none"}),
        (CLOSED, EntryKind.note, {"words": "x"}),
        (CLOSED, EntryKind.caution, {"caution": "dust"}),
        (CLOSED, EntryKind.hazard, {"hazard": "smoke"}),
        (OPEN, EntryKind.meter, {"meter": "tb-m1", "proved": MORNING, "lead_resistance": 0.1, "nulled": False}),
        (OPEN, EntryKind.meter, {"meter": "tb-pm1", "proved": "", "lead_resistance": None}),
        (CLOSED, EntryKind.meter, {"meter": "tb-m1", "proved": "", "lead_resistance": None}),
    ],
)
def test_what_the_opening_bears_out_may_be_recorded(day, kind, content):
    assert refuse_by_the_day(day, content_of(kind, content)) is None


@pytest.mark.parametrize(
    ("day", "kind", "content", "words"),
    [
        (OPEN, EntryKind.answer, {"meter": "tb-pm1", "supply": "full"}, "This meter was not proved at the last bench"),
        (
            OPEN,
            EntryKind.answer,
            {"meter": "tb-pm1", "supply": "limited"},
            "This meter was not proved at the last bench",
        ),
        (
            OPEN,
            EntryKind.note,
            {"probed": {"meter": "tb-pm1", "supply": "full"}},
            "This meter was not proved at the last bench",
        ),
        (CLOSED, EntryKind.answer, {"meter": "tb-m1", "supply": "none"}, "The bench was closed for today"),
        (CLOSED, EntryKind.answer, {"supply": "limited"}, "The bench was closed for today"),
        (CLOSED, EntryKind.note, {"probed": {"meter": "tb-m1"}}, "The bench was closed for today"),
        (CLOSED, EntryKind.caution, MAINS, "The bench was closed for today"),
        (BenchDay(), EntryKind.caution, MAINS, "This bench was not opened today, so nobody tried its RCD's button"),
        (BenchDay(opened=MORNING), EntryKind.caution, MAINS, "The RCD's button was not tried"),
        (BenchDay(), EntryKind.answer, {"meter": "tb-m1", "supply": "full"}, "This bench was not opened today"),
        (BenchDay(opened=MORNING), EntryKind.answer, {"supply": "limited"}, "The RCD's button was not tried"),
        (BenchDay(), EntryKind.note, {"probed": {"meter": "tb-m1", "supply": "full"}}, "This bench was not opened"),
        (replace(OPEN, room=""), EntryKind.caution, MAINS, "nobody works under mains alone"),
        (replace(OPEN, rcd_rating=None), EntryKind.caution, MAINS, "The RCD's rating was not read"),
        (replace(OPEN, rcd_rating=0.0301), EntryKind.caution, MAINS, "above 30 mA, and that protects no people"),
        (replace(OPEN, rcd_rating=0.3), EntryKind.answer, {"supply": "limited"}, "above 30 mA"),
        (replace(OPEN, rcd_rating=0.0), EntryKind.caution, MAINS, "The RCD's rating was not read"),
        (replace(OPEN, rcd_reset=False), EntryKind.caution, MAINS, "that the RCD was switched on again"),
        (replace(OPEN, source=""), EntryKind.caution, MAINS, "No meter was proved on a known source"),
        (replace(OPEN, source="a socket"), EntryKind.caution, MAINS, "never in a socket"),
        (replace(OPEN, source=""), EntryKind.answer, {"meter": "tb-m1", "supply": "full"}, "No meter was proved"),
        (replace(OPEN, meters=OPEN.meters[1:]), EntryKind.caution, MAINS, "No meter was proved on a known source"),
    ],
)
def test_what_the_day_speaks_against_is_refused(day, kind, content, words):
    assert words in refuse_by_the_day(day, content_of(kind, content))


@pytest.mark.parametrize("day", [BenchDay(), BenchDay(opened=MORNING), CLOSED], ids=["none", "not tried", "closed"])
@pytest.mark.parametrize(
    ("kind", "said"),
    [
        (EntryKind.answer, {"meter": "tb-m1", "supply": "full"}),
        (EntryKind.answer, {"meter": "tb-pm1", "supply": "limited"}),
        (EntryKind.note, {"probed": {"meter": "tb-m1", "supply": "full"}}),
        (EntryKind.set_up, {"items": ["switch on"]}),
    ],
)
def test_what_is_refused_of_a_live_unit_says_first_to_switch_off(day, kind, said):
    refused = refuse_by_the_day(day, content_of(kind, said), supply=Supply.full)
    assert refused.startswith("If the unit is under power, switch off at once and make it safe (F12).")


def test_a_caution_is_read_before_power_and_speaks_of_no_switching_off():
    assert "switch off" not in refuse_by_the_day(BenchDay(), content_of(EntryKind.caution, MAINS))


@pytest.mark.parametrize("day", [BenchDay(), BenchDay(opened=MORNING), CLOSED], ids=["none", "not tried", "closed"])
def test_a_live_set_up_needs_an_rcd_that_was_tried_that_day(day):
    content = content_of(EntryKind.set_up, {"items": ["switch on"]})
    assert refuse_by_the_day(day, content, supply=Supply.full) is not None
    assert refuse_by_the_day(OPEN, content, supply=Supply.full) is None
    assert day.closed or refuse_by_the_day(day, content) is None


@pytest.mark.parametrize(
    ("at", "counts"),
    [
        ("2026-06-01T08:00:00Z", True),
        ("2026-06-01T22:00:00Z", True),
        ("2026-06-01T22:00:01Z", False),
        ("2026-06-01T07:59:59Z", False),
        ("2026-06-02T08:00:00Z", False),
    ],
)
def test_an_opening_counts_on_its_own_day_alone(at, counts):
    assert OPEN.as_at(at) == (OPEN if counts else BenchDay())


@pytest.mark.parametrize(
    ("day", "said"),
    [
        (BenchDay(), {"meter": "tb-m1", "proved": MORNING}),
        (CLOSED, {"meter": "tb-m1", "proved": MORNING, "lead_resistance": 0.1}),
        (OPEN, {"meter": "tb-pm1", "proved": MORNING}),
        (OPEN, {"meter": "tb-it1", "proved": MORNING}),
        (OPEN, {"meter": "tb-m1", "proved": "2026-06-01T09:00:00Z", "lead_resistance": 0.1}),
        (OPEN, {"meter": "tb-m1", "proved": MORNING, "lead_resistance": 0.5}),
        (OPEN, {"meter": "tb-m1", "proved": MORNING, "lead_resistance": 0.1, "nulled": True}),
    ],
)
def test_a_meter_comes_with_what_the_opening_found_of_it_and_nothing_else(day, said):
    refused = refuse_by_the_day(day, read_content(EntryKind.meter, said))
    assert refused.startswith("This is not what the day's bench opening found of this meter.")
    assert refuse_by_the_day(day, meter_content(day, said["meter"])) is None


@pytest.mark.parametrize(
    ("meters", "source", "room", "words"),
    [
        ((), "battery", "", "No meter is proved: that is no open bench"),
        ((Found(meter="tb-m1", proved=False),), "battery", "", "No meter is proved: that is no open bench"),
        ((Found(meter="tb-m1"),), "", "", "Never by probing a socket"),
        ((Found(meter="tb-m1"),), "socket", "", "Never by probing a socket"),
        ((Found(meter="tb-m1"),), "battery", "k.t.", "Somebody else is meant"),
    ],
)
def test_an_opening_that_proves_nothing_is_none(meters, source, room, words):
    assert words in refuse_opening(meters, source, room, "KT")


@pytest.mark.parametrize("source", [*KnownSource])
def test_a_meter_proved_on_a_known_source_opens_the_bench(source):
    assert refuse_opening((Found(meter="tb-m1"), Found(meter="tb-m2", proved=False)), source, "", "KT") is None
