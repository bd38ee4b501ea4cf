"""A unit whose record was changed is never offered for sale; the others go on."""

import pytest

from benchapp.actions.entries.outcome import set_disposition
from benchapp.actions.workbench.problems import Refused
from tests.actions.driving import do_what_is_due
from tests.forging import without_guards

SPOIL = """
UPDATE entries SET sealed = replace(sealed, 'pass', 'fail')
WHERE number = 3 AND chain_id = (SELECT chain_id FROM units WHERE mark = 'TB-001')
"""


def test_a_unit_whose_record_does_not_hold_is_not_for_sale_and_may_be_scrapped(bench, lot, path):
    do_what_is_due(bench, "TB-001")
    do_what_is_due(bench, "TB-002")
    without_guards(path, lambda connection: connection.execute(SPOIL))
    with pytest.raises(Refused, match=r"TB-001 is not for sale: its record does not hold\. Entry 3 of TB-001"):
        set_disposition(bench, "TB-001", "for sale", by="CD")
    set_disposition(bench, "TB-001", "hold", by="CD")
    set_disposition(bench, "TB-002", "for sale", by="CD")
    assert [bench.unit(mark).disposition for mark in ("TB-001", "TB-002")] == ["hold", "for sale"]
