"""Pin cards from an equipment's wiring, read back as text."""

import pytest

from benchapp.actions.papers.pin_cards import export_pin_card
from benchapp.actions.standalone.circuits import CircuitProblem
from benchapp.cli.command import main
from benchapp.files.shipped import shipped_folder
from benchapp.paper.drawing.pictures import page_count
from tests.paper.making import all_text

EQUIPMENT = sorted(path.stem for path in (shipped_folder("resources") / "equipment").glob("*.yaml"))
UNKNOWN = "unknown-mains-item"


def read_card(tmp_path, equipment, **asked):
    out = tmp_path / "card.pdf"
    done = export_pin_card(equipment, out=out, **asked)
    assert done.files == (out,)
    return " ".join(all_text(out.read_bytes()).split())


def test_the_card_says_what_is_joined_what_is_unused_and_what_should_be_read(tmp_path):
    text = read_card(tmp_path, "tb-mu1", mains="243 V")
    assert "1 and 4 are one wire" in text
    assert "5 is unused: OL to every other pin" in text
    assert "10.39 V" in text  # as `benchapp expect tb-mu1 --mains "243 V"` says
    assert "Voltages without load, at 243 V mains." in text
    assert "plug out and in sight" in text
    assert "50 mm" in text


def test_the_mains_plug_has_resistances_only_and_its_own_caution(tmp_path):
    text = read_card(tmp_path, "tb-mu1", connector="plug", mains="243 V")
    assert "Never lay probes on this connector with mains on it." in text
    assert "voltage, no load" not in text


@pytest.mark.parametrize("equipment", sorted(set(EQUIPMENT) - {UNKNOWN}))
def test_every_shipped_equipment_has_its_card(tmp_path, equipment):
    assert "resistance, dead" in read_card(tmp_path, equipment)


def test_the_card_of_a_design_that_nobody_knows_says_only_what_must_be_kept_apart(tmp_path):
    text = read_card(tmp_path, UNKNOWN)
    assert "Kept apart, OL between them: L; N; E" in text
    assert "resistance, dead" not in text


def test_a_connector_that_it_does_not_have_is_refused_and_leaves_no_file(tmp_path):
    with pytest.raises(CircuitProblem, match="has no connector 'inlet'; it has plug, outlet"):
        export_pin_card("tb-mu1", out=tmp_path / "card.pdf", connector="inlet")
    assert not (tmp_path / "card.pdf").exists()


def test_the_console_writes_the_card(tmp_path, capsys):
    out = tmp_path / "card.pdf"
    assert main(["pins", "tb-mu1", "--mains", "243 V", "--out", str(out)]) == 0
    assert str(out) in capsys.readouterr().out
    assert "10.39 V" in all_text(out.read_bytes())


def test_a_mains_voltage_that_is_none_is_refused(tmp_path, capsys):
    assert main(["pins", "tb-mu1", "--mains", "plenty", "--out", str(tmp_path / "card.pdf")]) == 2
    assert "plenty" in capsys.readouterr().err


HEAD = """\
equipment: made-up
title: Made up for a test
class: {kind}
connectors: {{{connectors}}}
"""
SUPPLIED = (
    HEAD.format(kind="II", connectors="plug: gb-13a-plug, out: din-5-180")
    + """\
supply: {voltage: 240 V, power: 20 VA}
circuit:
  - {winding: primary, between: [plug.L, plug.N], rated: 240 V supply, resistance: 150 ohm}
  - {winding: low, between: [ac.1, ac.2], rated: 12 V off load, resistance: 0.5 ohm}
  - {link: wire-1, between: [ac.1, out.1]}
  - {link: wire-3, between: [ac.2, out.3]}
  - {diode: rectifier, between: [ac.1, out.4]}
  - {barrier: apart, between: [plug, out], at least: 2 Mohm}
outputs:
  - {output: dc, between: [out.4, out.3], volts: 16 V ± 10 %, source: rating plate}
"""
)
LEAD = (
    HEAD.format(kind="none", connectors="near: din-5-180, far: din-5-180")
    + """\
circuit:
  - {link: way-1, between: [near.1, far.1]}
  - {resistor: way-2, between: [near.2, far.2], resistance: 150 ohm ± 5 %}
  - {resistor: load, between: [far.1, far.2], resistance: 10 kohm ± 5 %}
"""
)


def card_of(tmp_path, text, **asked):
    file = tmp_path / "made-up.yaml"
    file.write_text(text)
    return read_card(tmp_path, str(file), **asked)


def test_a_winding_of_half_an_ohm_is_no_wire(tmp_path):
    text = card_of(tmp_path, SUPPLIED)
    assert "are one wire" not in text
    assert "1, 3 and 4 hang together" in text  # 4 through the diode: OL one way round alone, so not kept apart
    assert "Kept apart" not in text


def test_what_the_meter_is_set_to_stands_beside_each_voltage(tmp_path):
    text = card_of(tmp_path, SUPPLIED)
    assert "1 and 3 AC voltage, no load" in text
    assert "red on 4, black on 3 DC voltage, as stated 16 V" in text
    assert "(Great Britain)" in text


def test_a_note_stands_once_below_the_readings_that_share_it(tmp_path):
    text = card_of(tmp_path, SUPPLIED)
    assert text.count("A diode lies in this path") == 1


def test_the_other_end_of_a_lead_is_on_the_card(tmp_path):
    text = card_of(tmp_path, LEAD, connector="near")
    assert "1 and pin 1 of the far resistance, dead 0.02 ohm" in text
    assert "2 and pin 2 of the far resistance, dead 150 ohm" in text
    assert "Live readings" not in text
    assert "plug" not in text


def test_a_pin_is_called_as_its_face_is_labelled(tmp_path):
    text = read_card(tmp_path, "tb-mu2")
    assert "in and out resistance, dead" in text


def test_a_card_of_an_item_without_supply_takes_no_mains(tmp_path, capsys):
    assert main(["pins", "tb-ls1", "--mains", "243 V", "--out", str(tmp_path / "card.pdf")]) == 2
    assert "has no supply, so its card has no voltages" in capsys.readouterr().err


def test_what_goes_for_every_voltage_is_said_once_and_the_card_stays_one_page(tmp_path):
    text = read_card(tmp_path, "tb-mu1")
    assert text.count("over the legal range of mains (Great Britain)") == 1
    assert "No mains reading" not in text
    assert page_count((tmp_path / "card.pdf").read_bytes()) == 1


def test_a_card_of_a_design_for_other_mains_says_so_first(tmp_path):
    text = card_of(tmp_path, SUPPLIED.replace("240 V", "120 V"))
    assert "It is made for 120 V, and mains here is 230 V, by law up to 253 V. On this mains it burns." in text
    assert "mains here is" not in card_of(tmp_path, SUPPLIED)
