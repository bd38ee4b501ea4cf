"""Each shipped design with one thing changed that cannot be is refused, at the line of the change."""

from collections.abc import Mapping

import pytest

from benchapp.files.locations import FileProblems
from benchapp.files.models import build_model
from benchapp.files.reader import parse_document
from benchapp.files.shipped import shipped_folder
from benchapp.wiring.checks.written_circuit import compile_written
from benchapp.wiring.model.connectors import Connector
from benchapp.wiring.model.equipment import Equipment

STRAY = "  - link: stray\n    between: [{}]\n  - winding: low\n"
EARTH_CORE = (
    "  - earth: cord-earth\n    between: [plug.E, chassis]\n    cord core: true\n    say: the earth core of the cord\n"
)
LEAD_CORE = (
    "  - earth: lead-earth\n    between: [plug.E, inlet.E]\n    cord core: true\n    say: the earth core of the lead\n"
)
BOND = "  - earth: case-bond\n    between: [inlet.E, case]\n    say: the bond from the inlet to the case\n"
FILTER = "  - capacitor: filter\n    between: [plug.L, plug.N]\n    capacitance: 100 nF\n  - winding: low\n"
METAL = (
    "  - link: to-metal\n    between: [mains.N, chassis]\n"
    "  - resistor: leak\n    between: [chassis, mains.L]\n    resistance: 1 Mohm\n  - winding: secondary\n"
)
# design, what is there, what it becomes, words of the complaint, a line that it points at
CASES = {
    "a wire from live to neutral": (
        "tb-mu1", "  - winding: low\n", STRAY.format("mains.L, mains.N"),
        "the link 'stray' joins live to neutral, a dead short of mains", "- link: stray",
    ),
    "a wire across the pins of the plug": (
        "tb-mu1", "  - winding: low\n", STRAY.format("plug.L, plug.N"),
        "'stray' joins live to neutral", "- link: stray",
    ),
    "a short when the switch is off": (
        "tb-rec1", "      off: []", "      off: [[mains.fused, inlet.N]]",
        "'power' with 'power' at off joins live to neutral", "- switch: power",
    ),
    "a short in one position of the selector": (
        "tb-rec1", "220 V: [[mains.L, primary.220]]", "220 V: [[mains.L, primary.220], [mains.L, mains.N]]",
        "'selector' with 'selector' at 220 V joins live to neutral", "- switch: selector",
    ),
    "the live core at the neutral end": (
        "tb-mu1", "between: [cord.L, mains.L]", "between: [cord.L, mains.N]",
        "the link 'cord-live' joins live to neutral", "- link: cord-live",
    ),
    "the plug's fuse in the neutral": (
        "tb-mu2", "between: [plug.L, cord.L]", "between: [plug.N, cord.L]",
        "the plug's fuse 'plug-fuse' is in the neutral conductor", "between: [plug.N, cord.L]",
    ),
    "no earth core in the cord": ("tb-mu1", EARTH_CORE, "", "no earth core begins at the earth pin", "class: I"),
    "no earth core in the lead": ("tb-rec1", LEAD_CORE, "", "no earth core begins at the earth pin", "class: I"),
    "an earth core written as a link": (
        "tb-mu1", "- earth: cord-earth", "- link: cord-earth", "'cord-earth' is the way to earth", "- link: cord-earth",
    ),
    "a bond written as a link": (
        "tb-mu1", "- earth: case-bond", "- link: case-bond", "'case-bond' is the way to earth", "- link: case-bond",
    ),
    "a live core written as earth": (
        "tb-mu1", "- link: cord-live", "- earth: cord-live",
        "the earth part 'cord-live' ends at 'cord.L', and that is live", "between: [cord.L, mains.L]",
    ),
    "an earth core at the neutral pin": (
        "tb-mu1", "between: [plug.E, chassis]", "between: [plug.N, chassis]",
        "and that is neutral", "[plug.N, chassis]",
    ),
    "an element across the pins": (
        "tb-hp1", "between: [element.L, mains.N]", "between: [plug.L, plug.N]",
        "the resistor 'element' lies on the pins of the plug", "between: [plug.L, plug.N]",
    ),
    "a capacitor across the pins": (
        "tb-mu1", "  - winding: low\n", FILTER, "the capacitor 'filter' lies on the pins", "[plug.L, plug.N]",
    ),
    "bare metal that nothing earths": (
        "tb-rec1", BOND, "", "class I with bare metal, and no earth part leads from", "bare metal: true",
    ),
    "both wires of an output on one pin": (
        "tb-mu2", "[secondary.b, output.outer]", "[secondary.b, output.inner]",
        "expected its two wires on two pins: both are on output.inner", "between: [secondary.a, secondary.b]",
    ),
    "a stated output on one pin": (
        "tb-rec1", "between: [line.3, line.2]\n    volts", "between: [line.3, line.3]\n    volts",
        "both wires of the output 'left-line' are on one pin, line.3", "between: [line.3, line.3]",
    ),
    "a chassis on the neutral that nobody speaks of": (
        "tb-mu2", "  - winding: secondary\n",
        METAL,
        "'chassis' is wired to mains by 'to-metal', and nothing says that the chassis is live", "[mains.N, chassis]",
    ),
}  # fmt: skip


def said_of(name: str, text: str, connectors: Mapping[str, Connector]) -> list[str]:
    document = parse_document(text, f"{name}.yaml")
    try:
        compile_written(build_model(document, Equipment), document, connectors)
    except FileProblems as found:
        return [str(complaint) for complaint in found.complaints]
    return []


def shipped_text(name: str) -> str:
    return (shipped_folder("resources") / "equipment" / f"{name}.yaml").read_text(encoding="utf-8")


@pytest.mark.parametrize(("name", "was", "now", "words", "at"), CASES.values(), ids=CASES)
def test_what_cannot_be_is_refused_at_its_line(
    connectors: Mapping[str, Connector], name: str, was: str, now: str, words: str, at: str
) -> None:
    shipped = shipped_text(name)
    assert shipped.count(was) == 1
    assert said_of(name, shipped, connectors) == []
    text = shipped.replace(was, now)
    lines = [number for number, line in enumerate(text.splitlines(), 1) if at in line]
    told = said_of(name, text, connectors)
    assert [one for one in told if words in one and any(f"{name}.yaml:{line}:" in one for line in lines)], told


def test_cores_that_are_crossed_are_told_at_both_ends(connectors: Mapping[str, Connector]) -> None:
    text = (
        shipped_text("tb-rec1").replace("[lead.L, inlet.L]", "[lead.L, inlet.X]").replace("inlet.N]\n", "inlet.L]\n", 1)
    )
    told = said_of("tb-rec1", text.replace("inlet.X]", "inlet.N]"), connectors)
    assert "the live conductor 'lead-live' ends at 'inlet.N', which is neutral by its name" in told[0]
    assert "the neutral conductor 'lead-neutral' ends at 'inlet.L', which is live by its name" in told[1]


BRIDGE = {"a": "[low.a, plus]", "b": "[common, plus]", "c": "[minus, low.a]", "d": "[minus, common]"}


def with_bridge(ends: Mapping[str, str]) -> str:
    parts = "".join(f"  - {{diode: bridge-{name}, between: {between}}}\n" for name, between in ends.items())
    parts += "  - {resistor: bleeder, between: [plus, minus], resistance: 4.7 kohm}\n"
    return shipped_text("tb-mu1").replace("  - barrier: mains-to-outlet\n", parts + "  - barrier: mains-to-outlet\n")


def test_a_bridge_the_right_way_round_is_taken(connectors: Mapping[str, Connector]) -> None:
    assert said_of("tb-mu1", with_bridge(BRIDGE), connectors) == []


@pytest.mark.parametrize("name", BRIDGE)
def test_the_one_turned_diode_of_a_bridge_is_named(connectors: Mapping[str, Connector], name: str) -> None:
    one, other = BRIDGE[name].strip("[]").split(", ")
    (told,) = said_of("tb-mu1", with_bridge(BRIDGE | {name: f"[{other}, {one}]"}), connectors)
    assert f"three diodes point the same way round, and 'bridge-{name}' is turned" in told


def test_four_diodes_one_way_round_are_a_ring_modulator(connectors: Mapping[str, Connector]) -> None:
    ring = {"a": "[low.a, plus]", "b": "[plus, common]", "c": "[common, minus]", "d": "[minus, low.a]"}
    assert not [one for one in said_of("tb-mu1", with_bridge(ring), connectors) if "turned" in one]
