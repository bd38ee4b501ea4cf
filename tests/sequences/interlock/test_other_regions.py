"""A sound unit made for a region's mains goes all the way to its sale there, class I too."""

from dataclasses import replace

import pytest

from benchapp.files.models import build_model
from benchapp.files.reader import parse_document
from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.plan import make_plan
from benchapp.wiring.model.equipment import Equipment
from tests.people import staffed
from tests.sequences.bench import READS, Unit, catalogue
from tests.sequences.interlock.walking import ISOLATING

MADE_FOR = {"us": ("120 V", "60 Hz", "0.82 mm²", "5 ohm"), "nz": ("230 V", "50 Hz", "0.75 mm²", "18 ohm")}


def design(region):
    volts, hertz, area, ohms = MADE_FOR[region]
    plug = catalogue().limits[region].plug.connectors[0]
    text = ISOLATING.replace("240 V", volts).replace("50 Hz", hertz).replace("0.75 mm²", area)
    text = text.replace("resistance: 20 ohm", f"resistance: {ohms}").replace("gb-13a-plug", plug)
    lines = [line for line in text.splitlines() if "fuse:" not in line]
    return "\n".join(lines).replace("between: [cord.L, mains.L]", "between: [plug.L, mains.L]")


@pytest.mark.parametrize("region", MADE_FOR)
def test_a_class_i_unit_of_the_region_is_finished_and_sold(region, monkeypatch):
    model = build_model(parse_document(design(region), "isolating.yaml"), Equipment)
    every = replace(catalogue(), equipment={**catalogue().equipment, "isolating": model})
    plan = make_plan(every, "mains-item", "isolating", staffed(region=region))
    monkeypatch.setitem(READS, "live-voltage.mains", MADE_FOR[region][0])
    unit = Unit(plan)
    unit.finish()
    unit.record(EntryKind.disposition, "", "MH", disposition="for sale")
    assert plan.profile.earth_continuity is not None
    (earth,) = (entry for entry in unit.entries if entry.address.startswith("continuity.earth"))
    assert ("no figure of the United States" in earth.content.derivation[0].source) is (region == "us")
