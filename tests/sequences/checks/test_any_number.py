"""Any number at any place of a shipped file: it works, or it is a complaint with its place; never anything else."""

import re
import time
from collections.abc import Iterator
from contextlib import suppress
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchapp.errors import BenchError
from benchapp.files.locations import FileProblems
from benchapp.files.models import build_model
from benchapp.files.reader import parse_document
from benchapp.sequences.checks.references import check_references
from benchapp.sequences.checks.worked_cases import run_cases
from benchapp.sequences.planning.catalogue import MODELS, kind_of_document, read_texts, texts_of
from benchapp.sequences.planning.plan import make_plan
from tests.people import staffed

_NUMBER = re.compile(r"(?<![\w.-])[0-9]+(?:\.[0-9]+)?(?!\w*-\w)")
VALUES = ("0", "-1", "1e300", "-1e300", "1e-300", "1e999", "1e30", "1e-30", "1e15", "1e-15", "-0.0", ".inf", "1_0")
SLOWEST = 15.0
"""Seconds of this process's own time to check all files and plan every route anew."""


@cache
def _texts() -> dict[str, str]:
    return texts_of()


@cache
def places() -> tuple[tuple[str, int, int], ...]:
    """Every number that an author wrote in a shipped file: the file's name, where it begins and ends."""
    return tuple(_places())


def _places() -> Iterator[tuple[str, int, int]]:
    for name, text in _texts().items():
        document = parse_document(text, name)
        if kind_of_document(document) is None:
            continue
        for start, end in document.spans.values():
            value = text[start:end]
            if value[:1] not in ("{", "[") and "\n" not in value:
                for found in _NUMBER.finditer(value):
                    yield name, start + found.start(), start + found.end()


def _work_all(name: str, text: str) -> None:
    """Check all files with this one changed, run every worked case and plan every route; raises BenchError alone."""
    catalogue, documents, complaints = read_texts({**_texts(), name: text})
    complaints = complaints or check_references(catalogue, documents)
    if complaints:
        assert all(one.location.line > 0 and one.location.column > 0 for one in complaints)
        raise FileProblems(complaints)
    for sequence in catalogue.sequences:
        run_cases(catalogue, sequence)
    for equipment in catalogue.equipment:
        for route in catalogue.routes_for(equipment):
            make_plan(catalogue, route, equipment, staffed())


@settings(max_examples=settings().max_examples // 2)
@given(st.data())
def test_any_number_anywhere_works_or_is_a_complaint(data: st.DataObject) -> None:
    name, start, end = data.draw(st.sampled_from(places()), label="place")
    text = _texts()[name]
    changed = text[:start] + data.draw(st.sampled_from(VALUES), label="value") + text[end:]
    begun = time.process_time()
    with suppress(BenchError):
        _work_all(name, changed)
    assert time.process_time() - begun < SLOWEST


def test_every_kind_of_file_has_numbers_to_try() -> None:
    assert len(places()) > 500
    assert {name.split("/")[-2] for name, _, _ in places()} >= {"equipment", "limits", "meters", "connectors"}


SENSELESS = [
    (
        "resources/equipment/tb-mu1.yaml",
        "voltage: 240 V",
        "voltage: 0 V",
        '"0 V" does not fit here; expected more than 0 V',
    ),
    ("resources/equipment/tb-mu1.yaml", "voltage: 240 V", "voltage: 1e300 V", "has a power of ten beyond 30"),
    (
        "resources/equipment/tb-mu1.yaml",
        "voltage: 240 V",
        "voltage: 1e20 V",
        "is beyond anything that a bench measures",
    ),
    (
        "resources/equipment/tb-mu1.yaml",
        "voltage: 240 V",
        "voltage: 1e-20 V",
        "is beyond anything that a bench measures",
    ),
    (
        "resources/equipment/tb-mu1.yaml",
        "0.6 A on load",
        "0 A on load",
        '"0 A" does not fit here; expected more than 0 A',
    ),
    (
        "resources/equipment/tb-mu1.yaml",
        "length: 1.8 m",
        "length: 0 m",
        '"0 m" does not fit here; expected more than 0 m',
    ),
    ("resources/connectors/din-5-180.yaml", "diameter: 13.2", "diameter: 1e300", "expected a number of another size"),
    (
        "resources/connectors/din-5-180.yaml",
        "diameter: 13.2",
        'diameter: "1e-300"',
        "expected a number of another size",
    ),
    ("resources/connectors/din-5-180.yaml", "diameter: 13.2", "diameter: 5000", "expected at most 1000"),
    ("resources/meters/tb-m1.yaml", "input impedance: 10 Mohm", "input impedance: 0 ohm", "is not more than nothing"),
]


@pytest.mark.parametrize(("name", "old", "new", "complaint"), SENSELESS, ids=[one[2] for one in SENSELESS])
def test_a_value_beyond_sense_is_a_complaint_at_its_place(name: str, old: str, new: str, complaint: str) -> None:
    before, found, after = _texts()[name].partition(old)
    assert found
    document = parse_document(before + new + after, name)
    kind = kind_of_document(document)
    assert kind is not None
    with pytest.raises(FileProblems) as caught:
        build_model(document, MODELS[kind])
    (line,) = [str(one) for one in caught.value.complaints]
    row = before.count("\n") + 1
    assert line.startswith(f"{name}:{row}:")
    assert complaint in line
