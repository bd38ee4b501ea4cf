"""A meter's record written from its data sheet: lines taken apart into ranges, read back by the record's own model."""

from datetime import date

import pytest

from benchapp.errors import BenchError
from benchapp.files.models import build_model
from benchapp.files.reader import parse_document
from benchapp.judgement.meters.data_sheet import MeterSheet, SheetLine, meter_text, ranges_of
from benchapp.judgement.meters.functions import Function, Responds
from benchapp.judgement.meters.records import MeterRecord


def line(function=Function.dc_voltage, **said):
    given = {"smallest": "600 mV", "largest": "1000 V", "resolution": "0.1 mV", "accuracy": "0.5 % + 3 counts"}
    return SheetLine(function=function, **(given | said))


def record_of(*lines, **said):
    given = {"meter": "m1", "title": "Hand meter", "kind": "hand meter", "categories": ("CAT III 600 V",)}
    dates = {"calibrated": date(2026, 4, 14), "due": date(2027, 4, 14)}
    text = meter_text(MeterSheet(lines=lines, **(given | dates | said)))
    return build_model(parse_document(text, "m1.yaml"), MeterRecord)


def test_ranges_grow_tenfold_and_end_at_the_largest_with_the_counts_of_the_first():
    ranges = record_of(line()).function(Function.dc_voltage).ranges
    assert [one.full_scale for one in ranges] == pytest.approx([0.6, 6, 60, 600, 1000])
    assert [one.count for one in ranges] == pytest.approx([1e-4, 1e-3, 1e-2, 0.1, 1])


def test_a_line_of_one_range_stays_one():
    (only,) = ranges_of(line(largest=""))
    assert (only.to, only.resolution, only.accuracy) == ("600 mV", "100 µV", "0.5 % + 3 counts")


def test_two_lines_of_one_function_stand_in_the_order_of_their_ranges():
    upper = line(smallest="1000 V", largest="", resolution="1 V", accuracy="1 % + 2 counts")
    ranges = record_of(upper, line(largest="600 V")).function(Function.dc_voltage).ranges
    assert [one.full_scale for one in ranges] == pytest.approx([0.6, 6, 60, 600, 1000])
    assert ranges[-1].accuracy_at(None).of_reading == pytest.approx(0.01)


def test_an_accuracy_of_ac_holds_at_the_frequencies_that_the_sheet_names_or_at_mains_alone():
    record = record_of(
        line(Function.ac_voltage),
        line(Function.ac_current, smallest="10 A", largest="", resolution="0.01 A", frequencies="45 Hz to 400 Hz"),
    )
    with pytest.raises(BenchError, match="states no accuracy at 100 Hz"):
        record.function(Function.ac_voltage).ranges[0].accuracy_at(100.0)
    assert record.function(Function.ac_current).ranges[0].accuracy_at(100.0).counts == 3


def test_what_a_meter_tests_with_and_how_it_responds_stand_in_its_record():
    tested = line(Function.insulation, smallest="200 Mohm", largest="", resolution="0.1 Mohm", test="250 V, 500 V")
    earth = line(Function.earth_continuity, smallest="20 ohm", largest="", resolution="0.01 ohm", test="200 mA")
    record = record_of(tested, earth, line(Function.ac_voltage), responds=Responds.average, serial='A "7", 3')
    assert [one.si for one in record.function(Function.insulation).test_voltages] == [250, 500]
    assert record.function(Function.earth_continuity).test_current.si == pytest.approx(0.2)
    assert record.function(Function.ac_voltage).responds is Responds.average
    assert record.serial == 'A "7", 3'


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"smallest": "600 ohm"}, "ohm"),
        ({"smallest": ""}, "."),
        ({"resolution": "1 V"}, "does not fit"),
        ({"largest": "6 mV"}, "below the smallest"),
        ({"largest": "100000000000000 V"}, "too far"),
        ({"accuracy": "good"}, "no part of an accuracy statement"),
    ],
)
def test_a_line_that_cannot_be_is_refused_in_a_sentence(said, words):
    with pytest.raises(BenchError, match=words):
        ranges_of(line(**said))
