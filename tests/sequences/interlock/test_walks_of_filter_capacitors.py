"""A mains filter's capacitors to earthed metal stop no sound unit, and larger ones keep the mains off it."""

import pytest

from tests.sequences.interlock.walking import CLASS_ONE, LIMITED, against, place_of
from tests.sequences.interlock.watched import Watched


def with_capacitors(capacitance):
    """The class I unit with one capacitor from each pole to its case."""
    parts = "".join(
        f"  - capacitor: filter-{pole}\n    between: [mains.{pole}, case]\n    capacitance: {capacitance}\n"
        for pole in "LN"
    )
    edit = ("resources/equipment/tb-mu1", "  - barrier: mains-to-outlet\n", f"{parts}  - barrier: mains-to-outlet\n")
    return Watched.of(place_of(CLASS_ONE, (edit,)))


def test_a_unit_with_filter_capacitors_reaches_first_power():
    unit = with_capacitors("4.7 nF ± 20 %")
    unit.go_to(LIMITED)
    assert against(unit, LIMITED) == []
    assert unit.state.due.address == LIMITED


def test_a_unit_with_large_capacitors_on_its_metal_never_does():
    unit = with_capacitors("100 nF ± 20 %")
    unit.go(lambda due: due.kind.value == "shut")
    with pytest.raises(AssertionError):
        unit.go_to(LIMITED)
    assert any(one.startswith("chassis") for one in against(unit, LIMITED))
