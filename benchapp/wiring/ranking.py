"""How likely is every hypothesis after the readings so far? Bayes' rule over single defects, and over pairs of them.

Pairs are looked at only once the likeliest single defect leaves a reading unexplained: each of the likeliest first
defects is put into the circuit, and every other one is tried beside it.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from benchapp.quantities import Kind
from benchapp.wiring.circuit import Circuit, State
from benchapp.wiring.clues import Clue
from benchapp.wiring.faults import FaultModes, Repaired, weigh
from benchapp.wiring.hypotheses import Boxes, Faults, boxes
from benchapp.wiring.likelihood import Reader, explains, likelihood, slip_density
from benchapp.wiring.live_table import LiveTable
from benchapp.wiring.solve import Matrix
from benchapp.wiring.weighing import fit, posterior

SOUND = 0.05  # chance that nothing is wrong at all, before any reading; common practice, no source
PAIR = 0.05  # chance of a second defect beside the first; common practice, no source
FIRSTS = 10  # likeliest single defects that pairs are built on


@dataclass(frozen=True, kw_only=True)
class Ranking:
    """Every hypothesis with its chance, its boxes in the search's own set-up, and the likelihood of every reading."""

    hypotheses: list[Faults]
    parts: list[frozenset[str]]  # the replaceable parts of each hypothesis; "" when nothing is wrong
    prior: Matrix
    terms: list[Matrix]  # for each reading one likelihood per hypothesis
    boxes: Boxes

    @cached_property
    def fit(self) -> Matrix:
        """Logarithm of the likelihood of all readings together, whatever the hypothesis' chance was before."""
        return fit(self.terms, len(self.hypotheses))

    @cached_property
    def chances(self) -> Matrix:
        """Chance of each hypothesis after the readings; they add up to one."""
        return posterior(self.prior, self.fit)

    @cached_property
    def by_part(self) -> dict[str, float]:
        """Chance of each replaceable part, the likeliest first; "" stands for nothing wrong."""
        shares: dict[str, float] = {}
        for parts, chance in zip(self.parts, self.chances.tolist(), strict=True):
            for part in parts:
                shares[part] = shares.get(part, 0.0) + chance
        return dict(sorted(shares.items(), key=lambda item: -item[1]))

    @property
    def best(self) -> int:
        """The number of the likeliest hypothesis."""
        return int(np.argmax(self.chances))


def parts_of(faults: Faults) -> frozenset[str]:
    """The replaceable parts of a hypothesis; "" when nothing is wrong."""
    return frozenset(defect.part for defect in faults) or frozenset({""})


class Hypotheses:
    """All hypotheses about one circuit, ready to be ranked by readings; what costs time is done once."""

    def __init__(
        self, circuit: Circuit, modes: FaultModes, history: Sequence[Repaired], state: State, reader: Reader
    ) -> None:
        self.circuit, self.state, self.reader = circuit, state, reader
        weighted = weigh(circuit, modes, history)
        self._defects = weighted.defects
        self._prior = np.array([SOUND, *((1 - SOUND) * chance for chance in weighted.chances)])
        self._singles: list[Faults] = [(), *((defect,) for defect in weighted.defects)]
        self._parts = [parts_of(faults) for faults in self._singles]
        self._boxes: dict[str, Boxes] = {}
        self.live = LiveTable(circuit)

    def rank(self, clues: tuple[Clue, ...]) -> Ranking:
        """Rank the single defects; with a reading left unexplained, pairs of them too."""
        singles = self._rank_singles(clues)
        if not self.unexplained(clues, singles) or any(clue.kind is Kind.voltage for clue in clues):
            return singles
        return self._with_pairs(clues, singles)

    def unexplained(self, clues: tuple[Clue, ...], ranking: Ranking) -> tuple[Clue, ...]:
        """The readings that the likeliest hypothesis can only take for slips."""
        best = ranking.best
        slips = [slip_density(clue, self.reader) for clue in clues]
        return tuple(c for c, term, slip in zip(clues, ranking.terms, slips, strict=True) if term[best] <= 2 * slip)

    def _rank_singles(self, clues: tuple[Clue, ...]) -> Ranking:
        terms = [likelihood(*self._ends(clue), clue, self.reader) for clue in clues]
        return Ranking(
            hypotheses=self._singles,
            parts=self._parts,
            prior=self._prior,
            terms=terms,
            boxes=self._boxes_in(self.state),
        )

    def _ends(self, clue: Clue) -> tuple[Matrix, Matrix]:
        if clue.kind is Kind.voltage:
            return self.live.box(clue, self._singles)
        return self._boxes_in(clue.state).of(clue)

    def _boxes_in(self, state: State) -> Boxes:
        key = repr(state)
        if key not in self._boxes:
            self._boxes[key] = boxes(self.circuit, state, self._defects, self.reader)
        return self._boxes[key]

    def _with_pairs(self, clues: tuple[Clue, ...], singles: Ranking) -> Ranking:
        blocks = [singles, *(self._beside(number, clues, singles) for number in self._firsts(clues, singles))]
        return Ranking(
            hypotheses=[faults for block in blocks for faults in block.hypotheses],
            parts=[parts for block in blocks for parts in block.parts],
            prior=np.concatenate([block.prior for block in blocks]),
            terms=[np.concatenate(terms) for terms in zip(*(block.terms for block in blocks), strict=True)],
            boxes=Boxes(
                low=np.vstack([block.boxes.low for block in blocks]),
                high=np.vstack([block.boxes.high for block in blocks]),
                pairs=singles.boxes.pairs,
                column=singles.boxes.column,
            ),
        )

    def _beside(self, number: int, clues: tuple[Clue, ...], singles: Ranking) -> Ranking:
        """Every other defect beside the single one of that number."""
        first = singles.hypotheses[number]
        others = [i for i, defect in enumerate(self._defects) if defect.part not in parts_of(first)]
        seconds = [self._defects[i] for i in others]
        states = {repr(state): state for state in (self.state, *(clue.state for clue in clues))}
        found = {key: boxes(self.circuit, state, seconds, self.reader, first) for key, state in states.items()}
        ends = [found[repr(clue.state)].of(clue) for clue in clues]
        own = found[repr(self.state)]
        return Ranking(
            hypotheses=[(*first, second) for second in seconds],
            parts=[parts_of((*first, second)) for second in seconds],
            prior=PAIR * self._prior[number] * self._prior[[i + 1 for i in others]],
            terms=[
                likelihood(low[1:], high[1:], clue, self.reader) for clue, (low, high) in zip(clues, ends, strict=True)
            ],
            boxes=Boxes(low=own.low[1:], high=own.high[1:], pairs=own.pairs, column=own.column),
        )

    def _firsts(self, clues: tuple[Clue, ...], singles: Ranking) -> list[int]:
        """Numbers of the single defects to build pairs on: those that explain most readings, and the likeliest."""
        explained = np.zeros(len(singles.hypotheses))
        for clue in clues:
            explained += explains(*self._ends(clue), clue, self.reader)
        most = np.lexsort((-singles.chances, -explained))
        likeliest = np.argsort(-singles.chances, kind="stable")
        mixed = dict.fromkeys(int(i) for two in zip(most, likeliest, strict=True) for i in two if i)
        return list(mixed)[:FIRSTS]
