"""The worked cases of every shipped sequence come out as their authors say, and a wrong one is told."""

import pytest

from benchapp.sequences.checks.worked_cases import run_cases
from benchapp.sequences.planning.catalogue import catalogue_from_texts
from tests.sequences.bench import catalogue

WITH_CASES = sorted(name for name, one in catalogue().sequences.items() if one.worked_cases)


@pytest.mark.parametrize("name", WITH_CASES)
def test_worked_cases_come_out(name):
    results = run_cases(catalogue(), name)
    assert results
    assert [one for one in results if one.complaint] == []


def test_every_shipped_sequence_has_worked_cases():
    assert set(WITH_CASES) == set(catalogue().sequences)


def own(answers: str) -> str:
    return (
        "sequence: own\ntitle: Our own\nsteps:\n"
        "  - measure: a\n    say: Read.\n    function: resistance\n    accept: at most 9 ohm\n"
        f"worked cases:\n  - case: one\n    equipment: tb-mu1\n    meter: tb-m1\n    answers:\n{answers}"
    )


def results_of(answers: str):
    return run_cases(catalogue_from_texts({**catalogue().texts, "own.yaml": own(answers)}), "own")


def test_case_that_comes_out_otherwise_is_told():
    (result,) = results_of("      - {step: a, reads: 5 ohm, judgement: fail}\n")
    assert (result.expected, result.found) == ("fail", "pass")
    assert result.complaint.startswith("fail expected, pass found")


def test_case_with_a_reading_that_cannot_be_is_told():
    (result,) = results_of("      - {step: a, reads: 5 V, judgement: pass}\n")
    assert result.found == "not taken"
    assert result.complaint


def test_case_at_a_step_that_is_not_there_is_told():
    (result,) = results_of("      - {step: a/7, reads: 5 ohm, judgement: pass}\n")
    assert "no step" in result.complaint


@pytest.mark.parametrize("equipment", ["5", "a b", "x", "[tb-mu1"])
def test_case_on_equipment_that_is_not_there_is_told(equipment):
    text = own("      - {step: a, reads: 5 ohm, judgement: pass}\n")
    text = text.replace("equipment: tb-mu1", f'equipment: "{equipment}"')
    (result,) = run_cases(catalogue_from_texts({**catalogue().texts, "own.yaml": text}), "own")
    assert result.complaint.startswith(f"There is no equipment “{equipment}”; there are ")


EVERY_KIND = """sequence: own
title: Our own
steps:
  - measure: a
    say: Read.
    function: resistance
    accept: at most 9 ohm
  - measure: b
    say: Read.
    function: resistance
    accept: at most 9 ohm
  - compute: half
    say: Half of both.
    value: (a + b) / 2
    unit: ohm
    accept: at most 6 ohm
  - wait: pause
    say: Wait.
    time: 30 s
  - photo: face
    say: Take a photo.
worked cases:
  - case: one
    equipment: tb-mu1
    meter: tb-m1
    answers:
      - {step: a, reads: 5 ohm, judgement: pass}
      - {step: b, reads: 6 ohm, judgement: pass}
      - {step: half, judgement: pass}
      - {step: pause, judgement: pass}
      - {step: face, judgement: pass}
      - {step: b, reads: 8.5 ohm, judgement: pass}
      - {step: half, judgement: fail}
"""


def test_worked_cases_hold_steps_of_every_kind():
    results = run_cases(catalogue_from_texts({**catalogue().texts, "own.yaml": EVERY_KIND}), "own")
    assert [(one.step, one.complaint) for one in results if one.complaint] == []
    assert len(results) == 7
