"""A cord of the unit's own decides which pairs are probed: its cores, whether it comes off, a plug without a fuse."""

from collections.abc import Mapping

import pytest

from benchapp.wiring.assembly.lead import cores_of, parts_of_unit
from benchapp.wiring.assembly.unit import UnitSettings, circuit_of_unit, parts_set_by, settings_of
from benchapp.wiring.expected.dead import expected_resistance
from benchapp.wiring.expected.influence import parts_behind
from benchapp.wiring.model.assumptions import COUPLER, PROBE_CONTACT
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.model.modes import Mode
from benchapp.wiring.probing.coverage import undetectable_faults
from benchapp.wiring.probing.probes import Probe, ProbeKind, probe_plan

DESIGNS = ("tb-mu1", "tb-mu2", "tb-rec1", "tb-ls1")
OWN = (
    UnitSettings(detachable=True),
    UnitSettings(earth_core=False),
    UnitSettings(plug_fused=False),
    UnitSettings(detachable=True, earth_core=False, cord_length=5.0),
)


def probes(circuit: Circuit, connector: str = "plug") -> dict[tuple[ProbeKind, frozenset[str]], Probe]:
    return {(one.kind, frozenset({one.a, one.b})): one for one in probe_plan(circuit, connector)}


def of_lead(circuit: Circuit) -> dict[tuple[str, str], Probe]:
    return {(one.a, one.b): one for one in probe_plan(circuit, "plug") if one.kind is ProbeKind.lead}


def test_the_cores_of_a_lead_run_from_the_pins_of_its_plug(shipped: Mapping[str, Circuit]) -> None:
    ends = {core.part: (core.pin, core.far, core.contact) for core in cores_of(shipped["tb-mu1"])}
    assert ends == {
        "cord-live": ("plug.L", "mains.L", "live"),  # through the fuse in the plug
        "cord-neutral": ("plug.N", "mains.N", "neutral"),
        "cord-earth": ("plug.E", "chassis", "earth"),
    }
    assert [core.far for core in cores_of(shipped["tb-rec1"])] == ["inlet.L", "inlet.N", "inlet.E"]
    assert len(cores_of(shipped["tb-mu2"])) == 2
    assert cores_of(shipped["tb-ls1"]) == ()


def test_a_lead_that_comes_off_is_read_by_itself_core_by_core(shipped: Mapping[str, Circuit]) -> None:
    design = shipped["tb-mu1"]
    assert not of_lead(design)
    own = of_lead(circuit_of_unit(design, UnitSettings(detachable=True)))
    assert list(own) == [("plug.L", "mains.L"), ("plug.N", "mains.N"), ("plug.E", "chassis")]
    # IEC 60028: 58 MS/m at 20 °C; upper: 1.2 of it and 35 °C (IEC 60228 Annex B: 0.00393 per kelvin), coupler and all
    plain = 1.8 / (58e6 * 0.75e-6)
    neutral = own["plug.N", "mains.N"]
    assert neutral.band.upper == pytest.approx((plain * 1.2 + COUPLER) * (1 + 0.00393 * 15) + PROBE_CONTACT, rel=1e-6)
    assert neutral.say.startswith("One probe on the neutral pin of the mains plug")
    assert neutral.why.startswith("lead off the unit")
    assert "neutral contact at the far end of the lead" in neutral.say


def test_a_lead_of_the_design_that_comes_off_is_read_by_itself_too(shipped: Mapping[str, Circuit]) -> None:
    assert list(of_lead(shipped["tb-rec1"])) == [("plug.L", "inlet.L"), ("plug.N", "inlet.N"), ("plug.E", "inlet.E")]


def test_with_the_lead_off_nothing_of_the_unit_is_read(shipped: Mapping[str, Circuit]) -> None:
    own = circuit_of_unit(shipped["tb-mu1"], UnitSettings(detachable=True))
    off = State(open_parts=parts_of_unit(own))
    assert expected_resistance(own, "plug.L", "plug.N", state=off).upper is None
    assert parts_behind(own, "plug.L", "mains.L", state=off) == {"plug-fuse", "cord-live"}


def test_what_hides_behind_the_primary_shows_on_a_lead_by_itself(shipped: Mapping[str, Circuit]) -> None:
    design = shipped["tb-mu1"]
    lead = circuit_of_unit(design, UnitSettings(detachable=True))
    hidden = [
        {(h.fault_mode.part, h.fault_mode.mode) for h in undetectable_faults(one, State())} for one in (design, lead)
    ]
    core = ("cord-live", Mode.high_resistance)
    assert core in hidden[0]
    assert core not in hidden[1]


def test_without_an_earth_core_the_earth_probe_stays_and_says_why_it_fails(shipped: Mapping[str, Circuit]) -> None:
    design = shipped["tb-mu1"]
    own = circuit_of_unit(design, settings_of({"cord cores": 2}, design))
    pair = (ProbeKind.earth, frozenset({"plug.E", "case"}))
    before, after = probes(design)[pair], probes(own)[pair]
    assert (after.band.lower, after.band.upper) == (before.band.lower, before.band.upper)
    assert "This unit has no earth core of the cord: it must fail until it has one." in after.band.cautions
    assert not any("no earth core" in caution for caution in before.band.cautions)


def test_without_an_earth_core_the_pin_that_is_left_over_must_read_open(shipped: Mapping[str, Circuit]) -> None:
    own = circuit_of_unit(shipped["tb-mu1"], UnitSettings(earth_core=False))
    left_over = probes(own)[ProbeKind.unused, frozenset({"plug.E", "plug.L"})]
    assert left_over.band.upper is None
    assert "connected to nothing" in left_over.why


def test_two_cores_are_nothing_of_its_own_where_the_design_has_two(shipped: Mapping[str, Circuit]) -> None:
    for cores in (2, 3):
        assert settings_of({"cord cores": cores}, shipped["tb-mu2"]) == UnitSettings()
    assert settings_of({"cord cores": 3}, shipped["tb-mu1"]) == UnitSettings()


def test_a_plug_without_a_fuse_has_none_to_suspect(shipped: Mapping[str, Circuit]) -> None:
    own = circuit_of_unit(shipped["tb-mu1"], UnitSettings(plug_fused=False))
    assert own.parts["plug-fuse"].name == "link"
    assert not any("fuse in the plug" in probe.why for probe in probe_plan(own, "plug"))
    out = State(fuses_in=frozenset())
    assert expected_resistance(own, "plug.L", "plug.N", state=out).upper is not None  # nothing can be taken out


@pytest.mark.parametrize("name", DESIGNS)
@pytest.mark.parametrize("settings", OWN, ids=str)
def test_no_cord_of_a_unit_takes_away_what_guards_earth_isolation_or_unused_pins(
    shipped: Mapping[str, Circuit], name: str, settings: UnitSettings
) -> None:
    design = shipped[name]
    own = circuit_of_unit(design, settings)
    for connector in design.connectors:
        before, after = probes(design, connector), probes(own, connector)
        for (kind, pair), probe in before.items():
            if kind in (ProbeKind.earth, ProbeKind.isolation, ProbeKind.unused):
                assert (kind, pair) in after
                if kind is not ProbeKind.earth:
                    assert after[kind, pair].band.lower == pytest.approx(probe.band.lower)


def test_the_bands_of_a_design_stay_as_they_are_where_only_terminals_are_added(shipped: Mapping[str, Circuit]) -> None:
    design = shipped["tb-mu1"]
    own = circuit_of_unit(design, UnitSettings(detachable=True))
    for a, b in (("outlet.1", "outlet.2"), ("plug.L", "outlet.1"), ("outlet.2", "outlet.5")):
        assert expected_resistance(own, a, b) == expected_resistance(design, a, b)


def test_a_change_of_cores_is_read_anew_through_the_cord(shipped: Mapping[str, Circuit]) -> None:
    assert parts_set_by(shipped["tb-mu1"], "cord cores") == {"cord-live", "cord-neutral", "cord-earth"}
    assert parts_set_by(shipped["tb-mu1"], "plug fuse") == {"plug-fuse"}
