"""A bench is called what the workshop calls it, and its name is an entry of its chain."""

import pytest

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.days import name_bench
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.problems import Refused
from benchapp.workbook.record.bench_identity import this_bench
from tests.people import staffed


def test_a_new_bench_has_a_name_of_its_own_until_it_is_given_one(bench, path, clock):
    assert bench.workbook.bench_name() == this_bench().name == f"Bench {this_bench().uuid[:4]}"
    assert name_bench(bench, "  By the  window ", by="SV").words == "This bench is called By the window."
    bench.close()
    assert verify_workbook(path) == ()
    with Bench.open(path, clock=clock) as again:
        assert again.workbook.bench_name() == "By the window"


def test_another_workbook_meets_the_bench_by_its_new_name(bench, path, clock):
    name_bench(bench, "By the window", by="SV")
    with Bench.create(path.with_name("other.workbook"), clock=clock, workshop=staffed()) as other:
        assert other.workbook.bench_name() == "By the window"
        assert other.workbook.bench.uuid == bench.workbook.bench.uuid


def test_the_same_name_again_records_nothing(bench, path):
    name_bench(bench, "By the window", by="SV")
    before = bench.workbook.grounds(), path.read_bytes()
    assert name_bench(bench, "By the window", by="SV").words == ""
    assert (bench.workbook.grounds(), path.read_bytes()) == before


@pytest.mark.parametrize("name", ["", "   ", "x" * 41, "By\x1bthe window"])
def test_a_name_that_nobody_could_call_is_refused(bench, name):
    with pytest.raises(Refused, match="A bench's name has one to 40 letters"):
        name_bench(bench, name, by="SV")


def test_nobody_names_no_bench(bench):
    with pytest.raises(Refused, match="Nobody's initials are given"):
        name_bench(bench, "By the window", by=" ")
