"""`benchapp check` on an equipment file: every contradiction is a complaint at file and line."""

import pytest

from benchapp.cli.command import main
from benchapp.files.shipped import shipped_folder

SOUND = """\
equipment: attic-1
title: Mains unit from the attic
class: II
supply: {voltage: 240 V, frequency: 50 Hz, power: 12 VA}
cord: {length: 2 m, area: 0.5 mm², cores: 2}
connectors: {plug: gb-13a-plug, output: din-5-180}
points: {foot: metal foot}
circuit:
  - fuse: plug-fuse
    between: [plug.L, mains.L]
    rating: 3 A
    place: plug
  - winding: primary
    between: [mains.L, plug.N]
    rated: 240 V supply
    resistance: 310 ohm
  - winding: low
    between: [output.1, output.2]
    rated: 12 V at 0.8 A on load
    regulation: 16 %
    resistance: 1.1 ohm
  - barrier: mains-to-output
    between: [plug, output]
  - barrier: mains-to-foot
    between: [plug, foot]
"""


def line_of(text: str, part: str) -> int:
    return next(number for number, line in enumerate(text.splitlines(), 1) if part in line)


def complaints(tmp_path, capsys, text: str) -> list[str]:
    file = tmp_path / "attic-1.yaml"
    file.write_text(text)
    main(["check", str(file)])
    return [line.strip() for line in capsys.readouterr().out.splitlines() if "attic-1.yaml:" in line]


def test_the_sound_file_is_good(tmp_path, capsys):
    assert complaints(tmp_path, capsys, SOUND) == []


LOOSE = """\
  - {resistor: loose, between: [x, y], resistance: 1 ohm}
  - {resistor: slack, between: [x, y], resistance: 1 ohm}
"""
CASES = [
    # what is changed, what it becomes, the line complained about (by its text), words
    ("between: [output.1, output.2]", "between: [output.1, output.22]", "output.22", "'output.22' exists nowhere"),
    ("between: [mains.L, plug.N]", "between: [mans.L, plug.N]", "mans.L", "nothing else is connected"),
    (
        "  - barrier: mains-to-output",
        LOOSE + "  - barrier: mains-to-output",
        "resistor: loose",
        "'loose' floats: no terminal reaches 'x'",
    ),
    ("    resistance: 1.1 ohm\n", "", "winding: low", "the winding 'low' has no resistance"),
    ("    resistance: 310 ohm\n", "", "winding: primary", "the winding 'primary' has no resistance"),
    ("regulation: 16 %", "regulation: 70 %", "regulation: 70 %", "stated as 70 %"),
    ("12 V at 0.8 A on load", "12 V at 4 A on load", "supply:", "the outputs together are rated 48 VA"),
    ("power: 12 VA", "power: 900 VA", "cord:", "the cord of 0.5 mm² carries 3 A, the equipment draws 3.75 A"),
    ("power: 12 VA", "power: 900 VA", "rating: 3 A", "the fuse 'plug-fuse' of 3 A is smaller than the rated current"),
    ("rating: 3 A", "rating: 13 A", "rating: 13 A", "far above the 3 A that the cord of 0.5 mm² carries"),
    (
        "  - barrier: mains-to-output",
        "  - {diode: rectifier, between: [output.1, output.3]}\n  - barrier: mains-to-output",
        "fuse: plug-fuse",
        "output.3 is fed through a diode, and no voltage is stated for it",
    ),
    (
        "  - barrier: mains-to-output",
        "  - {capacitor: coupling, between: [output.1, output.3], capacitance: 10 µF}\n  - barrier: mains-to-output",
        "capacitor: coupling",
        "no probe can judge 'output.3': no other terminal conducts to it",
    ),
    (
        "  - barrier: mains-to-output\n    between: [plug, output]\n",
        "",
        "fuse: plug-fuse",
        "no barrier keeps mains from pin 1 of the outlet",
    ),
    (
        "  - barrier: mains-to-foot\n    between: [plug, foot]\n",
        "",
        "fuse: plug-fuse",
        "no barrier keeps mains from the metal foot",
    ),
    (
        "rated: 240 V supply",
        "rated: 120 V supply",
        "rated: 120 V",
        "is for 120 V, and at 240 V supply 240 V lie across",
    ),
    ("voltage: 240 V", "voltage: 115 V", "rated: 240 V", "is for 240 V, and at 115 V supply 115 V lie across it"),
    ("class: II", "class: I", "class: I", "class I has no earth part"),
    ("class: II", "class: III", "class: III", "class III is fed with extra-low voltage, but its supply is 240 V"),
    ("class: II", "class: none", "class: none", "class none takes no mains, but its supply is 240 V"),
    ("resistance: 1.1 ohm", "resistance: 0 ohm", "resistance: 0 ohm", "the winding 'low' has no resistance at all"),
    (
        "rated: 240 V supply",
        "rated: 240 V supply\n    taps: [{at: loose-end, rated: 120 V supply}]",
        "taps:",
        "'primary' ends at 'loose-end', where nothing else is connected",
    ),
    ("cores: 2", "cores: 9", "cores: 9", "9"),
]


def test_a_misspelt_inside_node_is_told_once_at_each_end_and_not_again_at_the_pins(tmp_path, capsys):
    text = SOUND.replace(
        "  - winding: low\n    between: [output.1, output.2]", "  - winding: low\n    between: [lw.1, low.2]"
    )
    links = "  - {link: one, between: [low.1, output.1]}\n  - {link: two, between: [low.2, output.2]}\n"
    found = complaints(
        tmp_path, capsys, text.replace("  - barrier: mains-to-output", links + "  - barrier: mains-to-output")
    )
    assert [line.rpartition("did you mean ")[2] for line in found] == ["low.1?", "lw.1?"]


def test_a_value_of_another_kind_is_shown_in_the_units_of_its_kind(tmp_path, capsys):
    part = "  - {capacitor: c, between: [output.1, output.2], capacitance: 100}\n"
    (found,) = complaints(
        tmp_path, capsys, SOUND.replace("  - barrier: mains-to-output", part + "  - barrier: mains-to-output")
    )
    assert "Write for example 4.7 µF; a value is written like '480 µF', '480 µF ± 10 %'" in found


@pytest.mark.parametrize(("before", "after", "at", "words"), CASES, ids=[case[3][:50] for case in CASES])
def test_a_contradiction_is_complained_about_at_its_line(tmp_path, capsys, before, after, at, words):
    assert before in SOUND
    text = SOUND.replace(before, after, 1)
    found = complaints(tmp_path, capsys, text)
    location = f"attic-1.yaml:{line_of(text, at)}:"
    assert [line for line in found if words in line and location in line], found


AUTO = """\
  - winding: auto
    between: [mains.L, plug.N]
    rated: 240 V supply
    resistance: 40 ohm
    taps: [{at: tap, rated: 120 V supply}]
  - link: tapped
    between: [tap, output.1]
  - link: return
    between: [plug.N, output.2]
"""


def autotransformer(*more: str) -> str:
    start = SOUND[: SOUND.index("  - winding: primary")].replace("points: {foot: metal foot}\n", "")
    return start + AUTO + "".join(more)


def test_an_autotransformer_without_a_barrier_is_complained_about_at_its_output(tmp_path, capsys):
    text = autotransformer()
    (told,) = complaints(tmp_path, capsys, text)
    assert f"attic-1.yaml:{line_of(text, 'connectors:')}:" in told
    assert "output.1 conducts to mains through the winding 'auto', as in an autotransformer" in told
    assert "no barrier keeps mains from hands" in told


def test_an_autotransformer_that_says_what_keeps_mains_from_hands_is_taken(tmp_path, capsys):
    live = autotransformer().replace("class: II\n", "class: II\nlive chassis: true\n")
    assert complaints(tmp_path, capsys, live) == []
    walled = autotransformer("  - barrier: mains-to-foot\n    between: [plug, foot]\n")
    walled = walled.replace("circuit:", "points: {foot: metal foot}\ncircuit:")
    assert complaints(tmp_path, capsys, walled) == []


def test_two_halves_of_a_primary_in_series_are_rated_for_the_supply(tmp_path, capsys):
    halves = SOUND.replace(
        "  - winding: primary\n    between: [mains.L, plug.N]\n    rated: 240 V supply\n    resistance: 310 ohm\n",
        "  - {winding: half-1, between: [mains.L, middle], rated: 120 V supply, resistance: 155 ohm}\n"
        "  - {winding: half-2, between: [middle, plug.N], rated: 120 V supply, resistance: 155 ohm}\n",
    )
    assert complaints(tmp_path, capsys, halves) == []
    wrong_way = halves.replace("[middle, plug.N], rated: 120", "[plug.N, middle], rated: 120")
    (told,) = complaints(tmp_path, capsys, wrong_way)
    assert "the winding 'half-2' works against 'half-1' on the same core, and shorts the supply" in told


def test_an_output_stated_for_one_pin_does_not_vouch_for_another(tmp_path, capsys):
    two = SOUND.replace(
        "  - barrier: mains-to-output",
        "  - {diode: d3, between: [output.1, output.3]}\n  - {diode: d4, between: [output.1, output.4]}\n"
        "  - barrier: mains-to-output",
    )
    two += "outputs: [{output: dc, between: [output.3, output.2], volts: 12 V ± 5 %, source: rating plate}]\n"
    (told,) = complaints(tmp_path, capsys, two)
    assert "output.4 is fed through a diode" in told


def test_all_that_is_shipped_is_good(capsys):
    folder = shipped_folder("resources") / "equipment"
    assert main(["check", str(folder)]) == 0
