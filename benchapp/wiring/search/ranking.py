"""How likely is every hypothesis after the readings so far? Bayes' rule over single defects, and over pairs of them.

Pairs are looked at only once the likeliest single defect leaves a reading unexplained: each of the likeliest first
defects is put into the circuit, and every other one is tried beside it.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from benchapp.quantities.dimensions import Kind
from benchapp.wiring.faults.fault_modes import in_slices
from benchapp.wiring.faults.weights import FaultModes, Repaired, weigh
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.network.solve import Matrix
from benchapp.wiring.search.bayes import NEVER, fit, posterior
from benchapp.wiring.search.hypotheses import Boxes, Faults, Networks, boxes
from benchapp.wiring.search.likelihood import Reader, explains, likelihood, slip_density
from benchapp.wiring.search.live_table import LiveTable
from benchapp.wiring.search.observations import Clue

SOUND = 0.05  # chance that nothing is wrong at all, before any reading; common practice, no source
PAIR = 0.05  # chance of a second defect beside the first; common practice, no source
CUT = 16  # likeliest defects whose sizes are cut finer
CUT_LIVE = 4  # the same with live readings
SLICES = 12  # into how many
WORTH_NAMING = 0.005  # chance from which on a part is named as a suspect
WORTH = 1e-3  # chance from which on a defect is cut finer
FIRSTS = 10  # likeliest single defects that pairs are built on
MOST_SECONDS = 600  # defects tried beside each of them
LIVE_SECONDS = 60  # of those, pairs whose voltages are worked out where a live reading counts


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


def left_to_slips(clues: Sequence[Clue], ranking: Ranking, hypothesis: int, reader: Reader) -> list[int]:
    """The numbers of the readings that the hypothesis of that number can only take for slips."""
    pairs = enumerate(zip(clues, ranking.terms, strict=True))
    return [number for number, (clue, term) in pairs if term[hypothesis] <= 2 * slip_density(clue, reader)]


def joined(*blocks: Ranking) -> Ranking:
    """The hypotheses of all blocks in one ranking."""
    return Ranking(
        hypotheses=[faults for block in blocks for faults in block.hypotheses],
        parts=[parts for block in blocks for parts in block.parts],
        prior=np.concatenate([block.prior for block in blocks]),
        terms=[np.concatenate(terms) for terms in zip(*(block.terms for block in blocks), strict=True)],
        boxes=Boxes(
            low=np.vstack([block.boxes.low for block in blocks]),
            high=np.vstack([block.boxes.high for block in blocks]),
            pairs=blocks[0].boxes.pairs,
            column=blocks[0].boxes.column,
        ),
    )


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
        self._networks: Networks = {}
        self._terms: dict[tuple[object, ...], Matrix] = {}
        self.live = LiveTable(circuit)

    def rank(self, clues: tuple[Clue, ...]) -> Ranking:
        """Rank the single defects; with a reading left unexplained, pairs of them too."""
        singles = self._rank_singles(clues)
        if self._odd_to_best(clues, singles):
            return self._with_pairs(clues, singles)
        return self._finer(clues, singles) if len(clues) > 1 else singles

    def unexplained(self, clues: tuple[Clue, ...], ranking: Ranking) -> tuple[Clue, ...]:
        """The readings that contradict each other; those that disagree most come first.

        Empty where some hypothesis worth naming explains them all, though a slip under a likelier one may lead it yet.
        """
        odd = self._odd_to_best(clues, ranking)
        if not odd:
            return ()
        explained = self._explaining(clues, ranking)
        named = np.array([max(ranking.by_part[part] for part in parts) > WORTH_NAMING for parts in ranking.parts])
        return () if (explained & named).any() else odd

    def _explaining(self, clues: tuple[Clue, ...], ranking: Ranking) -> NDArray[np.bool_]:
        """Which hypotheses explain every reading without a slip."""
        all_of_them = np.ones(len(ranking.hypotheses), dtype=bool)
        for clue, term in zip(clues, ranking.terms, strict=True):
            all_of_them &= term > 2 * slip_density(clue, self.reader)
        return all_of_them

    def _odd_to_best(self, clues: tuple[Clue, ...], ranking: Ranking) -> tuple[Clue, ...]:
        """The readings that the likeliest hypothesis can only take for slips, the oddest first."""
        best, terms = ranking.best, ranking.terms
        odd = left_to_slips(clues, ranking, best, self.reader)
        return tuple(clues[n] for n in sorted(odd, key=lambda n: float(terms[n][best] / max(terms[n].max(), NEVER))))

    def _rank_singles(self, clues: tuple[Clue, ...]) -> Ranking:
        terms = [self._term(clue) for clue in clues]
        return Ranking(
            hypotheses=self._singles,
            parts=self._parts,
            prior=self._prior,
            terms=terms,
            boxes=self._boxes_in(self.state),
        )

    def _term(self, clue: Clue) -> Matrix:
        """The likelihood of a reading under every single defect; kept, because a search asks again and again."""
        key = (clue.pair, clue.kind, clue.value, clue.uncertainty, clue.mains, clue.times, repr(clue.state))
        if key not in self._terms:
            self._terms[key] = likelihood(*self._ends(clue), clue, self.reader)
        return self._terms[key]

    def _ends(self, clue: Clue) -> tuple[Matrix, Matrix]:
        if clue.kind is Kind.voltage:
            return self.live.box(clue, self._singles)
        return self._boxes_in(clue.state).of(clue)

    def _boxes_in(self, state: State) -> Boxes:
        key = repr(state)
        if key not in self._boxes:
            self._boxes[key] = boxes(self.circuit, state, self._defects, self.reader, networks=self._networks)
        return self._boxes[key]

    def _finer(self, clues: tuple[Clue, ...], singles: Ranking) -> Ranking:
        """The likeliest single defects with their ranges of size cut into slices.

        Two readings may each fit into a broad range and yet ask for different sizes: no one slice explains both. A
        broad range pays for its breadth at every reading, so one that explains them all is cut however little it holds.
        """
        worth = (singles.chances > WORTH) | self._explaining(clues, singles)
        coarse = [int(i) for i in np.argsort(-singles.chances * worth, kind="stable")[:CUT] if worth[i]]
        coarse = [i for i in coarse if i and singles.hypotheses[i][0].size.high > singles.hypotheses[i][0].size.low]
        if any(_is_live(clue) for clue in clues):
            coarse = coarse[:CUT_LIVE]
        if not coarse:
            return singles
        slices = [(i, one) for i in coarse for one in in_slices(singles.hypotheses[i][0], SLICES)]
        defects = [one for _, one in slices]
        hypotheses: list[Faults] = [(one,) for one in defects]
        states = {repr(state): state for state in (self.state, *(c.state for c in clues if not _is_live(c)))}
        found = {
            key: boxes(self.circuit, state, defects, self.reader, networks=self._networks)
            for key, state in states.items()
        }
        everywhere = range(len(slices))
        own, prior = found[repr(self.state)], singles.prior.copy()
        prior[coarse] = 0.0
        return joined(
            replace(singles, prior=prior),
            Ranking(
                hypotheses=hypotheses,
                parts=[parts_of(faults) for faults in hypotheses],
                prior=np.array([singles.prior[i] / SLICES for i, _ in slices]),
                terms=[
                    self._live_term(clue, hypotheses, everywhere) if _is_live(clue) else self._dead_term(found, clue)
                    for clue in clues
                ],
                boxes=Boxes(low=own.low[1:], high=own.high[1:], pairs=own.pairs, column=own.column),
            ),
        )

    def _with_pairs(self, clues: tuple[Clue, ...], singles: Ranking) -> Ranking:
        alone = np.array([explains(*self._ends(clue), clue, self.reader) for clue in clues])
        firsts = self._firsts(alone, singles)
        return joined(singles, *(self._beside(number, clues, singles, alone) for number in firsts))

    def _beside(self, number: int, clues: tuple[Clue, ...], singles: Ranking, alone: NDArray[np.bool_]) -> Ranking:
        """Other defects beside the single one of that number; `alone[clue, single]`: it explains the clue alone."""
        first = singles.hypotheses[number]
        helps = (alone & ~alone[:, [number]]).sum(axis=0)
        others = self._others(first, helps)
        seconds = [self._defects[i] for i in others]
        hypotheses: list[Faults] = [(*first, second) for second in seconds]
        prior = PAIR * self._prior[number] * self._prior[[i + 1 for i in others]]
        states = {repr(state): state for state in (self.state, *(c.state for c in clues if not _is_live(c)))}
        found = {key: boxes(self.circuit, state, seconds, self.reader, first) for key, state in states.items()}
        terms: list[Matrix | None] = [None if _is_live(clue) else self._dead_term(found, clue) for clue in clues]
        tried = self._worth_solving(terms, prior, helps[[i + 1 for i in others]])
        own = found[repr(self.state)]
        return Ranking(
            hypotheses=hypotheses,
            parts=[parts_of(faults) for faults in hypotheses],
            prior=prior,
            terms=[
                self._live_term(clue, hypotheses, tried) if term is None else term
                for clue, term in zip(clues, terms, strict=True)
            ],
            boxes=Boxes(low=own.low[1:], high=own.high[1:], pairs=own.pairs, column=own.column),
        )

    def _others(self, first: Faults, helps: NDArray[np.int64]) -> list[int]:
        """Numbers of the defects tried beside the first; of very many those whose part explains what it leaves open."""
        taken = parts_of(first)
        others = [i for i, defect in enumerate(self._defects) if defect.part not in taken]
        if len(others) <= MOST_SECONDS:
            return others
        best: dict[str, int] = {}
        for i in others:
            best[self._defects[i].part] = max(best.get(self._defects[i].part, 0), int(helps[i + 1]))
        order = sorted(others, key=lambda i: (-best[self._defects[i].part], -self._prior[i + 1]))
        return sorted(order[:MOST_SECONDS])

    def _dead_term(self, found: dict[str, Boxes], clue: Clue) -> Matrix:
        low, high = found[repr(clue.state)].of(clue)
        return likelihood(low[1:], high[1:], clue, self.reader)

    def _live_term(self, clue: Clue, hypotheses: Sequence[Faults], tried: Sequence[int]) -> Matrix:
        """The likelihood of a live reading; a pair that was not worth solving for counts it as a slip."""
        term = np.full(len(hypotheses), slip_density(clue, self.reader))
        if len(tried):
            term[list(tried)] = likelihood(*self.live.box(clue, [hypotheses[i] for i in tried]), clue, self.reader)
        return term

    def _worth_solving(self, terms: Sequence[Matrix | None], prior: Matrix, helps: NDArray[np.int64]) -> list[int]:
        """The pairs whose voltages are worked out: the likeliest by their dead readings, and by what each explains."""
        if all(term is not None for term in terms):
            return []
        likely = fit([term for term in terms if term is not None], len(prior)) + np.log(np.maximum(prior, NEVER))
        by_ohms, by_help = np.argsort(-likely, kind="stable"), np.lexsort((-likely, -helps))
        mixed = dict.fromkeys(int(i) for two in zip(by_help, by_ohms, strict=True) for i in two)
        return list(mixed)[:LIVE_SECONDS]

    def _firsts(self, alone: NDArray[np.bool_], singles: Ranking) -> list[int]:
        """Numbers of the single defects to build pairs on: those that explain most readings, and the likeliest."""
        most = np.lexsort((-singles.chances, -alone.sum(axis=0)))
        likeliest = np.argsort(-singles.chances, kind="stable")
        mixed = dict.fromkeys(int(i) for two in zip(most, likeliest, strict=True) for i in two if i)
        return list(mixed)[:FIRSTS]


def _is_live(clue: Clue) -> bool:
    return clue.kind is Kind.voltage
