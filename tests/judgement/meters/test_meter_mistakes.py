"""What is wrong in a meter's record is told at the line of the range that is wrong."""

import pytest

from benchapp.files.locations import FileProblems
from benchapp.files.models import build_model
from benchapp.files.reader import parse_document
from benchapp.files.shipped import shipped_folder
from benchapp.judgement.meters.records import MeterRecord

TEXT = (shipped_folder("resources") / "meters" / "tb-m1.yaml").read_text()


@pytest.mark.parametrize(
    ("old", "new", "complaint"),
    [
        ("  DC voltage:\n", "  DC volts:\n", '16:5: "DC volts" is not known here; did you mean DC voltage?'),
        ("0.3 % + 3 counts", "0.3 % + 3 dgt", "Did you mean “0.3 % + 3 counts”?"),
        ("to: 600 mV", "to: 600", "17:14: “600” has no unit: write for example 600 mV"),
        ("to: 600 mV", "to: 600 mA", "17:9: DC voltage: the range to 600 mA"),
        ("to: 6 V", "to: 60 V", "19:14: The range to 60 V must come before the range to 60 V"),
        ("resolution: 0.1 mV", "resolution: 700 mV", "17:34: A resolution of 700 mV does not fit a range to 600 mV"),
        ("CAT III 600 V", "CAT 3 600 V", "6:12: “CAT 3 600 V” is no measurement category"),
        ("meter: tb-m1", "meter: TB M1", "did you mean tb-m1?"),
        ("calibrated: 2026-04-14", "calibrated: 14.4.2026", "7:13: "),
    ],
)
def test_a_mistake_in_a_record_is_told_at_its_place(old, new, complaint):
    assert old in TEXT
    with pytest.raises(FileProblems) as caught:
        build_model(parse_document(TEXT.replace(old, new, 1), "m.yaml"), MeterRecord)
    assert f"{complaint}" in str(caught.value.complaints[0])
