"""A stored reading can be followed from what was typed to what was decided, and comes out the same again."""

import json
import math

import pytest

from benchapp.actions.audit.following import NothingToFollow, follow_readings
from benchapp.actions.entries.answers import withdraw_answer
from benchapp.actions.entries.days import open_bench
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.papers.record_content import record_content
from benchapp.cli.command import main
from benchapp.judgement.statements.statements import RULES_VERSION
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.planning.chain_contents import MeterProof
from tests.actions.audit.test_verifying import forge
from tests.actions.driving import do_what_is_due
from tests.people import OPENED


@pytest.fixture
def worked(bench, lot, path):
    do_what_is_due(bench, "TB-001")
    withdraw_answer(bench, "TB-001", by="AB")
    bench.close()
    return path


def test_every_number_of_a_judgement_can_be_followed(worked):
    (reading,) = follow_readings(worked, "TB-001", step="coils.coil")
    assert reading["typed"]
    assert reading["meter"]["meter"] == "tb-m1"
    known, band, decision = reading["uncertainty"], reading["band"], reading["decision"]
    assert sum(row["share"] for row in known["budget"]) == pytest.approx(1.0)
    combined = math.sqrt(sum(row["contribution"] ** 2 for row in known["budget"]))  # JCGM 100, equation 10
    assert known["standard"] == pytest.approx(combined)
    assert known["expanded"] == pytest.approx(known["coverage"] * known["standard"])
    assert decision["guard_band"] == pytest.approx(decision["guard_factor"] * known["expanded"])
    assert decision["false_accept_risk"] == pytest.approx(1 - decision["false_reject_risk"])
    assert all(line["source"] for line in band["derivation"])
    assert band["lower"] < reading["value"] < band["upper"]
    assert reading["rules_version"] == RULES_VERSION
    assert len(reading["hashes"]["entry"]) == 64
    assert all(len(sha) == 64 for sha in reading["hashes"]["texts"].values())
    assert reading["differs_when_judged_again"] == []


def test_all_readings_of_a_unit_come_in_order_withdrawn_ones_too(worked):
    found = follow_readings(worked, "TB-001")
    numbers = [reading["entry"] for reading in found]
    assert numbers == sorted(numbers)
    assert [reading["withdrawn"] for reading in found][-1] is True
    json.dumps(found, allow_nan=False)


@pytest.mark.parametrize(
    ("unit", "step", "words"),
    [
        ("TB-002", None, "No reading is recorded of TB-002"),
        ("TB-001", "coils.coyl", "Did you mean coils.coil?"),
        ("TB-099", None, "TB-099"),
    ],
)
def test_where_nothing_was_read_a_sentence_says_so(worked, capsys, unit, step, words):
    assert main(["follow", str(worked), unit, *(["--step", step] if step else [])]) == 2
    assert words in capsys.readouterr().err
    if step is None and unit == "TB-002":
        with pytest.raises(NothingToFollow):
            follow_readings(worked, unit)


def test_the_console_follows_a_reading_in_words_and_in_json(worked, capsys):
    assert main(["follow", str(worked), "TB-001", "--step", "coils.coil"]) == 0
    words = capsys.readouterr().out
    for part in (
        "typed",
        "accuracy ±(",
        "expanded uncertainty",
        "risk that it is accepted wrongly",
        "JCGM 106",
        "judged again",
    ):
        assert part in words
    assert main(["follow", str(worked), "TB-001", "--step", "coils.coil", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)[0]["step"] == "coils.coil"


def test_a_reading_that_comes_out_otherwise_is_said(worked, capsys):
    (reading,) = follow_readings(worked, "TB-001", step="coils.coil")
    rows = [[*row.values()] for row in reading["uncertainty"]["budget"]]
    rows[0][1] *= 2
    forge(worked, "TB-001", "coils.coil", budget=rows)
    assert main(["follow", str(worked), "TB-001"]) == 1
    assert "budget was recorded as" in capsys.readouterr().out
    assert main(["verify", str(worked)]) == 1


def test_the_console_shows_no_more_digits_than_the_uncertainty_justifies(worked, capsys):
    """JCGM 100:2008, 7.2.6: at most two significant digits in an uncertainty."""
    main(["follow", str(worked), "TB-001", "--step", "coils.coil"])
    lines = capsys.readouterr().out.splitlines()
    for name in ("standard uncertainty", "expanded uncertainty", "guard band"):
        (line,) = (line for line in lines if line.startswith(name))
        number = line.removeprefix(name).split()[0]
        assert len(number.replace(".", "").strip("0")) <= 2, line
    assert not any("e-" in line or "e+" in line for line in lines)


def test_the_console_never_calls_a_judgement_certain(worked, capsys):
    main(["follow", str(worked), "TB-001", "--step", "coils.coil"])
    words = capsys.readouterr().out
    assert "above 99.99 %" in words
    assert "below 0.01 %" in words
    assert "rejected wrongly" not in words, "a reading that passed was not rejected"


class TestBesideSiblings:
    """Six units of a lot, the last inside its band and unlike the others."""

    @pytest.fixture
    def lot_of_six(self, bench, path):
        open_bench(bench, by="AB", meters=(MeterProof(meter="tb-m1", proved=True, lead_resistance=0.1),), **OPENED)
        marks = tuple(f"TB-{number:03}" for number in range(1, 7))
        take_in_lot(bench, name="Six", equipment="tb-ls1", route="small-check", marks=marks, by="AB")
        for mark, read in zip(marks, ("6.20", "6.22", "6.19", "6.21", "6.20", "7.30"), strict=True):
            answer = ReadingAnswer(typed=f"{read} ohm", meter="tb-m1")
            do_what_is_due(bench, mark, answers={"coils.coil": answer})
        yield path, bench
        bench.close()

    def test_are_given_to_programs_and_people(self, lot_of_six, capsys):
        path, _ = lot_of_six
        (odd,) = follow_readings(path, "TB-006", step="coils.coil")
        (even,) = follow_readings(path, "TB-001", step="coils.coil")
        assert odd["decision"]["judgement"] == even["decision"]["judgement"] == "pass"
        beside = odd["siblings"]["read"]
        assert (beside["units"], beside["worth_a_look"]) == (5, True)
        assert (beside["lowest"], beside["highest"]) == (pytest.approx(6.09), pytest.approx(6.12))
        assert even["siblings"]["read"]["worth_a_look"] is False
        assert odd["siblings"]["output_over_mains"] is None
        assert main(["follow", str(path), "TB-006", "--step", "coils.coil"]) == 0
        out = capsys.readouterr().out
        assert "unlike them, worth a look" in out
        assert "expected" in out

    def test_stand_on_the_record_sheet_as_what_is_expected_does(self, lot_of_six):
        _, bench = lot_of_six
        rows = [row for section in record_content(bench, "TB-006").sections for row in section.rows]
        assert any(", expected 6." in row.band for row in rows)
        assert any("unlike them: worth a look" in words for row in rows for words in row.siblings)

    def test_are_left_off_the_sheet_where_they_are_too_few(self, bench, lot):
        for mark in ("TB-001", "TB-002"):
            do_what_is_due(bench, mark)
        rows = [row for section in record_content(bench, "TB-001").sections for row in section.rows]
        assert not any(row.siblings for row in rows)
