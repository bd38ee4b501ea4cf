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


def test_the_same_fault_in_three_of_the_last_five_is_no_outlier():
    marks = ["TB-001", "TB-002", "TB-003", "TB-004", "TB-005"]
    found = shared_fault(marks, FAULTS)
    assert (found.name, found.units) == ("low-a-twin, open", ("TB-001", "TB-002", "TB-004"))
    assert found.others == ("TB-003", "TB-005")
    assert shared_fault([*marks, "TB-006"], FAULTS) is None
    assert shared_fault(marks, [one for one in FAULTS if one.mark != "TB-004"]) is None


def test_no_faults_no_rows():
    assert count_faults([]) == ()
