"""What is loaded, what wins, and what a run pins."""

import pytest

from benchapp.errors import BenchError
from benchapp.files.locations import FileProblems
from benchapp.sequences.interlock.fold import fold
from benchapp.sequences.planning.catalogue import catalogue_from_texts
from benchapp.sequences.planning.plan import make_plan
from tests.people import staffed
from tests.sequences.bench import Unit, catalogue, plan_of
from tests.sequences.loaded import load_catalogue


def test_pinned_texts_make_the_same_plan():
    texts = catalogue().texts_for("mains-unit", "tb-mu1")
    pinned = make_plan(catalogue_from_texts(texts), "mains-unit", "tb-mu1", staffed())
    assert [step.address for step in pinned.steps] == [step.address for step in plan_of().steps]
    unit = Unit(plan_of())
    unit.finish()
    again = fold(pinned, unit.entries, at=unit.at)
    assert again == unit.state


def test_run_pins_what_it_uses_and_no_other_equipment():
    names = set(catalogue().texts_for("mains-unit", "tb-mu1", ("tb-m1",)))
    assert {"sequences/continuity.yaml", "sequences/make-safe.yaml", "sequences/routes/mains-unit.yaml"} <= names
    assert {"resources/equipment/tb-mu1.yaml", "resources/connectors/din-5-180.yaml"} <= names
    assert "resources/meters/tb-m1.yaml" in names
    assert not names & {"resources/equipment/tb-mu2.yaml", "resources/meters/tb-m2.yaml", "sequences/function.yaml"}


def test_workshops_own_file_wins_over_the_shipped_one(tmp_path):
    (tmp_path / "clean.yaml").write_text(
        "sequence: clean\ntitle: Our way of cleaning\nsteps:\n  - photo: after\n    say: Show it.\n"
    )
    assert load_catalogue(tmp_path).sequences["clean"].title == "Our way of cleaning"
    assert catalogue().sequences["clean"].title == "Cleaning"


def test_every_complaint_of_a_folder_comes_at_once(tmp_path):
    (tmp_path / "a.yaml").write_text("sequence: a\ntitle: A\n")
    (tmp_path / "b.yaml").write_text("caution: b\n")
    with pytest.raises(FileProblems) as found:
        load_catalogue(tmp_path)
    assert {one.location.file for one in found.value.complaints} == {f"{tmp_path}/a.yaml", f"{tmp_path}/b.yaml"}


def test_file_that_is_no_text_is_a_sentence(tmp_path):
    (tmp_path / "a.yaml").write_bytes(b"sequence: \xff\xfe")
    with pytest.raises(BenchError, match="UTF-8"):
        load_catalogue(tmp_path)


def test_unknown_route_or_equipment_is_a_sentence():
    with pytest.raises(BenchError, match="no route “nowhere”"):
        make_plan(catalogue(), "nowhere", "tb-mu1", staffed())
    with pytest.raises(BenchError, match="no equipment “tb-9”"):
        make_plan(catalogue(), "mains-unit", "tb-9", staffed())
    with pytest.raises(BenchError, match="no limits profile “mars”"):
        make_plan(catalogue(), "mains-unit", "tb-mu1", staffed(region="mars"))


@pytest.mark.parametrize("region", ["gb", "eu", "us", "au", "nz"])
def test_plans_are_made_in_every_region(region):
    plan = make_plan(catalogue(), "mains-unit", "tb-mu1", staffed(region=region))
    assert plan.facts["plug fuse"] is (region == "gb")
    state = fold(plan, (), at="2026-06-01T09:00:00+00:00")
    assert (state.steps["plug-rewire.fuse-rating"].status.value == "skipped") is (region != "gb")


def test_texts_that_are_the_same_to_the_letter_are_read_once():
    texts = dict(catalogue().texts)
    name = "sequences/clean.yaml"
    first = catalogue_from_texts(texts)
    assert catalogue_from_texts(dict(reversed(texts.items()))) is first
    other = catalogue_from_texts({**texts, name: texts[name].replace("title: ", "title: Another ", 1)})
    assert other is not first
    assert other.sequences["clean"].title == f"Another {first.sequences['clean'].title}"
    assert other.sequences["continuity"] is first.sequences["continuity"]
