"""Windings that work against each other, or are shorted, are refused when the file is read."""

from collections.abc import Callable, Mapping

import pytest

from benchapp.files.models import build_model
from benchapp.files.reader import parse_document
from benchapp.files.shipped import shipped_folder
from benchapp.wiring.checks.compile import compile_circuit
from benchapp.wiring.model.circuit import Circuit, WiringProblem
from benchapp.wiring.model.connectors import Connector
from benchapp.wiring.model.equipment import Equipment

HEAD = """
- {winding: primary, between: [in.1, in.2], rated: 240 V supply, resistance: 0.01 ohm}
- {link: one, between: [a, out.1]}
- {link: two, between: [b, out.2]}
"""
FIRST = "- {winding: first, between: [a, b], rated: 9 V at 0.3 A off load, resistance: 1.2 ohm}\n"
SECOND = "- {winding: second, between: [a, b], rated: 9 V at 0.3 A off load, resistance: 1.2 ohm}\n"


def refusal(written: Callable[..., Circuit], parts: str) -> tuple[str, str]:
    with pytest.raises(WiringProblem) as caught:
        written(HEAD + parts)
    (problem,) = caught.value.problems
    assert problem.key == ("circuit", 3, "between")
    return problem.what, problem.expected


def test_secondaries_in_parallel_the_wrong_way_round_are_refused_with_the_current(
    written: Callable[..., Circuit],
) -> None:
    # Kirchhoff: 9 V and 9 V in series round a loop of 1.2 and 1.2 ohm drive 18 / 2.4 = 7.5 A
    what, expected = refusal(written, FIRST + SECOND.replace("[a, b]", "[b, a]"))
    assert what == "with nothing connected 7.5 A runs through the windings 'first', 'second'"
    assert expected.startswith("in parallel only windings that are alike, first ends together")


def test_unlike_secondaries_in_parallel_are_refused(written: Callable[..., Circuit]) -> None:
    what, _ = refusal(written, FIRST + SECOND.replace("9 V", "12 V"))  # 3 V over 2.4 ohm
    assert "1.2 A" in what or "1.3 A" in what  # 1.25 A


def test_like_ones_the_right_way_round_are_not(written: Callable[..., Circuit]) -> None:
    assert written(HEAD + FIRST + SECOND)


def test_a_resistor_inside_that_loads_a_winding_is_no_circulating_current(written: Callable[..., Circuit]) -> None:
    # a bleeder of 2 ohm across 9 V behind 1.2 ohm: 9 / 3.2 = 2.8 A, over a quarter of the 7.5 A into a short
    bleeder = "- {resistor: bleeder, between: [a, b], resistance: 2 ohm}\n"
    assert written(HEAD + FIRST.replace(" at 0.3 A", "") + bleeder)


def test_a_winding_with_its_ends_joined_is_refused(written: Callable[..., Circuit]) -> None:
    what, expected = refusal(written, FIRST + "- {link: short, between: [a, b]}\n")
    assert "through the winding 'first'" in what
    assert expected == "nothing that joins its ends"


def test_without_a_rated_current_a_quarter_of_what_a_short_would_drive_counts(written: Callable[..., Circuit]) -> None:
    bare = FIRST.replace(" at 0.3 A", "")
    assert written(HEAD + bare + SECOND.replace("9 V at 0.3 A", "10 V"))  # 1 V over 2.4 ohm, of 9 V over 1.2
    what, _ = refusal(written, bare + SECOND.replace("9 V at 0.3 A", "40 V"))
    assert "'first', 'second'" in what


def test_what_a_run_accepted_before_is_not_refused_afterwards(connectors: Mapping[str, Connector]) -> None:
    text = (shipped_folder("resources") / "equipment" / "tb-mu2.yaml").read_text(encoding="utf-8")
    refused = text.replace("class: II", "class: III", 1)
    assert refused != text
    equipment = build_model(parse_document(refused, "tb-mu2.yaml"), Equipment)
    with pytest.raises(WiringProblem):
        compile_circuit(equipment, connectors)
    assert compile_circuit(equipment, connectors, accepted=True).terminals
