"""A state kept from the last entry is what a fold of the whole history says, whoever asks and for what."""

from dataclasses import replace

import pytest

from benchapp.actions.entries.days import open_bench
from benchapp.actions.entries.faults import record_note
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.just_recorded import MOMENTS
from benchapp.sequences.interlock.fold import fold
from benchapp.sequences.planning.chain_contents import MeterProof
from tests.actions.driving import do_what_is_due
from tests.desktop.windows import Clock, take_in
from tests.people import OPENED, staffed


@pytest.fixture
def bench(tmp_path):
    with Bench.create(tmp_path / "recorded.workbook", clock=Clock(), workshop=staffed()) as opened:
        proofs = tuple(MeterProof(meter=name, proved=True, nulled=True) for name in ("tb-m1", "tb-it1", "tb-pm1"))
        open_bench(opened, by="AB", meters=proofs, rcd_button_tested=True, **OPENED)
        take_in(opened, count=2)
        yield opened


def without_marks(state):
    """The state with its entries as they were composed: bench, rules and hash are theirs on disk alone."""
    history = {
        address: tuple(replace(one, bench="", rules="", sha256="") for one in given)
        for address, given in state.history.items()
    }
    readings = {address: replace(one, bench="", rules="", sha256="") for address, one in state.readings.items()}
    meters = {meter: replace(one, bench="", rules="", sha256="") for meter, one in state.meters.items()}
    return replace(state, history=history, readings=readings, meters=meters)


def kept(bench, unit="TB-001", **asked):
    history = bench.history(unit)
    plan = bench.plan_of(history)
    at = asked.pop("at", None) or bench.now(history)
    return bench.just_recorded.state(history, plan, at=at, **asked), fold(plan, history.entries, at=at, **asked)


def test_after_each_entry_of_a_route_it_is_what_a_fold_says(bench, monkeypatch):
    compared, other = [], {"address": "live-voltage.output"}
    keep = bench.just_recorded.keep

    def keep_and_compare(entry, state):
        keep(entry, state)
        by = ("AB", "CD", "")[len(compared) % 3]
        for asked in ({"by": by}, {"by": by, "stage": "plug"}, {"by": by} | other):
            found, folded = kept(bench, **asked)
            if found is not None:
                assert without_marks(found) == without_marks(folded)
                compared.append(found.last_entry)

    monkeypatch.setattr(bench.just_recorded, "keep", keep_and_compare)
    do_what_is_due(bench, "TB-001")
    assert len(bench.entries("TB-001")) > 60
    assert len(set(compared)) > 60


def test_what_another_window_recorded_since_is_folded(bench):
    record_note(bench, "TB-001", "a foot is missing", by="AB")
    assert kept(bench)[0] is not None
    with Bench.open(bench.path, clock=bench.clock) as other:
        record_note(other, "TB-001", "found it", by="CD")
    assert kept(bench)[0] is None


def test_a_state_older_than_moments_is_folded(bench):
    record_note(bench, "TB-001", "a foot is missing", by="AB")
    bench.clock.pass_days(MOMENTS / 86400)
    assert kept(bench)[0] is None


def test_of_another_unit_nothing_is_kept(bench):
    record_note(bench, "TB-001", "a foot is missing", by="AB")
    record_note(bench, "TB-002", "so is another", by="AB")
    assert [kept(bench, unit)[0] is None for unit in ("TB-001", "TB-002")] == [True, False]
