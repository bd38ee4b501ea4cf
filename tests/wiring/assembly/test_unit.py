"""The circuit of one unit: its own cord, plug fuse, coupler and selector over the design's."""

from collections.abc import Mapping

import pytest

from benchapp.judgement.acceptance.acceptance import KnownQuantity
from benchapp.wiring.assembly.unit import UnitSettings, circuit_of_unit, parts_set_by, settings_of
from benchapp.wiring.expected.dead import expected_resistance
from benchapp.wiring.expected.influence import parts_behind
from benchapp.wiring.expected.live import expected_voltage
from benchapp.wiring.faults.weights import shipped_fault_weights
from benchapp.wiring.model.circuit import Circuit, WiringProblem
from benchapp.wiring.probing.probes import probe_plan
from benchapp.wiring.search.diagnoser import Diagnoser
from benchapp.wiring.search.observations import read_observation


def test_a_unit_as_designed_has_the_designs_own_circuit(shipped: Mapping[str, Circuit]) -> None:
    for circuit in shipped.values():
        assert circuit_of_unit(circuit, UnitSettings()) is circuit


def test_a_longer_and_thinner_cord_raises_the_earth_path_by_its_own_copper(shipped: Mapping[str, Circuit]) -> None:
    design = shipped["tb-mu1"]
    own = circuit_of_unit(design, UnitSettings(cord_length=5.0, cord_area=0.5e-6))
    before, after = (expected_resistance(circuit, "plug.E", "case") for circuit in (design, own))
    # IEC 60028: 58 MS/m at 20 °C, so R = length / (58e6 × area)
    core = {circuit: length / (58e6 * area) for circuit, length, area in (("design", 1.8, 0.75e-6), ("own", 5, 0.5e-6))}
    assert before.expected is not None
    assert after.expected is not None
    assert after.expected - before.expected == pytest.approx(core["own"] - core["design"], rel=1e-9)
    assert after.upper > before.upper
    line = next(line for line in after.derivation if "earth core" in line.what)
    assert (line.value, line.source) == ("this unit's core of 5 m × 0.5 mm²", "this unit's own facts")


def test_live_and_neutral_run_through_the_same_cord(shipped: Mapping[str, Circuit]) -> None:
    design = shipped["tb-mu1"]
    own = circuit_of_unit(design, UnitSettings(cord_length=20.0))
    before, after = (expected_resistance(circuit, "plug.L", "plug.N").expected for circuit in (design, own))
    assert after - before == pytest.approx(2 * (20.0 - 1.8) / (58e6 * 0.75e-6), rel=1e-6)


def test_a_smaller_fuse_in_the_plug_has_the_higher_cold_resistance(shipped: Mapping[str, Circuit]) -> None:
    design = shipped["tb-mu1"]
    own = circuit_of_unit(design, UnitSettings(plug_fuse=1.0))
    before, after = (expected_resistance(circuit, "plug.L", "plug.N").expected for circuit in (design, own))
    # about 0.1 V across a cold link at its rating; common practice, no source
    assert after - before == pytest.approx(0.1 / 1.0 - 0.1 / 3.0, rel=1e-6)


def test_a_lead_that_unplugs_adds_the_contacts_of_its_coupler(shipped: Mapping[str, Circuit]) -> None:
    design = shipped["tb-mu1"]
    own = circuit_of_unit(design, settings_of({"detachable lead": True}, design))
    assert expected_resistance(own, "plug.E", "case").upper > expected_resistance(design, "plug.E", "case").upper
    known = shipped["tb-rec1"]
    assert settings_of({"detachable lead": True}, known) == UnitSettings()


@pytest.mark.parametrize("said", ["220 V", "220", "220V"])
def test_a_selector_set_to_another_tap_moves_ohms_and_volts_of_that_unit(
    shipped: Mapping[str, Circuit], said: str
) -> None:
    design = shipped["tb-rec1"]
    own = circuit_of_unit(design, settings_of({"selector setting": said}, design))
    ohms = [expected_resistance(circuit, "inlet.L", "inlet.N").expected for circuit in (design, own)]
    # the tap takes 220/240 of the turns and of their copper, of a primary of 52 ohm in the file
    assert ohms[0] - ohms[1] == pytest.approx(52 * (1 - 220 / 240), rel=1e-6)


def test_a_tap_for_less_than_the_mains_raises_the_output_by_the_ratio_of_turns(written) -> None:
    design = written(
        """
        - {switch: taps, positions: {240 V: [[in.1, p.240]], 220 V: [[in.1, p.220]]}, usual: 240 V, selector: true}
        - {winding: primary, between: [in.2, p.240], rated: 240 V supply, resistance: 400 ohm,
           taps: [{at: p.220, rated: 220 V supply}]}
        - {winding: low, between: [out.1, out.2], rated: 9 V off load, resistance: 1.2 ohm}
        - {barrier: wall, between: [in, out]}
        """
    )
    own = circuit_of_unit(design, UnitSettings(selector="220 V"))
    mains = KnownQuantity(value_si=240.0, what="mains", source="made up")
    volts = [expected_voltage(c, "out.1", "out.2", mains=mains).expected for c in (design, own)]
    assert volts[1] / volts[0] == pytest.approx(240 / 220, rel=1e-4)


def test_a_selector_position_that_does_not_exist_is_a_sentence(shipped: Mapping[str, Circuit]) -> None:
    with pytest.raises(WiringProblem, match="no selector position '110 V'; expected one of 240 V, 220 V"):
        circuit_of_unit(shipped["tb-rec1"], UnitSettings(selector="110 V"))
    with pytest.raises(WiringProblem, match="it has no voltage selector"):
        circuit_of_unit(shipped["tb-mu1"], UnitSettings(selector="110 V"))


def test_facts_that_say_what_the_design_says_or_nothing_usable_change_nothing(shipped: Mapping[str, Circuit]) -> None:
    design = shipped["tb-rec1"]
    same = {"cord length": 2.0, "cord area": 0.75e-6, "plug fuse rating": 3.0, "selector setting": "240 V"}
    odd = {"cord length": "long", "cord area": True, "plug fuse rating": -1.0, "selector setting": "off"}
    assert settings_of(same, design) == settings_of(odd, design) == settings_of({}, design) == UnitSettings()


def test_the_plan_of_a_unit_bands_its_probes_by_its_own_cord(shipped: Mapping[str, Circuit]) -> None:
    design = shipped["tb-mu1"]
    own = circuit_of_unit(design, UnitSettings(cord_length=20.0, cord_area=0.5e-6))
    bands = [{p.id: p.band for p in probe_plan(circuit, "plug")}["plug.E-case"] for circuit in (design, own)]
    assert bands[1].upper > bands[0].upper + 0.5


def test_the_search_weighs_a_reading_by_the_units_own_cord(shipped: Mapping[str, Circuit]) -> None:
    design = shipped["tb-mu1"]
    own = circuit_of_unit(design, UnitSettings(cord_length=100.0, cord_area=0.5e-6))
    shares = []
    for circuit in (design, own):
        found = Diagnoser(circuit, shipped_fault_weights()).diagnosis(
            [read_observation("plug.E,case=3.6 ohm", circuit)]
        )
        shares.append({suspect.part: suspect.share for suspect in found.suspects}.get("", 0.0))
    assert shares[0] < 0.01 < shares[1]  # nothing wrong: 100 m of thin cord have 3.4 ohm


def test_what_a_fact_speaks_of_is_what_is_read_anew(shipped: Mapping[str, Circuit]) -> None:
    design = shipped["tb-rec1"]
    assert parts_set_by(design, "cord area") == {"lead-live", "lead-neutral", "lead-earth"}
    assert parts_set_by(design, "plug fuse rating") == {"plug-fuse"}
    assert parts_set_by(design, "selector setting") == {"selector"}
    assert parts_set_by(design, "bare metal") == frozenset()


def test_retest_counts_the_parts_of_every_position_that_a_unit_may_stand_in(written) -> None:
    design = written(
        """
        - {switch: choice, positions: {a: [[in.1, x]], b: [[in.1, y]]}, usual: a, selector: true}
        - {resistor: of-a, between: [x, in.2], resistance: 100 ohm}
        - {resistor: of-b, between: [y, in.2], resistance: 200 ohm}
        - {link: spare, between: [out.1, out.2]}
        - {barrier: wall, between: [in, out]}
        """
    )
    assert {"of-a", "of-b", "choice"} <= parts_behind(design, "in.1", "in.2")
