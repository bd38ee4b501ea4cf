"""A workshop with a route of one photo step, for loudspeakers."""

from benchapp.actions.entries.days import open_bench
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.workbench.bench import Bench
from benchapp.workbook.model.values import MeterProof
from tests.actions.conftest import Clock
from tests.people import OPENED, staffed

SEQUENCE = """
sequence: pictures
title: Pictures
steps:
  - photo: front
    say: Photograph the front.
    at least: 2
"""
ROUTE = """
route: pictures-check
title: Pictures alone
equipment: [tb-ls1]
sequences: [pictures]
not tested: [Sound at full power]
"""
FRONT = "pictures.front"


def photo_bench(folder, name="tarnbeck.workbook", **more):
    """A workbook with two units that want two photos each, its bench open."""
    own = folder / "own" / "sequences"
    own.mkdir(parents=True, exist_ok=True)
    (own / "pictures.yaml").write_text(SEQUENCE)
    (own / "pictures-check.yaml").write_text(ROUTE)
    more.setdefault("workshop", staffed(people=()))
    bench = Bench.create(folder / name, folders=(own.parent,), clock=Clock(), **more)
    open_bench(bench, by="AB", meters=(MeterProof(meter="tb-m1", proved=True, lead_resistance=0.1),), **OPENED)
    marks = ("TB-001", "TB-002")
    take_in_lot(bench, name="Tarnbeck hall", equipment="tb-ls1", route="pictures-check", marks=marks, by="AB")
    return bench
