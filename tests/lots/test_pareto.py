"""Faults of a lot, most frequent first, and the one that is in the design."""

from benchapp.lots.pareto import FaultOfUnit, count_faults, shared_fault

FAULTS = [
    FaultOfUnit(mark="TB-001", part="low-a-twin", mode="open"),
    FaultOfUnit(mark="TB-002", part="low-a-twin", mode="open"),
    FaultOfUnit(mark="TB-002", part="plug-fuse", mode="wrong rating"),
    FaultOfUnit(mark="TB-004", part="low-a-twin", mode="open"),
    FaultOfUnit(mark="TB-004", part="low-a-twin", mode="open"),
    FaultOfUnit(mark="TB-009", part="cord"),
]


def test_faults_are_counted_once_for_each_unit():
    rows = count_faults(FAULTS)
    assert [(one.name, one.units) for one in rows] == [
        ("low-a-twin, open", 3),
        ("cord", 1),
        ("plug-fuse, wrong rating", 1),
    ]
    assert rows[0].share == 0.6
    assert rows[-1].together == 1.0


def test_same_fault_in_three_of_the_first_five_is_in_the_design():
    marks = [f"TB-{number:03}" for number in range(1, 13)]
    assert shared_fault(marks, FAULTS) == "low-a-twin, open"
    assert shared_fault(marks, [one for one in FAULTS if one.mark != "TB-004"]) == ""
    assert shared_fault(list(reversed(marks)), FAULTS) == ""


def test_no_faults_no_rows():
    assert count_faults([]) == ()
