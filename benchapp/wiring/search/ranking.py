"""How likely every hypothesis is after the readings so far: Bayes' rule over single faults, and over pairs of them.

Pairs are tried only once the likeliest single fault leaves a reading unexplained: each of the likeliest first
faults is put into the circuit, and every other one is tried beside it.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache, cached_property, partial

import numpy as np
from numpy.typing import NDArray

from benchapp.quantities.dimensions import Kind
from benchapp.wiring.faults.dictionary import OVER_RANGE
from benchapp.wiring.faults.fault_modes import FaultMode, in_slices
from benchapp.wiring.faults.weights import FaultWeights, Repaired, weigh
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.network.solve import Matrix, dead_network
from benchapp.wiring.search.bayes import NEVER, fit, posterior
from benchapp.wiring.search.current_table import CurrentTable, as_compared
from benchapp.wiring.search.hypotheses import Boxes, Faults, Networks, boxes
from benchapp.wiring.search.likelihood import Reader, explains, likelihood, slip_density
from benchapp.wiring.search.live_table import LiveTable
from benchapp.wiring.search.observations import Observation

SOUND = 0.05  # chance that nothing is wrong at all, before any reading; common practice, no source
PAIR = 0.05  # chance of a second fault beside the first; common practice, no source
CUT = 16  # likeliest faults whose sizes are cut finer
CUT_LIVE = 4  # the same with live readings
SLICES = 12  # into how many
WORTH_NAMING = 0.005  # chance from which on a part is named as a suspect
WORTH = 1e-3  # chance from which on a fault is cut finer
FIRSTS = 10  # likeliest single faults that pairs are built on
MOST_SECONDS = 600  # faults tried beside each of them
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
    return frozenset(fault_mode.part for fault_mode in faults) or frozenset({""})


def left_to_slips(observations: Sequence[Observation], ranking: Ranking, hypothesis: int, reader: Reader) -> list[int]:
    """The numbers of the readings that the hypothesis of that number can only take for slips."""
    pairs = enumerate(zip(observations, ranking.terms, strict=True))
    return [
        number for number, (observation, term) in pairs if term[hypothesis] <= 2 * slip_density(observation, reader)
    ]


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
        self, circuit: Circuit, modes: FaultWeights, history: Sequence[Repaired], state: State, reader: Reader
    ) -> None:
        self.circuit, self.state, self.reader = circuit, state, reader
        weighted = weigh(circuit, modes, history)
        self._fault_modes = weighted.fault_modes
        self._prior = np.array([SOUND, *((1 - SOUND) * chance for chance in weighted.chances)])
        self._singles: list[Faults] = [(), *((fault_mode,) for fault_mode in weighted.fault_modes)]
        self._parts = [parts_of(faults) for faults in self._singles]
        self._networks: Networks = cache(partial(dead_network, circuit))
        self._boxes_in, self._term = cache(self._boxes_of), cache(self._term_of)  # a search asks again and again
        self.live, self._currents = LiveTable(circuit), CurrentTable(circuit)

    def rank(self, observations: tuple[Observation, ...]) -> Ranking:
        """Rank the single faults; with a reading left unexplained, pairs of them too."""
        singles = self._rank_singles(observations)
        if self._inconsistent_with_best(observations, singles):
            return self._with_pairs(observations, singles)
        return self._finer(observations, singles) if len(observations) > 1 else singles

    def unexplained(self, observations: tuple[Observation, ...], ranking: Ranking) -> tuple[Observation, ...]:
        """The readings that contradict each other; the most inconsistent come first.

        Empty where some hypothesis worth naming explains them all, though a slip under a likelier one may lead it yet.
        """
        inconsistent = self._inconsistent_with_best(observations, ranking)
        if not inconsistent:
            return ()
        explained = self._explaining(observations, ranking)
        named = np.array([max(ranking.by_part[part] for part in parts) > WORTH_NAMING for parts in ranking.parts])
        return () if (explained & named).any() else inconsistent

    def is_sound(self, observations: Sequence[Observation]) -> bool:
        """Whether each reading lies where a sound unit has it, but for the meter's standard uncertainty."""
        return all(self._is_sound(one) for one in observations)

    def _is_sound(self, observation: Observation) -> bool:
        low, high = (float(ends[0]) for ends in self._ends(observation))
        value = as_compared(observation).value
        if value is None:
            return high >= OVER_RANGE
        blur = float(self.reader.blur(value, as_compared(observation).uncertainty))
        return low - blur <= value <= high + blur

    def _explaining(self, observations: tuple[Observation, ...], ranking: Ranking) -> NDArray[np.bool_]:
        """Which hypotheses explain every reading without a slip."""
        all_of_them = np.ones(len(ranking.hypotheses), dtype=bool)
        for observation, term in zip(observations, ranking.terms, strict=True):
            all_of_them &= term > 2 * slip_density(observation, self.reader)
        return all_of_them

    def _inconsistent_with_best(
        self, observations: tuple[Observation, ...], ranking: Ranking
    ) -> tuple[Observation, ...]:
        """The readings that the likeliest hypothesis can only take for slips, the most inconsistent first."""
        best, terms = ranking.best, ranking.terms
        odd = left_to_slips(observations, ranking, best, self.reader)
        return tuple(
            observations[n] for n in sorted(odd, key=lambda n: float(terms[n][best] / max(terms[n].max(), NEVER)))
        )

    def _rank_singles(self, observations: tuple[Observation, ...]) -> Ranking:
        terms = [self._term(observation) for observation in observations]
        return Ranking(
            hypotheses=self._singles,
            parts=self._parts,
            prior=self._prior,
            terms=terms,
            boxes=self._boxes_in(self.state),
        )

    def _term_of(self, observation: Observation) -> Matrix:
        """The likelihood of a reading under every single fault."""
        return likelihood(*self._ends(observation), as_compared(observation), self.reader)

    def _ends(self, observation: Observation) -> tuple[Matrix, Matrix]:
        if _is_live(observation):
            return self._live_box(observation, self._singles)
        return self._boxes_in(observation.state).of(observation)

    def _live_box(self, observation: Observation, hypotheses: Sequence[Faults]) -> tuple[Matrix, Matrix]:
        table = self._currents if observation.kind is Kind.current else self.live
        return table.box(observation, hypotheses)

    def _boxes_of(self, state: State) -> Boxes:
        return boxes(self.circuit, state, self._fault_modes, self.reader, networks=self._networks)

    def _finer(self, observations: tuple[Observation, ...], singles: Ranking) -> Ranking:
        """The likeliest single faults with their ranges of size cut into slices.

        Two readings may each fit into a broad range and yet ask for different sizes: no one slice explains both. A
        broad range pays for its breadth at every reading, so one that explains them all is cut however little it holds.
        """
        worth = (singles.chances > WORTH) | self._explaining(observations, singles)
        coarse = [int(i) for i in np.argsort(-singles.chances * worth, kind="stable")[:CUT] if worth[i]]
        coarse = [i for i in coarse if i and singles.hypotheses[i][0].size.high > singles.hypotheses[i][0].size.low]
        if any(_is_live(observation) for observation in observations):
            coarse = coarse[:CUT_LIVE]
        if not coarse:
            return singles
        slices = [(i, one) for i in coarse for one in in_slices(singles.hypotheses[i][0], SLICES)]
        prior = singles.prior.copy()
        prior[coarse] = 0.0
        share = np.array([singles.prior[i] / SLICES for i, _ in slices])
        return joined(replace(singles, prior=prior), self._block(observations, [one for _, one in slices], share))

    def _with_pairs(self, observations: tuple[Observation, ...], singles: Ranking) -> Ranking:
        alone = np.array(
            [explains(*self._ends(observation), as_compared(observation), self.reader) for observation in observations]
        )
        firsts = self._firsts(alone, singles)
        return joined(singles, *(self._beside(number, observations, singles, alone) for number in firsts))

    def _beside(
        self, number: int, observations: tuple[Observation, ...], singles: Ranking, alone: NDArray[np.bool_]
    ) -> Ranking:
        """Other faults beside the single one of that number; `alone[observation, single]`: it explains that alone."""
        first = singles.hypotheses[number]
        helps = (alone & ~alone[:, [number]]).sum(axis=0)
        others = self._others(first, helps)
        rows = [i + 1 for i in others]
        prior = PAIR * self._prior[number] * self._prior[rows]
        return self._block(observations, [self._fault_modes[i] for i in others], prior, first, helps[rows])

    def _block(
        self,
        observations: tuple[Observation, ...],
        fault_modes: Sequence[FaultMode],
        prior: Matrix,
        first: Faults = (),
        helps: NDArray[np.int64] | None = None,
    ) -> Ranking:
        """Each of the faults beside the first ones; with `helps` live readings are worked out where it is worth it."""
        hypotheses: list[Faults] = [(*first, one) for one in fault_modes]
        states = {self.state, *(one.state for one in observations if not _is_live(one))}
        found = {state: boxes(self.circuit, state, fault_modes, self.reader, first, self._networks) for state in states}
        dead = [None if _is_live(one) else self._dead_term(found, one) for one in observations]
        tried = range(len(hypotheses)) if helps is None else self._worth_solving(dead, prior, helps)
        own = found[self.state]
        return Ranking(
            hypotheses=hypotheses,
            parts=[parts_of(faults) for faults in hypotheses],
            prior=prior,
            terms=[
                self._live_term(observation, hypotheses, tried) if term is None else term
                for observation, term in zip(observations, dead, strict=True)
            ],
            boxes=Boxes(low=own.low[1:], high=own.high[1:], pairs=own.pairs, column=own.column),
        )

    def _others(self, first: Faults, helps: NDArray[np.int64]) -> list[int]:
        """Numbers of the faults tried beside the first; of very many those whose part explains what it leaves open."""
        broken = parts_of(first)
        others = [i for i, fault_mode in enumerate(self._fault_modes) if fault_mode.part not in broken]
        if len(others) <= MOST_SECONDS:
            return others
        best: dict[str, int] = {}
        for i in others:
            best[self._fault_modes[i].part] = max(best.get(self._fault_modes[i].part, 0), int(helps[i + 1]))
        order = sorted(others, key=lambda i: (-best[self._fault_modes[i].part], -self._prior[i + 1]))
        return sorted(order[:MOST_SECONDS])

    def _dead_term(self, found: dict[State, Boxes], observation: Observation) -> Matrix:
        low, high = found[observation.state].of(observation)
        return likelihood(low[1:], high[1:], observation, self.reader)

    def _live_term(self, observation: Observation, hypotheses: Sequence[Faults], tried: Sequence[int]) -> Matrix:
        """The likelihood of a live reading; a pair that was not worth solving for counts it as a slip."""
        term = np.full(len(hypotheses), slip_density(observation, self.reader))
        if len(tried):
            term[list(tried)] = likelihood(
                *self._live_box(observation, [hypotheses[i] for i in tried]), as_compared(observation), self.reader
            )
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
        """Numbers of the single faults to build pairs on: those that explain most readings, and the likeliest."""
        most = np.lexsort((-singles.chances, -alone.sum(axis=0)))
        likeliest = np.argsort(-singles.chances, kind="stable")
        mixed = dict.fromkeys(int(i) for two in zip(most, likeliest, strict=True) for i in two if i)
        return list(mixed)[:FIRSTS]


def _is_live(observation: Observation) -> bool:
    return observation.kind is not Kind.resistance
