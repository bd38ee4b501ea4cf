"""Which paper a printer can be asked for."""

import pytest

from benchapp.printers.values import OwnSizes, PaperSize, Printer

A4 = PaperSize(key="A4", name="A4", width=209.9, height=297.04)  # as drivers round it to points
LETTER = PaperSize(key="Letter", name="US Letter", width=215.9, height=279.4)
OFFICE = Printer(name="office", title="Office", papers=(A4, LETTER), usual_paper="Letter")
ROLL = Printer(
    name="roll",
    title="Roll",
    papers=(PaperSize(key="w176h283", name="62 x 100 mm", width=62.09, height=99.84),),
    own_sizes=OwnSizes(least=(20, 12), most=(62.4, 1000)),
)


def test_a_paper_that_has_a_name_is_asked_for_by_it():
    assert OFFICE.paper(210, 297) is A4
    assert ROLL.paper(62, 100).key == "w176h283"


def test_other_papers_are_asked_for_by_their_size_where_the_printer_cuts_them():
    assert ROLL.paper(62, 47.123).key == "Custom.62.00x47.12mm"
    assert OFFICE.paper(62, 47) is None


@pytest.mark.parametrize(("width", "height"), [(210, 279.4), (215.9, 297), (208, 297), (148, 210)])
def test_no_paper_is_taken_for_another(width, height):
    assert OFFICE.paper(width, height) is None
    assert not OFFICE.takes(width, height)


def test_a_roll_of_any_length_needs_a_printer_that_cuts():
    assert ROLL.takes(62, None)
    assert not ROLL.takes(100, None)
    assert not OFFICE.takes(62, None)
    assert not ROLL.takes(210, 297)


def test_what_a_printer_is_set_to_is_told_apart():
    assert OFFICE.is_set_to(215.9, 279.4)
    assert not OFFICE.is_set_to(210, 297)
    assert ROLL.is_set_to(62, None), "it does not say what it is set to"
