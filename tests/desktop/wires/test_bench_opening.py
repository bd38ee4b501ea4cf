"""The bench opening with a meter on a wire: its leads and what it reads of the known source, by one key each."""

import pytest

from benchapp.actions.workbench.bench import Bench
from benchapp.desktop.opening_dialog import OpeningDialog
from benchapp.sequences.language.vocabulary import ReadingSource
from tests.desktop.windows import window_on
from tests.desktop.wires.test_reading_page import (
    KEYBOARD,
    PRIMARY,
    WIRE,
    at_step,
    burst,
    meter,
    own_meter,
    probes,
    ready_at,
    until,
    wait,
)
from tests.people import staffed

__all__ = ["at_step", "meter", "probes"]
KNOWN = {"VOLT:DC": 9.02, "RES": 0.0}


@pytest.fixture
def opening(at_step, probes):
    """The page of the bench opening; the probes give ohms of the leads tips together, and a battery's volts."""
    probes.gives = lambda function, _a, _b: KNOWN[function]
    probes.leads = 0.12
    technician = at_step(PRIMARY)
    technician.strike("F8")
    assert technician.page.name == "opening"
    return technician


def strip_of(technician):
    return technician.page.form.wire.strip


def proof_of(technician):
    technician.strike("Ctrl+Enter")
    return next(one for one in technician.window.context.bench.opening().meters if one.meter == "tb-m1")


def shows(technician, *ends):
    until(technician, lambda: strip_of(technician).shows.text().endswith(ends))


def at_leads(technician, meter):
    """The keyboard in the field of the leads, the meter turned to ohms by hand, tips together."""
    technician.tab_to("opening-leads-tb-m1")
    meter.function = "RES"
    technician.retype("")
    shows(technician, " ohm", "OL")


def test_the_leads_are_taken_by_one_key_and_say_where_they_come_from(opening, meter, probes):
    probes.touch("tips", "tips")
    technician = opening
    at_leads(technician, meter)
    technician.strike("+")
    assert technician.page.form.wire.strip.isVisibleTo(technician.page)
    proof = proof_of(technician)
    assert proof.lead_resistance == pytest.approx(0.12, abs=0.01)
    assert proof.leads_source is ReadingSource.wire
    assert float(proof.leads_sent) == pytest.approx(proof.lead_resistance, abs=1e-3)


def test_nothing_is_taken_by_itself_at_the_opening(opening, meter, probes):
    at_leads(opening, meter)
    probes.touch("tips", "tips")
    wait(opening, 2.0)
    assert opening.at_keyboard().text() == ""
    assert "it proves the leads" in strip_of(opening).says.text()
    assert not strip_of(opening).by_itself.isVisible()


def test_what_a_person_typed_stays_and_is_typed(opening, meter, probes):
    probes.touch("tips", "tips")
    at_leads(opening, meter)
    opening.retype("0.2")
    opening.strike("+")
    proof = proof_of(opening)
    assert (proof.lead_resistance, proof.leads_source, proof.leads_sent) == (0.2, ReadingSource.keys, "")


def test_a_meter_is_never_turned_to_ohms_from_afar_at_the_opening(opening, meter):
    """Its probes may still be on the proving unit."""
    meter.function = "VOLT:DC"
    opening.tab_to("opening-leads-tb-m1")
    until(opening, lambda: "stands on DC voltage" in strip_of(opening).problem.text())
    wait(opening, 1.5)
    assert meter.function == "VOLT:DC"
    assert not [one for one in meter.heard if one.endswith("RESISTANCE") and "CONF" in one.upper()][1:]


def test_broken_leads_are_refused_as_typed_ones_are(opening, meter, probes):
    at_leads(opening, meter)
    opening.strike("+")
    opening.strike("Ctrl+Enter")
    assert "are broken" in opening.complaint


def test_what_the_meter_reads_of_the_known_source_proves_it(opening, meter, probes):
    opening.tab_to("opening-proved-tb-m1")
    probes.touch("battery", "battery of 9 V")
    shows(opening, " V")
    until(opening, lambda: "9.0" in strip_of(opening).shows.text())
    box = opening.at_keyboard()
    box.setChecked(False)
    opening.strike("+")
    assert box.isChecked()
    proof = proof_of(opening)
    assert proof.known_reading == pytest.approx(9.02, abs=0.01)
    assert float(proof.known_sent) == pytest.approx(proof.known_reading, abs=0.01)


def test_what_it_read_of_the_source_in_the_morning_is_not_said_of_the_evening(opening, probes):
    opening.tab_to("opening-proved-tb-m1")
    probes.touch("battery", "battery of 9 V")
    until(opening, lambda: "9.0" in strip_of(opening).shows.text())
    opening.at_keyboard().setChecked(False)
    opening.strike("+")
    assert proof_of(opening).known_reading is not None
    opening.strike("F8")
    opening.page.close_day.click()
    opening.settle()
    (closed,) = [one for one in opening.window.context.bench.closing().closing if one.meter == "tb-m1"]
    assert (closed.proved, closed.known_reading, closed.known_sent) == (True, None, "")


def test_lifted_probes_prove_no_meter(opening):
    opening.tab_to("opening-proved-tb-m1")
    box = opening.at_keyboard()
    box.setChecked(False)
    shows(opening, "V")
    opening.strike("+")
    assert not box.isChecked()
    assert "shows no known source" in strip_of(opening).says.text()


def test_a_tick_by_hand_carries_no_reading(opening, probes):
    opening.tab_to("opening-proved-tb-m1")
    probes.touch("battery", "battery of 9 V")
    until(opening, lambda: "9.0" in strip_of(opening).shows.text())
    opening.at_keyboard().setChecked(False)
    opening.strike("+", "Space", "Space")
    proof = proof_of(opening)
    assert (proof.proved, proof.known_reading, proof.known_sent) == (True, None, "")


def test_a_meter_without_a_wire_is_not_read(opening, meter):
    opening.tab_to("opening-leads-tb-m1")
    assert strip_of(opening).watches
    opening.tab_to("opening-leads-tb-it1")
    assert not strip_of(opening).watches
    opening.retype("+")
    assert opening.at_keyboard().text() == "+"


def test_the_page_behind_the_opening_reads_its_own_meter_again(opening, meter, probes):
    opening.tab_to("opening-leads-tb-m1")
    opening.strike("Esc")
    assert opening.address == PRIMARY
    meter.function = "RES"
    ready_at(opening)


def test_what_was_looked_at_and_not_recorded_comes_back_that_day_as_typed(opening, meter, probes, clock):
    probes.touch("tips", "tips")
    at_leads(opening, meter)
    opening.strike("+")
    text = opening.at_keyboard().text()
    opening.strike("Esc", "F8")
    proof = next(one for one in opening.page.form.proofs() if one.meter == "tb-m1")
    assert (f"{proof.lead_resistance}" in text, proof.leads_source) == (True, ReadingSource.keys)
    opening.strike("Esc")
    clock.pass_days(1)
    opening.strike("F8")
    assert all(proof.lead_resistance is None for proof in opening.page.form.proofs())


def test_leads_by_wire_stay_by_wire_where_the_bench_is_opened_again(opening, meter, probes):
    probes.touch("tips", "tips")
    at_leads(opening, meter)
    opening.strike("+")
    first = proof_of(opening)
    opening.strike("F8")
    assert proof_of(opening) == first


def test_a_meter_that_types_its_readings_types_its_leads(at_step):
    technician = at_step(PRIMARY, KEYBOARD)
    technician.strike("F8")
    technician.tab_to("opening-leads-tb-m1")
    technician.retype("")
    for text, words in (("9.02 V", "is no reading of"), ("0.14", "with its unit")):
        wait(technician, 0.2)  # until then whatever comes is still the burst before
        burst(technician, text)
        until(technician, lambda said=words: said in technician.complaint)
        assert technician.at_keyboard().text() == ""
    wait(technician, 0.2)
    burst(technician, "0.14 ohm")
    until(technician, lambda: technician.at_keyboard().text() == "0.14 ohm")
    wait(technician, 0.2)
    proof = proof_of(technician)
    assert (proof.lead_resistance, proof.leads_source) == (0.14, ReadingSource.keyboard)


def test_before_there_is_a_unit_the_dialog_takes_it_too(look, path, clock, tmp_path, meter, probes):
    own_meter(tmp_path, WIRE.format(port=meter.port))
    probes.touch("tips", "tips")
    with window_on(look, Bench.create(path, clock=clock, workshop=staffed())) as technician:
        technician.strike("F8")
        dialog = technician.window.findChild(OpeningDialog)
        until(technician, lambda: dialog.form.has_meters)
        technician.tab_to("opening-leads-tb-m1")
        meter.function = "RES"
        until(technician, lambda: dialog.form.wire.strip.shows.text().endswith(" ohm"))
        technician.strike("+")
        (proof,) = [one for one in dialog.form.proofs() if one.meter == "tb-m1"]
        assert proof.leads_source is ReadingSource.wire
        technician.strike("Esc")
        assert not dialog.form.wire.strip.watches
