"""A design of 37 pins and 150 parts as files of a workshop's own, with a route of one reading."""

from pathlib import Path

PINS, PARTS = 37, 150
FIRST = "one-pair.pair"
"""the address of the one reading"""


def write_workshop(folder: Path) -> Path:
    """Write connector, equipment, sequence and route; returns the folder."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "connector.yaml").write_text(_connector(), encoding="utf-8")
    (folder / "equipment.yaml").write_text(_equipment(), encoding="utf-8")
    (folder / "sequence.yaml").write_text(_SEQUENCE, encoding="utf-8")
    (folder / "route.yaml").write_text(_ROUTE, encoding="utf-8")
    return folder


def _connector() -> str:
    rows = [
        f'  - {{pin: "{n}", x: {(n - 1) % 13 * 4 - 24}, y: {(n - 1) // 13 * 4 - 4}, width: 1, height: 1}}'
        for n in range(1, PINS + 1)
    ]
    head = """connector: rows-37
title: Socket of three rows, 37 contacts
say: socket
source: made up for a test
status: from memory
view: from the mating side
outline:
  - {shape: rectangle, x: 0, y: 0, width: 60, height: 18}
pins:
"""
    return head + "\n".join(rows) + "\n"


def go_to_the_pair(technician):
    """Take the first unit and prove the leads: the step that is due is the pair of the large network."""
    technician.take_unit("TB-001")
    technician.strike("1")
    technician.type("0.12")
    technician.strike("Enter")


def _equipment() -> str:
    """A wire to each pin but the last, and resistors in a ladder between the wires."""
    joints = [f"  - {{link: wire-{n}, between: [n.{n}, socket.{n}]}}" for n in range(1, PINS)]
    steps = [1, 2, 5, 11]
    rungs = [(n, n + step) for step in steps for n in range(1, PINS - step)][: PARTS - len(joints)]
    sizes = [47, 100, 220, 330, 680, 1000, 1500]
    resistors = [
        f"  - {{resistor: r{i}, between: [n.{a}, n.{b}], resistance: {sizes[i % len(sizes)]} ohm ± 5 %}}"
        for i, (a, b) in enumerate(rungs)
    ]
    head = "equipment: large\ntitle: Large network\nclass: none\nconnectors: {socket: rows-37}\ncircuit:\n"
    return head + "\n".join([*joints, *resistors]) + "\n"


_SEQUENCE = """sequence: one-pair
title: One pair
say: Unplugged.
steps:
  - measure: leads
    say: Touch the two probe tips together and read.
    function: resistance
    accept: at most 1 ohm
    shows: [leads proved]
  - measure: pair
    say: Pin 1 to pin 2.
    at: [socket.1, socket.2]
    function: resistance
    accept: from wiring
"""
_ROUTE = """route: large-check
title: One pair of the large network
equipment: [large]
sequences: [one-pair]
"""
