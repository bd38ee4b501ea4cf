"""A sequence is written once: what its text says of plugs and colours is this place's."""

import pytest

from benchapp.sequences.planning.place_words import NAMES, UNKNOWN, in_words_of, words_of
from tests.people import staffed
from tests.sequences.bench import catalogue, plan_of

REGIONS = ("au", "eu", "gb", "nz", "us")


def rewiring(region):
    return plan_of(workshop=staffed(region=region)).step("plug-rewire.rewire").model.do


@pytest.mark.parametrize(
    ("region", "lines"),
    [
        ("gb", ("Live to L, beside the fuse. Its usual colour: brown (before: red).",)),
        (
            "us",
            ("Live to the brass screw. Its usual colour: black.", "Neutral to the silver screw, at the wide blade."),
        ),
        ("eu", ("Live to either outer terminal; the plug goes in both ways round.", "(before: red in Germany")),
        ("au", ("Live to A or L. Its usual colour: brown (before: red).",)),
    ],
)
def test_rewiring_names_the_terminals_and_colours_of_the_region(region, lines):
    said = " ".join(rewiring(region))
    assert all(line in said for line in lines)
    assert "{" not in said


@pytest.mark.parametrize("region", REGIONS)
def test_everywhere_cores_are_traced_by_meter_never_by_colour(region):
    traced = next(line for line in rewiring(region) if line.startswith("Trace each core"))
    assert "Traced by meter, never by colour" in traced
    assert "red was earth" in traced


@pytest.mark.parametrize("region", REGIONS)
def test_the_plug_is_asked_for_by_the_region_s_name(region):
    plan = plan_of(workshop=staffed(region=region))
    assert plan.profile.plug.say in plan.step("visual-inspection.plug").model.say


def test_a_region_that_says_nothing_of_plugs_leaves_no_brace():
    bare = catalogue().limits["gb"].model_copy(update={"plug": None, "core_colours": ()})
    step = next(one for one in catalogue().sequences["plug-rewire"].steps if getattr(one, "work", "") == "rewire")
    assert "{" not in " ".join(in_words_of(step, bare).do)
    assert words_of(bare) == UNKNOWN
    assert set(UNKNOWN) == set(NAMES)


def test_regions_without_plugs_described_are_not_offered():
    from dataclasses import replace

    every = catalogue()
    assert [one.limits for one in every.regions_offered()] == list(REGIONS)
    fewer = {name: one for name, one in every.connectors.items() if name != "us-earthed-plug"}
    bare = {**every.limits, "nz": every.limits["nz"].model_copy(update={"plug": None})}
    assert [one.limits for one in replace(every, connectors=fewer, limits=bare).regions_offered()] == ["au", "eu", "gb"]


def test_a_workshop_on_a_part_of_its_region_is_planned_by_that_mains():
    range_b = "United States, at the outlet, Range B"
    usual, other = (plan_of(workshop=staffed(region="us", mains=mains)) for mains in ("", range_b))
    assert (usual.profile.mains.title, other.profile.mains.title) == ("United States, at the outlet, Range A", range_b)
    assert (
        plan_of(workshop=staffed(region="gb", mains="Great Britain before 1995")).profile.mains.title
        != "Great Britain before 1995"
    )
