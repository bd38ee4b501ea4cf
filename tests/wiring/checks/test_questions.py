"""A figure far from what the trade makes is asked about at its place, and the file still holds."""

import pytest

from benchapp.cli.command import main
from benchapp.files.shipped import shipped_folder

BOND = "  - earth: plate-bond\n    between: [chassis, plate]\n    say: the bond to the plate\n"
ASKED = {
    "a primary a thousand times too low": (
        "tb-mu1",
        "480 ohm",
        "0.48 ohm",
        "is 0.48 ohm ± 10 % right for 'primary'? At its rated current 0.0067 % of 240 V",
    ),
    "an output in mohm": ("tb-mu1", "1.2 ohm", "1.2 mohm", "is 1.2 mohm ± 15 % right for 'low'?"),
    "a reservoir in mF": (
        "tb-rec1",
        "2200 µF",
        "22 mF",
        "is “22 mF” right? It is 22 mF, and mF on an old part means µF",
    ),
    "a reservoir of farads": ("tb-rec1", "2200 µF", "2200 mF", "is 2.2 F right? Usual is 1 pF to 100 mF"),
    "an element in kohm": ("tb-hp1", "106 ohm", "106 kohm", "On 230 V it draws 500 mW, and the plate says 500 W"),
    "an element of one ohm": ("tb-hp1", "106 ohm", "1.06 ohm", "On 230 V it draws 50 kW, and the plate says 500 W"),
    "a plate in milliwatts": ("tb-hp1", "power: 500 W", "power: 50 mW", "is 50 mW right? Usual is 500 mW to"),
    "a cord in millimetres": ("tb-mu1", "length: 1.8 m", "length: 1.8 mm", "is 1.8 mm right? Usual is 300 mm to 10 m"),
    "a cord as thick as a finger": ("tb-mu1", "0.75 mm²", "75 mm²", "is 75 mm² right?"),
    "mains of 500 Hz": ("tb-mu1", "50 Hz", "500 Hz", "is 500 Hz right? Usual is 45 Hz to 65 Hz"),
    "a fuse of 500 A": ("tb-rec1", "rating: 500 mA", "rating: 500 A", "is 500 A right? Usual is 10 mA to 63 A"),
    "insulation of milliohms": ("tb-mu1", "at least: 2 Mohm", "at least: 2 mohm", "right? Usual is 100 kohm to 1 Gohm"),
    "one part of the metal without earth": ("tb-hp1", BOND, "", "is the bare metal of the plate really not earthed?"),
}


@pytest.mark.parametrize(("name", "was", "now", "words"), ASKED.values(), ids=ASKED)
def test_what_is_far_from_usual_is_asked_about_at_its_place(tmp_path, capsys, name, was, now, words):
    text = (shipped_folder("resources") / "equipment" / f"{name}.yaml").read_text(encoding="utf-8")
    assert text.count(was) == 1
    file = tmp_path / "own.yaml"
    file.write_text(text.replace(f"equipment: {name}", "equipment: own-1").replace(was, now), encoding="utf-8")
    assert main(["check", str(file)]) == 0
    told = [line for line in capsys.readouterr().out.splitlines() if words in line]
    assert len(told) == 1
    assert "own.yaml:" in told[0]


def test_nothing_is_asked_about_what_is_shipped(capsys):
    assert main(["check", str(shipped_folder("resources") / "equipment")]) == 0
    assert "?" not in capsys.readouterr().out
