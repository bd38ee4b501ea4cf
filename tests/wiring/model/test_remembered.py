"""What was asked of a circuit is kept with that circuit, and serves no other."""

from dataclasses import replace

import pytest

from benchapp.files.models import build_model
from benchapp.files.reader import parse_document, read_text
from benchapp.files.shipped import shipped_folder
from benchapp.wiring.checks.compile import compile_circuit
from benchapp.wiring.expected.influence import parts_behind
from benchapp.wiring.model import remembered as remembering
from benchapp.wiring.model.circuit import State, WiringProblem
from benchapp.wiring.model.equipment import Equipment
from benchapp.wiring.model.remembered import remembered


def read_again():
    path = shipped_folder("resources") / "equipment" / "tb-mu1.yaml"
    return build_model(parse_document(read_text(path), path.name), Equipment)


@pytest.fixture
def circuit(connectors):
    return compile_circuit(read_again(), connectors)


def test_one_design_is_one_circuit_and_a_design_that_was_read_again_is_another(connectors):
    design = read_again()
    circuit = compile_circuit(design, connectors)
    assert compile_circuit(design, dict(connectors)) is circuit
    again = compile_circuit(read_again(), connectors)
    assert again == circuit
    assert again is not circuit


def test_another_connector_of_the_same_name_makes_another_circuit(connectors):
    design = read_again()
    name = next(iter(design.connectors.values()))
    retitled = {**connectors, name: connectors[name].model_copy(update={"title": "Another"})}
    assert compile_circuit(design, retitled) != compile_circuit(design, connectors)


def test_a_question_is_answered_once_for_each_circuit_and_all_that_it_is_asked_with(circuit):
    asked = []

    @remembered
    def ask(of, a, *, state=None):
        asked.append((of, a, state))
        return len(asked)

    other = replace(circuit, title="Another")
    for _ in range(2):
        answers = [ask(circuit, "x"), ask(circuit, "y"), ask(circuit, "x", state=State()), ask(other, "x")]
        assert answers == [1, 2, 3, 4]


def test_a_circuit_made_from_another_begins_with_nothing_worked_out(circuit):
    ends = ("plug.L", "plug.N")
    behind = parts_behind(circuit, *ends)
    assert behind
    assert circuit.worked_out
    cut = replace(circuit, branches=tuple(one for one in circuit.branches if one.part != "primary"))
    assert not cut.worked_out
    assert "primary" in behind
    assert "primary" not in parts_behind(cut, *ends)


def test_a_question_that_has_no_answer_is_refused_each_time(circuit):
    for _ in range(2):
        with pytest.raises(WiringProblem, match="there is no terminal 'nowhere'"):
            parts_behind(circuit, "nowhere", "plug.N")


def test_no_more_is_kept_than_may_be(circuit, monkeypatch):
    monkeypatch.setattr(remembering, "MOST_KEPT", 3)

    @remembered
    def double(_of, number):
        return 2 * number

    assert [double(circuit, number) for number in range(9)] == [2 * number for number in range(9)]
    assert len(circuit.worked_out) <= 3
