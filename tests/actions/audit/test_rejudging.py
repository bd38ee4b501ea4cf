"""A history is judged again: the same by the texts it was judged by, otherwise by a sequence that changed."""

import json
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchapp.actions.audit.rejudging import judge_again, rejudge_workbook
from benchapp.actions.audit.reverify import reverify
from benchapp.actions.entries.answers import record_answer, withdraw_answer
from benchapp.actions.workbench.bench import Bench
from benchapp.cli.command import main
from benchapp.errors import BenchError, Cancelled
from benchapp.files.locations import FileProblems
from benchapp.judgement.decision.decision import decide
from benchapp.judgement.statements.band import Band
from benchapp.judgement.statements.statements import Rule
from benchapp.judgement.uncertainty.budget import plain_uncertainty
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.quantity import Bound
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.workbook.record.columns import BOUNDS, JudgedColumns
from tests.actions.conftest import SMALL
from tests.actions.driving import do_what_is_due

READINGS = {"TB-001": "6.24 ohm", "TB-002": "7.75 ohm", "TB-003": "9.1 ohm"}
REPEATED = ReadingAnswer(typed="6.3 ohm", meter="tb-m1", repeats=("6.31 ohm", "6.32 ohm"))


@pytest.fixture
def worked(bench, lot, path):
    """Three units read at every step: well inside, close to the edge, outside; one again with repeats."""
    for unit, typed in READINGS.items():
        do_what_is_due(bench, unit, answers={"coils.coil": ReadingAnswer(typed=typed, meter="tb-m1")}) if (
            unit != "TB-003"
        ) else do_what_is_due(bench, unit, until="coils.coil")
    record_answer(bench, "TB-003", "coils.coil", ReadingAnswer(typed=READINGS["TB-003"], meter="tb-m1"), by="AB")
    withdraw_answer(bench, "TB-001", by="AB")
    record_answer(bench, "TB-001", "coils.coil", REPEATED, by="AB")
    bench.close()
    return path


@pytest.fixture
def revision(tmp_path):
    """The shipped text of the coils sequence with something changed."""

    def make(before, after):
        file = tmp_path / "coils.yaml"
        text = (SMALL / "sequences" / "coils.yaml").read_text()
        assert before in text
        file.write_text(text.replace(before, after))
        return file

    return make


def judgements(path, address):
    bench = Bench.open(path)
    found = {
        (mark, entry.number): str(entry.content.judgement)
        for mark in READINGS
        for entry in bench.entries(mark)
        if entry.address == address and entry.kind == "answer"
    }
    bench.close()
    return found


def test_nothing_changes_by_the_texts_it_was_judged_by(worked):
    steps = []
    done = rejudge_workbook(worked, progress=lambda at, of: steps.append((at, of)))
    assert done.changes == ()
    assert done.readings == 9
    assert steps == [(1, 3), (2, 3), (3, 3)]


def test_a_narrower_band_changes_what_lies_between(worked, revision):
    file = revision("accept: from wiring", "accept: between 5 ohm and 7 ohm")
    done = rejudge_workbook(worked, sequence=file)
    assert [(one.unit, one.address, one.after) for one in done.changes] == [("TB-002", "coils.coil", "fail")]
    assert done.changes[0].words.startswith("7.65 ohm is outside")


def test_a_wider_band_lets_a_failed_reading_pass(worked, revision):
    file = revision("accept: from wiring", "accept: at most 20 ohm")
    changes = rejudge_workbook(worked, sequence=file).changes
    assert ("TB-003", "fail", "pass") in [(one.unit, one.before, one.after) for one in changes]


def test_a_band_by_an_earlier_reading_is_judged_one_by_one(worked, revision):
    file = revision("accept: from wiring", "accept: at most 5.9 ohm + leads")
    found = {(one.unit, one.after) for one in rejudge_workbook(worked, sequence=file).changes}
    assert found == {("TB-001", "conditional fail"), ("TB-002", "fail")}


def test_a_step_that_is_gone_is_said(worked, revision):
    file = revision("measure: coil", "measure: winding")
    changes = rejudge_workbook(worked, sequence=file).changes
    assert {one.words for one in changes} == {"This step is not there any more."}
    assert len(changes) == 4


def test_columns_and_one_by_one_agree(worked, revision):
    """The quick way is held against the engine's own, for every stored reading."""
    for accept in ("5 ohm ± 25 %", "at most 7.6 ohm", "at least 7.6 ohm", "between 6 ohm and 9 ohm"):
        file = revision("accept: from wiring", f"accept: {accept}")
        before = judgements(worked, "coils.coil")
        quick = before | {(one.unit, one.entry): one.after for one in rejudge_workbook(worked, sequence=file).changes}
        bench = Bench.open(worked)
        plan = plan_by(bench, file)
        slow = {
            (mark, number): str(reverify(plan, bench.entries(mark), number - 1).judgement) for mark, number in before
        }
        bench.close()
        assert quick == slow


def plan_by(bench, file):
    from benchapp.actions.audit.rejudging import _Revision

    run = bench.history("TB-001").run
    return _Revision(file).plan(run, bench.workbook.pinned_texts(run))


@pytest.mark.parametrize("text", ["sequence: coils\ntitle: X\n", "route: x\n", "a: [", ""])
def test_a_sequence_that_cannot_be_read_is_complained_about(worked, tmp_path, text):
    file = tmp_path / "coils.yaml"
    file.write_text(text)
    with pytest.raises(FileProblems):
        rejudge_workbook(worked, sequence=file)


def test_a_sequence_that_does_not_fit_judges_nothing(worked, revision):
    file = revision("accept: from wiring", "accept: at most 7 V")
    with pytest.raises(BenchError, match="“7 V” is a voltage; the reading is a resistance"):
        rejudge_workbook(worked, sequence=file)


def test_a_sequence_that_nothing_was_read_by_is_named_with_those_there_are(worked, revision, capsys):
    file = revision("sequence: coils", "sequence: spools")
    assert main(["rejudge", str(worked), "--sequence", str(file)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "Nothing was read by a sequence 'spools' in this workbook. It has readings of coils" in err


def test_progress_is_told_step_by_step(worked):
    told = []
    rejudge_workbook(worked, progress=lambda done, of: told.append((done, of)))
    assert told == [(number, len(told)) for number in range(1, len(told) + 1)]


def test_judging_again_can_be_stopped_and_writes_nothing(worked):
    before = worked.read_bytes()
    with pytest.raises(Cancelled, match="Judging again was stopped"):
        rejudge_workbook(worked, cancelled=lambda: True)
    assert worked.read_bytes() == before


def test_the_console_lists_what_would_change(worked, revision, capsys):
    assert main(["rejudge", str(worked)]) == 0
    assert capsys.readouterr().out == "9 readings judged again, none would change\n"
    file = revision("accept: from wiring", "accept: between 5 ohm and 7 ohm")
    assert main(["rejudge", str(worked), "--sequence", str(file)]) == 1
    assert capsys.readouterr().out.splitlines()[0].split()[:3] == ["unit", "entry", "step"]
    assert main(["rejudge", str(worked), "--sequence", str(file), "--json"]) == 1
    found = json.loads(capsys.readouterr().out)
    assert found["changes"][0].keys() == {"unit", "entry", "address", "before", "after", "words"}


@settings(max_examples=60, deadline=None)
@given(
    values=st.lists(
        st.tuples(st.floats(0.1, 30), st.sampled_from(["exact", "above", "below"])), min_size=1, max_size=20
    ),
    guarded=st.booleans(),
)
def test_any_column_is_judged_as_its_readings_are(values, guarded):
    rule = Rule.guarded if guarded else Rule.simple
    band = Band(kind=Kind.resistance, unit="ohm", lower=5.0, upper=7.0, rule=rule)
    count = len(values)
    columns = JudgedColumns(
        ids=np.arange(count, dtype=float),
        values=np.array([value for value, _ in values]),
        bounds=np.array([float(BOUNDS.index(bound)) for _, bound in values]),
        standards=np.full(count, 0.2),
        expanded=np.full(count, 0.4),
        judgements=np.zeros(count),
        flickers=np.zeros(count),
        dominants=np.full(count, np.nan),
        others=np.full(count, np.nan),
        overs=np.full(count, np.nan),
    )
    found = judge_again(columns, band, guard_factor=1.0)
    after = dict.fromkeys(range(count), "pass") | dict(zip(map(int, found.changed), found.statements, strict=True))
    known = plain_uncertainty(0.2)
    alone = {
        location: str(decide(value=value, bound=Bound(bound), band=band, uncertainty=known).judgement)
        for location, (value, bound) in enumerate(values)
    }
    one_by_one = [
        location for location, (_, bound) in enumerate(values) if bound != "exact" and alone[location] != "pass"
    ]
    assert found.unusual == one_by_one, "more than and less than: by the rules that each entry names"
    assert after == alone | dict.fromkeys(one_by_one, "pass")


def test_few_repeats_are_left_to_the_engine_where_they_would_change():
    """Their coverage factor is that of Student's t, not the one that follows from the stored shape."""
    band = Band(kind=Kind.resistance, unit="ohm", lower=5.0, upper=7.0)
    nothing = np.full(3, np.nan)
    columns = JudgedColumns(
        ids=np.arange(3.0),
        values=np.array([6.0, 6.5, 6.5]),
        bounds=np.zeros(3),
        standards=np.full(3, 0.2),
        expanded=np.array([0.906, 0.906, 0.4]),
        judgements=np.zeros(3),
        flickers=np.zeros(3),
        dominants=nothing,
        others=nothing,
        overs=nothing,
    )
    found = judge_again(columns, band, guard_factor=1.0)
    assert (found.changed, found.unusual) == ([], [1.0])
    wider = judge_again(
        replace(columns, expanded=np.array([0.906, 0.4, 0.4]), standards=np.array([0.2, 0.3, 0.2])),
        band,
        guard_factor=2.0,
    )
    assert (wider.changed, wider.unusual) == ([2.0], [0.0, 1.0])
