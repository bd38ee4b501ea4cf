"""The shipped equipment compiled once, and a way to compile a circuit that a test writes."""

import textwrap
from collections.abc import Callable, Mapping

import pytest

from benchapp.files.models import build_model
from benchapp.files.reader import parse_document, read_document
from benchapp.files.shipped import shipped_folder
from benchapp.wiring.checks.compile import compile_circuit
from benchapp.wiring.model.circuit import Circuit
from benchapp.wiring.model.connectors import Connector
from benchapp.wiring.model.equipment import Equipment

HEAD = """\
equipment: written
title: Written by a test
class: {class_}
supply: {{voltage: {voltage}, power: 8 VA, at: [in.1, in.2]}}
connectors: {{in: four, out: four}}
circuit:
"""
FOUR = """\
connector: four
title: Four pins in a row
source: made up for the tests
status: made up
outline: [{shape: rectangle, width: 30, height: 10}]
pins:
  - {pin: "1", x: -9, y: 0}
  - {pin: "2", x: -3, y: 0}
  - {pin: "3", x: 3, y: 0}
  - {pin: "4", x: 9, y: 0}
"""


@pytest.fixture(scope="session")
def connectors() -> Mapping[str, Connector]:
    files = sorted((shipped_folder("resources") / "connectors").glob("*.yaml"))
    models = [build_model(read_document(path), Connector) for path in files]
    models.append(build_model(parse_document(FOUR, "four.yaml"), Connector))
    return {model.connector: model for model in models}


@pytest.fixture(scope="session")
def shipped(connectors: Mapping[str, Connector]) -> Mapping[str, Circuit]:
    files = sorted((shipped_folder("resources") / "equipment").glob("*.yaml"))
    models = [build_model(read_document(path), Equipment) for path in files]
    return {model.equipment: compile_circuit(model, connectors) for model in models}


@pytest.fixture(scope="session")
def written(connectors: Mapping[str, Connector]) -> Callable[..., Circuit]:
    """Compile parts written as YAML list items; terminals are in.1 to in.4 (supply: 1 and 2) and out.1 to out.4.

    Unless the parts have barriers of their own, one keeps the two connectors apart.
    """

    def compile_parts(parts: str, class_: str = "II", more: str = "", voltage: str = "240 V") -> Circuit:
        lines = textwrap.dedent(parts).strip()
        if "barrier:" not in lines and "out." in lines:
            lines += "\n- {barrier: apart, between: [in, out]}"
        text = HEAD.format(class_=class_, voltage=voltage) + textwrap.indent(lines, "  ") + "\n" + more
        return compile_circuit(build_model(parse_document(text, "written.yaml"), Equipment), connectors)

    return compile_parts


@pytest.fixture(scope="session")
def network(connectors: Mapping[str, Connector]) -> Callable[..., Circuit]:
    """A circuit of resistors alone, given as (node, node, ohm); every node is a touchable point."""

    def compile_edges(edges: list[tuple[int, int, float]]) -> Circuit:
        nodes = sorted({node for a, b, _ in edges for node in (a, b)})
        points = "\n".join(f"  n{node}: node {node}" for node in nodes)
        parts = "\n".join(
            f"  - {{resistor: r{index}, between: [n{a}, n{b}], resistance: {ohms!r} ohm}}"
            for index, (a, b, ohms) in enumerate(edges)
        )
        text = "equipment: net\ntitle: Net\nclass: none\nconnectors: {in: four}\n"
        text += f"points:\n{points}\ncircuit:\n{parts}\n"
        return compile_circuit(build_model(parse_document(text, "net.yaml"), Equipment), connectors)

    return compile_edges
