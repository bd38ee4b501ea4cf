"""A text that is too long is refused when it is recorded, with a sentence that says how long it may be."""

import pytest

from benchapp.actions.entries.conditions import record_fact
from benchapp.actions.entries.days import close_bench
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.entries.outcome import mark_anew, open_supervised
from benchapp.actions.workbench.problems import Refused
from benchapp.actions.workbench.text_bounds import LONGEST, refuse_long

ENORMOUS = "x" * 256_000


def test_a_text_at_its_bound_is_kept_and_one_letter_more_is_not():
    for what, most in LONGEST.items():
        name = what.replace(" ", "_")
        refuse_long(**{name: "x" * most})
        with pytest.raises(Refused, match=f"has {most + 1} characters, and at most {most} are kept"):
            refuse_long(**{name: "x" * (most + 1)})


@pytest.mark.usefixtures("lot")
@pytest.mark.parametrize(
    "ask",
    [
        lambda bench: record_fact(bench, "TB-001", {"finish": ENORMOUS}, by="AB"),
        lambda bench: record_fact(bench, "TB-001", {"finish": "worn"}, by=ENORMOUS),
        lambda bench: open_supervised(bench, "TB-001", supervisor="AB", reason=ENORMOUS),
        lambda bench: mark_anew(bench, "TB-001", ENORMOUS, by="AB"),
        lambda bench: mark_anew(bench, "TB-001", "TB-009", by="AB", why=ENORMOUS),
        lambda bench: close_bench(bench, by="AB", note=ENORMOUS),
    ],
    ids=["fact", "initials", "reason", "mark", "why", "closing"],
)
def test_an_enormous_text_is_refused_and_nothing_recorded(bench, ask):
    before = bench.workbook.units()
    with pytest.raises(Refused, match=r"are kept\. Shorten it, then record it again\."):
        ask(bench)
    assert bench.workbook.units() == before


def test_a_lot_with_an_enormous_name_note_or_mark_is_not_taken_in(bench, lot):
    given = {"name": "Shelf", "equipment": "tb-ls1", "route": "small-check", "marks": ("X-1",), "by": "AB"}
    for changed in ({"name": ENORMOUS}, {"note": ENORMOUS}, {"marks": (ENORMOUS,)}, {"by": ENORMOUS}):
        with pytest.raises(Refused, match="Shorten it"):
            take_in_lot(bench, **given | changed)
    assert len(bench.lots()) == 1
