"""What each unit is: its lot says so until a run of its own is of another design."""

from collections.abc import Sequence

from benchapp.actions.workbench.bench import Bench
from benchapp.workbook.model.values import Unit


def titled(bench: Bench, units: Sequence[Unit]) -> tuple[Unit, ...]:
    """The units, each with the title of the design that its newest run is of; its id where no file describes that."""
    lots = {lot.name: lot.equipment for lot in bench.lots()}
    return tuple(unit if unit.equipment == lots.get(unit.lot) else _by_its_run(bench, unit) for unit in units)


def _by_its_run(bench: Bench, unit: Unit) -> Unit:
    design = bench.catalogue.equipment.get(unit.equipment)
    return unit._replace(title=design.title if design is not None else unit.equipment)
