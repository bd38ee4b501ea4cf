"""Equipment files written at random: mains units with every kind of part, for properties that must hold of any file."""

import random

OUT = "outlet"


def equipment_text(rng: random.Random, name: str = "made-up") -> str:
    """A whole equipment file: plug, cord, fuses, switch, selector or plain primary, windings, rectifier, barriers."""
    earthed = rng.random() < 0.6
    parts: list[str] = []
    live, neutral = _supply_side(rng, parts, earthed=earthed)
    _primary(rng, parts, live, neutral)
    outputs = _secondaries(rng, parts)
    _walls(rng, parts, earthed=earthed)
    lines = [
        f"equipment: {name}",
        "title: Made up for a test",
        f"class: {'I' if earthed else 'II'}",
        "supply: {voltage: 240 V, frequency: 50 Hz, power: 60 VA}",
        f"cord: {{length: 2 m, area: 0.75 mm², cores: {3 if earthed else 2}}}",
        "plug: rewirable",
        "connectors: {plug: gb-13a-plug, outlet: din-5-180}",
        *(["points: {case: bare metal of the case}"] if earthed else []),
        "circuit:",
        *(f"  - {part}" for part in parts),
        *(["outputs:", *(f"  - {one}" for one in outputs)] if outputs else []),
    ]
    return "\n".join(lines) + "\n"


def _supply_side(rng: random.Random, parts: list[str], *, earthed: bool) -> tuple[str, str]:
    parts.append("{fuse: plug-fuse, between: [plug.L, cord.L], rating: 3 A, place: plug}")
    parts.append("{link: cord-live, between: [cord.L, live.1], cord core: true}")
    parts.append("{link: cord-neutral, between: [plug.N, neutral.1], cord core: true}")
    if earthed:
        parts.append("{earth: cord-earth, between: [plug.E, chassis], cord core: true}")
        parts.append("{earth: bond, between: [chassis, case]}")
    live, neutral = "live.1", "neutral.1"
    if rng.random() < 0.5:
        parts.append(f"{{fuse: inside-fuse, between: [{live}, live.2], rating: 1 A}}")
        live = "live.2"
    if rng.random() < 0.5:
        parts.append(f"{{switch: power, positions: {{on: [[{live}, live.3], [{neutral}, neutral.3]], off: []}}}}")
        live, neutral = "live.3", "neutral.3"
    if rng.random() < 0.3:
        parts.append(f"{{capacitor: across-mains, between: [{live}, {neutral}], capacitance: 100 nF}}")
    if rng.random() < 0.3:
        parts.append(f"{{resistor: bleed-mains, between: [{live}, {neutral}], resistance: 470 kohm}}")
    return live, neutral


def _primary(rng: random.Random, parts: list[str], live: str, neutral: str) -> None:
    ohms = rng.choice([60, 150, 400])
    kind = rng.choice(["plain", "tapped", "halves"])
    if kind == "plain":
        parts.append(f"{{winding: primary, between: [{live}, {neutral}], rated: 240 V supply, resistance: {ohms} ohm}}")
    elif kind == "tapped":
        positions = f"240 V: [[{live}, p.240]], 220 V: [[{live}, p.220]]"
        parts.append(f"{{switch: selector, selector: true, positions: {{{positions}}}, usual: 240 V}}")
        taps = "taps: [{at: p.220, rated: 220 V supply}]"
        parts.append(
            f"{{winding: primary, between: [{neutral}, p.240], rated: 240 V supply, resistance: {ohms} ohm, {taps}}}"
        )
    else:
        positions = f"240 V: [[p.b, p.c]], 120 V: [[{live}, p.c], [p.b, {neutral}]]"
        parts.append(f"{{switch: selector, selector: true, positions: {{{positions}}}, usual: 240 V}}")
        for half, ends in (("first-half", f"{live}, p.b"), ("second-half", f"p.c, {neutral}")):
            parts.append(f"{{winding: {half}, between: [{ends}], rated: 120 V supply, resistance: {ohms / 2:g} ohm}}")


def _secondaries(rng: random.Random, parts: list[str]) -> list[str]:
    """One to three windings in a chain or apart, on their pins; perhaps a rectifier with its reservoir behind one."""
    pins = [f"{OUT}.{number}" for number in range(1, 6)]
    rng.shuffle(pins)
    nodes, outputs = ["s.0"], []
    for index in range(rng.randint(1, 2)):
        ends = [rng.choice(nodes), f"s.{index + 1}"]
        nodes.append(ends[1])
        ends = ends if rng.random() < 0.5 else ends[::-1]
        volts, ohms = rng.choice([6, 9, 12, 18]), rng.choice([0.8, 2.5, 9])
        parts.append(
            f"{{winding: secondary-{index}, between: [{', '.join(ends)}], rated: {volts} V off load, "
            f"resistance: {ohms} ohm ± 10 %}}"
        )
    for node in nodes:
        part = rng.choice(["link", "fuse"])
        rating = ", rating: 1 A" if part == "fuse" else ""
        parts.append(f"{{{part}: to-{node.replace('.', '')}, between: [{node}, {pins.pop()}]{rating}}}")
    if pins and rng.random() < 0.6:
        parts.append(f"{{diode: rectifier, between: [{nodes[-1]}, rail]}}")
        parts.append(f"{{capacitor: reservoir, between: [rail, {nodes[0]}], capacitance: 1000 µF}}")
        parts.append(f"{{resistor: bleeder, between: [rail, {nodes[0]}], resistance: 4.7 kohm}}")
        pin = pins.pop()
        parts.append(f"{{link: to-rail, between: [rail, {pin}]}}")
        outputs.append(
            f"{{output: dc, between: [{pin}, {_pin_of(parts, nodes[0])}], volts: 15 V, source: made up plate}}"
        )
    if rng.random() < 0.4:
        parts.append(f"{{resistor: damping, between: [{nodes[0]}, {nodes[-1]}], resistance: 1 kohm}}")
    return outputs


def _pin_of(parts: list[str], node: str) -> str:
    return next(p for p in parts if f"to-{node.replace('.', '')}," in p).split(", ")[2].rstrip("]}")


def _walls(rng: random.Random, parts: list[str], *, earthed: bool) -> None:
    parts.append("{barrier: mains-to-outlet, between: [live, outlet]}")
    if earthed:
        parts.append("{barrier: mains-to-case, between: [live, case]}")
        if rng.random() < 0.5:
            parts.append("{link: screen, between: [s.0, chassis]}")
        else:
            parts.append("{barrier: outlet-to-case, between: [outlet, case], at least: 1 Mohm}")
