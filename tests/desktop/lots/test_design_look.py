"""A design looked at from the lots and at intake: its circuit drawn, its planned readings, the points of one lit."""

from PySide6.QtWidgets import QWidget

from benchapp.actions.entries.intake import take_in_lot, take_in_units
from benchapp.actions.workbench.design_looks import look_at_design, look_at_unit_design
from benchapp.lots.listed_units import ListedUnit


def dialog_of(technician, name="design-look"):
    technician.settle()
    return technician.window.findChild(QWidget, f"{name}-dialog")


def looking(technician):
    technician.strike("F2", "Ctrl+Shift+T")
    return dialog_of(technician)


def test_the_circuit_of_the_unit_at_hand_is_drawn_with_its_planned_readings(technician):
    dialog = looking(technician)
    assert dialog.circuit.isVisible()
    assert dialog.circuit.picture().words.startswith("Circuit of Mains unit, two AC outputs")
    words = [row.words for row in dialog.rows.rows()]
    assert words[0] == "Continuity"
    assert "Earth continuity" in words
    details = {row.words: row.detail for row in dialog.rows.rows()}
    assert details["Earth continuity"].endswith("or less")
    assert "readings planned: Mains unit, whole check." in technician.reads("design-look-said")


def test_the_points_of_the_reading_at_hand_are_lit(technician):
    dialog = looking(technician)
    wanted = next(row for row, one in enumerate(dialog._readings) if one and one.terminals == ("outlet.1", "outlet.2"))
    for _ in range(wanted):
        technician.strike("Down")
        if dialog.rows.row_at_hand() == wanted:
            break
    assert dialog.circuit.picture().points == ("outlet.1", "outlet.2")
    assert "To touch: pin 1" in dialog.circuit.accessibleDescription()
    technician.strike("Esc")
    assert dialog_of(technician) is None


def test_every_design_of_a_mixed_lot_can_be_looked_at(technician):
    bench = technician.window.context.bench
    lot = bench.lots()[0].name
    unit = ListedUnit(mark="LS-1", equipment="tb-ls1", route="loudspeaker", known={}, hazards=())
    take_in_units(bench, name=lot, units=[unit], by="AB", more=True)
    technician.window.lots.refresh()
    dialog = looking(technician)
    drawn = []
    for row in range(dialog.design.count()):
        dialog.design.setCurrentIndex(row)
        technician.settle()
        drawn.append(dialog.circuit.picture().title)
    assert drawn == ["Loudspeaker with two drivers", "Mains unit, two AC outputs"]  # that of the first unit first


def test_a_design_is_looked_at_before_its_units_are_taken_in(technician):
    technician.strike("F2", "Ctrl+N")
    intake = dialog_of(technician, "new-lot")
    intake.group.choose("tb-mu2")
    technician.strike("Alt+L")
    dialog = dialog_of(technician)
    assert dialog.circuit.picture().words.startswith("Circuit of Mains unit, one AC output")


def test_a_unit_is_shown_the_design_that_its_run_pinned(technician):
    bench = technician.window.context.bench
    take_in_lot(bench, name="Pinned", equipment="tb-mu2", route="mains-unit", marks=("P-1",), by="AB")
    now, pinned = look_at_design(bench, "tb-mu2", "mains-unit"), look_at_unit_design(bench, "P-1")
    assert [one.name for one in now.readings] == [one.name for one in pinned.readings]
    assert all(one.band is not None or one.live or not one.judged for one in now.readings)
