"""The fuse of what draws many times its rated current when it is switched on (BS 1363-1 Table 2, by a forum's copy)."""

import pytest

from benchapp.sequences.planning.catalogue import catalogue_from_texts
from benchapp.sequences.planning.plan import make_plan
from tests.people import staffed
from tests.sequences.bench import Refused, Unit, catalogue


def unit_of(power: str, area: str = "0.75 mm²", plug: str = "rewirable", kind: str = "") -> Unit:
    """A mains unit whose maker states no fuse."""
    texts = dict(catalogue().texts)
    name = catalogue().names["equipment", "tb-mu1"]
    load = f", kind of load: {kind}" if kind else ""
    for before, after in (
        ("power: 8 VA", f"power: {power}{load}"),
        ("0.75 mm²", area),
        ("plug: rewirable", f"plug: {plug}"),
        ("    rating: 3 A\n", ""),
    ):
        assert before in texts[name]
        texts[name] = texts[name].replace(before, after, 1)
    return Unit(make_plan(catalogue_from_texts(texts), "mains-unit", "tb-mu1", staffed()))


def takes(unit: Unit, fuse: str) -> bool:
    unit.go_to("plug-rewire.fuse-rating")
    try:
        return str(unit.answer("plug-rewire.fuse-rating", unit_answer(fuse)).content.judgement) == "pass"
    except Refused:
        return False


def unit_answer(fuse: str):
    from benchapp.sequences.kinds.ask import AskAnswer

    return AskAnswer(answer=fuse)


@pytest.mark.parametrize(
    ("power", "kind", "fuse"),
    [("100 VA", "", "3 A"), ("101 VA", "", "5 A"), ("300 VA", "induction motor", "5 A"), ("701 VA", "", "13 A")],
)
def test_more_than_100_va_of_iron_takes_the_fuse_for_a_high_starting_current(power, kind, fuse):
    unit = unit_of(power, kind=kind)
    assert takes(unit, fuse)
    others = [one for one in ("3 A", "5 A", "13 A") if one != fuse]
    assert not any(takes(unit_of(power, kind=kind), one) for one in others)


def test_a_heater_of_more_than_100_va_takes_the_fuse_for_its_current():
    """500 W at 230 V draw 2.2 A, and no more when it is switched on."""
    texts = dict(catalogue().texts)
    name = catalogue().names["equipment", "tb-hp1"]
    texts[name] = texts[name].replace("    rating: 3 A\n", "", 1)

    def unit() -> Unit:
        return Unit(make_plan(catalogue_from_texts(texts), "mains-heater", "tb-hp1", staffed()))

    assert takes(unit(), "3 A")
    assert not any(takes(unit(), other) for other in ("5 A", "13 A"))


def test_a_thin_cord_takes_it_in_a_moulded_plug_alone():
    assert takes(unit_of("150 VA", area="0.5 mm²"), "3 A")
    assert not takes(unit_of("150 VA", area="0.5 mm²"), "5 A")
