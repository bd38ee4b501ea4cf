"""Label sheets: the shipped ones, and files that contradict themselves."""

import pytest

from benchapp.errors import BenchError
from benchapp.files.models import build_model
from benchapp.files.reader import parse_document
from benchapp.files.shipped import shipped_folder
from benchapp.paper.problems import PaperProblem
from benchapp.paper.tags.labels import LabelSheet, read_label_sheet
from benchapp.paper.tags.sheets import tag_sheet
from tests.paper.making import make_tag

SHIPPED = sorted((shipped_folder("resources") / "labels").glob("*.yaml"))

PLAIN = """\
label sheet: trial
title: Trial
page: {width: 210, height: 297}
columns: 2
rows: 4
margins: {top: 13.1, bottom: 13.1, left: 4.65, right: 4.65}
gaps: {across: 2.5}
"""


def read(text: str) -> LabelSheet:
    return build_model(parse_document(text, "trial.yaml"), LabelSheet)


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_every_shipped_sheet_is_sound_and_named_like_its_file(path):
    assert read_label_sheet(path).label_sheet == path.stem


def test_a_label_is_what_page_margins_and_gaps_leave():
    sheet = read(PLAIN)
    assert (sheet.label_width, sheet.label_height) == pytest.approx((99.1, 67.7))
    assert sheet.per_page == 8


@pytest.mark.parametrize(("position", "place"), [(0, (4.65, 13.1)), (1, (106.25, 13.1)), (7, (106.25, 216.2))])
def test_labels_are_counted_along_the_rows(position, place):
    assert read(PLAIN).place(position) == pytest.approx(place)


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_no_label_leaves_its_page_or_overlaps_the_next(path):
    sheet = read_label_sheet(path)
    if sheet.continuous:
        assert sheet.per_page == 1
        return
    left, top = sheet.place(sheet.per_page - 1)
    assert left + sheet.label_width + sheet.margins.right == pytest.approx(sheet.page.width)
    assert top + sheet.label_height + sheet.margins.bottom == pytest.approx(sheet.page.height)


def test_margins_that_leave_no_room_are_a_complaint_with_the_sizes():
    with pytest.raises(BenchError) as caught:
        read(PLAIN.replace("left: 4.65", "left: 180"))
    assert "leave 11.4 mm × 67.7 mm for each label" in str(caught.value)
    assert "trial.yaml" in str(caught.value)


def test_a_misspelt_key_is_a_complaint_with_the_nearest_one():
    with pytest.raises(BenchError) as caught:
        read(PLAIN.replace("gaps", "gap"))
    assert "trial.yaml:7:1" in str(caught.value)
    assert "gaps" in str(caught.value)


def test_a_roll_has_one_label_at_a_time():
    with pytest.raises(BenchError, match="a roll without a page height has one row and one column"):
        read(PLAIN.replace(", height: 297", ""))


def test_an_unknown_sheet_is_refused_with_the_nearest_name():
    with pytest.raises(PaperProblem, match=r"no label sheet “rol-62”\. Did you mean “roll-62”\? Known are: a4-2"):
        read_label_sheet("rol-62")


def test_a_sheet_of_small_labels_is_for_stickers_alone():
    assert {path.stem for path in SHIPPED if not read_label_sheet(path).holds_tags} == {
        "a4-3-by-8",
        "a4-4-by-10",
        "letter-3-by-10",
        "roll-29",
    }
    with pytest.raises(PaperProblem, match=r"are 48\.5 mm × 25\.4 mm: too small for a tag, which needs at least 40 mm"):
        tag_sheet([make_tag()], read_label_sheet("a4-4-by-10"))
