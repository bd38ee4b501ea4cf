"""The table of a tester's memory, by a description of its columns."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.errors import BenchError
from benchapp.files.locations import FileProblems
from benchapp.files.models import build_model
from benchapp.files.reader import parse_document
from benchapp.meters.problems import MeterProblem
from benchapp.meters.stored import StoredReadings, read_table

DESCRIPTION = """
stored readings: tb-it1-memory
title: Memory of the insulation and earth tester
taken with: tb-it1
separator: ;
columns: {unit: Asset, test: Test, value: Result, in: Unit, time: When}
tests: {RPE: continuity.earth, RISO: insulation.live-to-case}
over range: ['>>>']
"""
HEAD = "When;Asset;Test;Result;Unit\n"


def described(text=DESCRIPTION):
    return build_model(parse_document(text, "memory.yaml"), StoredReadings)


def read(rows, text=DESCRIPTION):
    return read_table(HEAD + rows, described(text))


def test_a_row_is_a_reading_with_itself_beside_it():
    (one,) = read("3 May 10:12;TB-001;RPE;0,05;ohm\n").readings
    assert (one.unit, one.address, one.typed, one.time) == ("TB-001", "continuity.earth", "0,05 ohm", "3 May 10:12")
    assert (one.line, one.row) == (2, "3 May 10:12;TB-001;RPE;0,05;ohm")


def test_columns_are_found_by_their_names_whatever_their_order():
    table = read_table("Result;Unit;Test;Asset;When;More\n0.05;ohm;RPE;TB-002;;x\n", described())
    assert table.readings[0].unit == "TB-002"


def test_a_unit_for_all_values_may_stand_in_the_description():
    text = DESCRIPTION.replace(", in: Unit", "") + "in: Mohm\n"
    assert read_table("Asset;Test;Result;When\nTB-001;RISO;99;x\n", described(text)).readings[0].typed == "99 Mohm"


def test_over_range_is_what_the_description_says():
    assert read(";TB-001;RISO;>>>;Mohm\n").readings[0].typed == "OL"


def test_what_is_not_described_is_passed_over_and_told_by_its_line():
    table = read(";TB-001;RPE;0.05;ohm\n\n;TB-001;FLASH;1;kV\n;;RPE;1;ohm\n;TB-003;RPE;;\n")
    assert len(table.readings) == 1
    assert table.passed_over[0].startswith("Line 4: “FLASH” is none of the tests")
    assert table.passed_over[1:] == ("Line 5 names no unit.", "Line 6 names no value.")


def test_another_table_is_told_which_column_is_missing():
    with pytest.raises(MeterProblem, match="has no column “Asset”; it has Name, Value"):
        read_table("Name;Value\n1;2\n", described())
    with pytest.raises(MeterProblem, match="it has nothing"):
        read_table("", described())


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (("separator: ;", "separator: '|'"), "separator"),
        (("taken with: tb-it1\n", ""), "taken with"),
        (("asset: ", "x"), "columns"),
        (("tests: {RPE: continuity.earth, RISO: insulation.live-to-case}", "tests: {}"), "tests"),
    ],
)
def test_a_mistake_in_a_description_is_told_at_its_place(change, words):
    text = DESCRIPTION.replace(*change) if change[0] in DESCRIPTION else DESCRIPTION.replace("unit: Asset, ", "")
    with pytest.raises(FileProblems) as caught:
        described(text)
    assert str(caught.value.complaints[0]).startswith("memory.yaml:")


@given(text=st.text(max_size=200))
def test_any_text_is_a_table_or_a_sentence(text):
    try:
        read_table(text, described())
        read_table(HEAD + text, described())
    except BenchError:
        return
