"""Pin cards from an equipment's wiring, read back as text."""

import pytest

from benchapp.actions import export_pin_card
from benchapp.actions.circuits import CircuitProblem
from benchapp.cli import main
from benchapp.files import shipped_folder
from tests.paper.making import all_text

EQUIPMENT = sorted(path.stem for path in (shipped_folder("resources") / "equipment").glob("*.yaml"))


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


@pytest.mark.parametrize("equipment", EQUIPMENT)
def test_every_shipped_equipment_has_its_card(tmp_path, equipment):
    assert "resistance, dead" in read_card(tmp_path, equipment)


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
