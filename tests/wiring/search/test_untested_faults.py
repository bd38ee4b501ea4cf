"""The pair that is looked at before a search ends with "nothing wrong"."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from benchapp.wiring.faults.weights import shipped_fault_weights, weigh
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.search.hypotheses import Boxes, boxes
from benchapp.wiring.search.likelihood import Reader
from benchapp.wiring.search.untested_faults import APART, SHOWS, outside, untested_pair

READER = Reader()


def of_two_pairs(fault_modes: list[tuple[float, float]]) -> Boxes:
    """A sound circuit of 100 to 110 ohm at both pairs; each fault reads so at the first, and sound at the second."""
    low = np.array([[100.0, 100.0], *([one, 100.0] for one, _ in fault_modes)], dtype=np.float32)
    high = np.array([[110.0, 110.0], *([one, 110.0] for _, one in fault_modes)], dtype=np.float32)
    pairs = (("pin.1", "pin.2"), ("pin.1", "pin.3"))
    return Boxes(low=low, high=high, pairs=pairs, column={frozenset(pair): i for i, pair in enumerate(pairs)})


def test_the_pair_that_would_show_the_fault_is_looked_at_and_only_once() -> None:
    table = of_two_pairs([(200.0, 300.0)])
    found = untested_pair(table, [1], set(), frozenset(), READER)
    assert found is not None
    assert found[0] == 0
    assert untested_pair(table, [1], {frozenset(("pin.1", "pin.2"))}, frozenset(), READER) is None


def test_what_the_meter_blurs_is_not_worth_a_look() -> None:
    blur = float(np.asarray(READER.blur(110.0)))
    assert untested_pair(of_two_pairs([(104.0, 110.0 + APART * blur)]), [1], set(), frozenset(), READER) is None
    assert untested_pair(of_two_pairs([(112.0, 110.0 + 9 * APART * blur)]), [1], set(), frozenset(), READER)


def test_with_no_fault_left_there_is_nothing_to_look_at() -> None:
    assert untested_pair(of_two_pairs([(200.0, 300.0)]), [], set(), frozenset(), READER) is None


def test_looking_on_ends_and_shows_every_fault_of_the_shipped_designs_that_any_pair_shows(
    shipped: Mapping[str, Circuit],
) -> None:
    for circuit in shipped.values():
        fault_modes = weigh(circuit, shipped_fault_weights()).fault_modes
        table = boxes(circuit, State(), fault_modes, READER)
        rows, read = list(range(1, len(fault_modes) + 1)), set[frozenset[str]]()
        while (found := untested_pair(table, rows, read, frozenset(), READER)) is not None:
            assert frozenset(table.pairs[found[0]]) not in read
            read.add(frozenset(table.pairs[found[0]]))
        shown = outside(table, rows, READER)
        seen = shown[:, [table.column[pair] for pair in read]].max(axis=1)
        assert (seen >= shown.max(axis=1) - SHOWS).all()
        assert len(read) < len(circuit.parts) + len(circuit.terminals)


def test_an_open_pair_that_stays_open_shows_nothing() -> None:
    table = of_two_pairs([(1e8, 1e8)])
    table = replace(table, low=np.full((2, 2), 1e8, dtype=np.float32), high=np.full((2, 2), 1e8, dtype=np.float32))
    assert not outside(table, [1], READER).any()
