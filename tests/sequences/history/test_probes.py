"""Which readings beside the route a search still goes by."""

import pytest

from benchapp.quantities.quantity import Bound
from benchapp.sequences.history.probes import is_probe, probe_words, standing_probes
from benchapp.sequences.planning.entries import Entry, EntryKind
from benchapp.sequences.planning.entry_contents import NoteContent, ProbedReading, WithdrawalContent

PROBED = ProbedReading(
    a="outlet.1", b="outlet.2", typed="OL", value=None, bound=Bound.above, standard_uncertainty=0.0, meter="tb-m1"
)


def entry(number, kind=EntryKind.note, content=None):
    content = content or NoteContent(words="Probed: OL between pin 1 and pin 2.", probed=PROBED)
    return Entry(number=number, uuid=str(number), kind=kind, at="2026-05-04T09:00:00Z", by="AB", content=content)


def numbers(*entries):
    return [one.number for one, _probed in standing_probes(entries)]


def test_probes_stand_in_their_order_and_remarks_are_none():
    remark = entry(2, content=NoteContent(words="a foot is missing"))
    assert numbers(entry(1), remark, entry(3)) == [1, 3]
    assert [is_probe(one) for one in (entry(1), remark)] == [True, False]


def test_a_probe_taken_back_counts_no_more():
    taken_back = entry(3, EntryKind.withdrawal, WithdrawalContent(number=1))
    assert numbers(entry(1), entry(2), taken_back) == [2]
    assert numbers(entry(2), taken_back) == [2]


@pytest.mark.parametrize("kind", [EntryKind.repair, EntryKind.opened, EntryKind.event])
def test_what_was_probed_before_the_unit_was_touched_counts_no_more(kind):
    assert numbers(entry(1), entry(2, kind), entry(3)) == [3]


def test_a_probe_is_named_by_what_was_read_and_where():
    assert probe_words(entry(1)) == "OL between pin 1 and pin 2"
