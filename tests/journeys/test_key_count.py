"""A clean unit of the mains-unit route by typed keys: counted page by page, and held at what was reached."""

from tests.desktop.windows import window_on
from tests.journeys.counting import ADDED, CountingTechnician, counted, table, work_to_the_end
from tests.journeys.shift import Shift

OWN, ADDED_KEYS = 144, 51
"""keys of a clean unit: its own, and those that the work against harm added"""


def test_a_clean_unit_takes_no_more_keys_than_were_reached(look, bench, record_property):
    with window_on(look, bench, initials="") as technician:
        shift = Shift(technician, "TB-001")
        shift.take_in(count=1)
        pages = list(work_to_the_end(CountingTechnician(technician), shift.unit))
    keys, added = counted(pages)
    record_property("keys of a clean unit", "\n".join(table(pages)))
    assert keys - added <= OWN
    assert added == ADDED_KEYS, "none of these may be merged or dropped for the figure"
    assert {(page.name, page.address) for page in pages} >= set(ADDED)
    lines = [page for page in pages if page.name in ("inspect", "work", "set-up")]
    assert all(len(page.keys) <= len(page.rows) for page in lines), "one key for a line, and none to turn the page"
