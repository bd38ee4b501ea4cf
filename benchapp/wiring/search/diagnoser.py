"""Which part is broken, how sure that is, and what should be probed next.

Suspects are replaceable parts. The search is over when one of them holds 95 %, or when no probe can tell the rest
apart. A part that explains the readings as well, and is only rarer, is named beside the one that was found.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from benchapp.quantities.dimensions import Kind
from benchapp.wiring.faults.weights import FaultWeights, Repaired, history_words
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.network.solve import Matrix
from benchapp.wiring.search.diagnosis import Diagnosis, Suspect, sentence_of
from benchapp.wiring.search.fault_magnitude import MagnitudeEstimator
from benchapp.wiring.search.hypotheses import Boxes
from benchapp.wiring.search.likelihood import Reader, slip_density
from benchapp.wiring.search.live_table import LiveChoice
from benchapp.wiring.search.next_probe import WAY_BACK, NextProbe, best_pair, likeliest, seconds_for
from benchapp.wiring.search.observations import Observation, check_observations
from benchapp.wiring.search.ranking import WORTH_NAMING, Hypotheses, Ranking, parts_of
from benchapp.wiring.search.single_reading_support import single_support
from benchapp.wiring.search.untested_faults import pair_to_look_at

SURE = 0.95
TOGETHER = 0.985  # that parts which no probe tells apart hold among them: then nothing else is asked about
LEADS = 0.2  # chance from which on the size of a suspect's fault is estimated
LEAST_BITS = 0.02  # a probe that tells less is not worth taking
PATIENCE = 10.0  # readings; after more a probe must promise more, for joints err alike in all of them
SPLITS = 0.3  # bits from which on a probe is worth taking to tell a found part from one that explains as well
AS_WELL = 30.0  # a part explains the readings as well as another up to this ratio of likelihoods
LOOSELY = 1e4  # and up to this one where it explains every reading that the other explains
TELLING = 3.0  # a reading speaks for or against a suspect from this ratio of likelihoods on


class Diagnoser:
    """The search on one circuit in one set-up: build it once, ask it again after every reading."""

    def __init__(
        self,
        circuit: Circuit,
        modes: FaultWeights,
        *,
        history: Sequence[Repaired] = (),
        state: State | None = None,
        reader: Reader | None = None,
    ) -> None:
        self.circuit, self.state, self.reader = circuit, state or State(), reader or Reader()
        self.history = tuple(history)
        self._magnitude_estimator = MagnitudeEstimator(circuit, modes.ranges(), self.reader)
        self._hypotheses = Hypotheses(circuit, modes, self.history, self.state, self.reader)

    def diagnosis(self, observations: Iterable[Observation], live: LiveChoice | None = None) -> Diagnosis:
        """Weigh all hypotheses by the readings so far; raises ObservationProblem for readings that contradict.

        With `live` the mains is on: the next probe may be a live one, and a dead one costs the way back.
        """
        observations = tuple(observations)
        check_observations(observations)
        ranking = self._hypotheses.rank(observations)
        shares = ranking.by_part
        found = tuple(part for part, share in shares.items() if share >= SURE)
        as_well = self._as_well(observations, ranking)
        rivals = self._rivals(ranking, as_well)
        probe = None if found else self._next(observations, ranking, _in_doubt(ranking, rivals), LEAST_BITS, live)
        probe = (
            probe
            or self._splitting(observations, ranking, rivals, live)
            or self._untested(observations, ranking, as_well, live)
        )
        alike = self._alike(ranking, found, rivals)
        if probe is None and not found:
            probe = self._once_more(observations, ranking, alike)
        alike = () if probe else alike
        shown = [part for part, share in shares.items() if share > WORTH_NAMING][:8]
        suspects = tuple(
            self._suspect(part, observations, ranking, leads=part == shown[0] and shares[part] > LEADS)
            for part in shown
        )
        odd = self._hypotheses.unexplained(observations, ranking)
        return Diagnosis(
            suspects=suspects,
            next_probe=probe,
            found=found,
            ambiguity_group=alike,
            inconsistent=odd,
            sentence=sentence_of(self.circuit, suspects, found, alike, odd),
            single_support=None if probe or odd else self._single_support(observations, ranking, live),
        )

    def _as_well(self, observations: tuple[Observation, ...], ranking: Ranking) -> NDArray[np.bool_]:
        """Which hypotheses explain the readings about as well as the likeliest part does, however rare they are.

        A fault that allows a wider reading fits less closely: where it leaves no more readings to slips it counts too.
        """
        leading = next(iter(ranking.by_part))
        own = [i for i, parts in enumerate(ranking.parts) if leading in parts]
        first = own[int(np.argmax(ranking.fit[own]))]
        slips = np.array([2 * slip_density(observation, self.reader) for observation in observations])
        terms = np.array(ranking.terms).reshape(len(observations), len(ranking.hypotheses))
        explained = np.all((terms > slips[:, None]) | (terms[:, [first]] <= slips[:, None]), axis=0)
        best = ranking.fit[first]
        well = (ranking.fit >= best - np.log(AS_WELL)) | (explained & (ranking.fit >= best - np.log(LOOSELY)))
        return np.asarray(well, dtype=bool)

    def _rivals(self, ranking: Ranking, as_well: NDArray[np.bool_]) -> tuple[str, ...]:
        """Parts that alone explain the readings as well as the leading part."""
        leading = next(iter(ranking.by_part))
        single = (ranking.hypotheses[i] for i in np.flatnonzero(as_well) if len(ranking.hypotheses[i]) == 1)
        return tuple(dict.fromkeys(faults[0].part for faults in single if faults[0].part != leading))

    def _alike(self, ranking: Ranking, found: tuple[str, ...], rivals: tuple[str, ...]) -> tuple[str, ...]:
        """Parts that no probe tells from those found, or from each other.

        Where nothing is found, the leading one is among them; what only a slip would explain is not.
        """
        leading = () if found else (next(iter(ranking.by_part)),)
        return tuple(part for part in dict.fromkeys((*leading, *rivals, *self._of_pairs(ranking))) if part not in found)

    def _of_pairs(self, ranking: Ranking) -> tuple[str, ...]:
        """Where the likeliest is a pair of faults, the parts of all pairs that explain the readings as well."""
        if len(ranking.hypotheses[ranking.best]) < 2:
            return ()
        well = np.flatnonzero(ranking.fit >= ranking.fit[ranking.best] - np.log(AS_WELL))
        likeliest_first = sorted((int(i) for i in well), key=lambda i: -ranking.chances[i])
        return tuple(fault_mode.part for i in likeliest_first for fault_mode in ranking.hypotheses[i])

    def _once_more(
        self, observations: tuple[Observation, ...], ranking: Ranking, alike: tuple[str, ...]
    ) -> NextProbe | None:
        """The reading to take a second time, where the parts left over hold out because it may have been a slip."""
        outside = np.array([0.0 if parts & set(alike) else 1.0 for parts in ranking.parts]) * ranking.chances
        if outside.sum() <= 1 - SURE:
            return None
        doubted = {
            index: float(outside[term <= 2 * slip_density(observation, self.reader)].sum())
            for index, (observation, term) in enumerate(zip(observations, ranking.terms, strict=True))
            if observation.times == 1 and observation.kind is not Kind.voltage and observation.state == self.state
        }
        index = max(doubted, key=lambda one: doubted[one], default=-1)
        if index < 0 or doubted[index] < outside.sum() / 2:
            return None
        return replace(self._again(observations, index), bits=doubted[index])

    def _single_support(
        self, observations: tuple[Observation, ...], ranking: Ranking, live: LiveChoice | None
    ) -> NextProbe | None:
        """The one reading that the finding rests on, where it can be taken again as the unit stands."""
        number = single_support(observations, ranking, self.reader)
        if number is None:
            return None
        observation = observations[number]
        lit, state = observation.kind is Kind.voltage, self.state if live is None else live.state
        if lit == (live is None) or observation.state != state:
            return None
        return replace(self._again(observations, number), live=lit)

    def _again(self, observations: tuple[Observation, ...], number: int) -> NextProbe:
        observation, last = observations[number], observations[-1].pair
        asked = self._say(observation.a, observation.b, last)
        seconds = float(seconds_for(observation.pair, last))
        return replace(asked, say=f"Once more, to be sure: {asked.say}", seconds=seconds, again=True)

    def _splitting(
        self, observations: tuple[Observation, ...], ranking: Ranking, rivals: tuple[str, ...], live: LiveChoice | None
    ) -> NextProbe | None:
        """A probe that would tell the leading part from its rivals, all taken as equally likely before the readings."""
        parts = (next(iter(ranking.by_part)), *rivals)
        if not (parts[0] and rivals):
            return None
        chances = np.zeros(len(ranking.hypotheses))
        for part in parts:
            own = [i for i, parts in enumerate(ranking.parts) if len(parts) == 1 and part in parts]
            weights = np.exp(ranking.fit[own] - ranking.fit[own].max()) if own else np.zeros(0)
            chances[own] = weights / weights.sum() if own else weights
        return self._next(observations, ranking, chances, SPLITS, live) if chances.any() else None

    def _untested(
        self,
        observations: tuple[Observation, ...],
        ranking: Ranking,
        as_well: NDArray[np.bool_],
        live: LiveChoice | None,
    ) -> NextProbe | None:
        """While a sound unit explains as much, a probe that would show what could be wrong and was not looked at."""
        if not as_well[ranking.parts.index(parts_of(()))]:
            return None
        fitting = [int(i) for i in np.flatnonzero(as_well) if len(ranking.hypotheses[i]) == 1]
        last = observations[-1].pair if observations else frozenset()
        best = pair_to_look_at(ranking.boxes, fitting, self._read_already(observations), last, self.reader)
        return best and self._asked(ranking.boxes, (best[0], 0.0, best[1]), last, WAY_BACK if live else 0.0)

    def _read_already(self, observations: tuple[Observation, ...]) -> set[frozenset[str]]:
        """The pairs that were read dead in the search's own set-up."""
        return {c.pair for c in observations if c.kind is not Kind.voltage and c.state == self.state}

    def _next(
        self,
        observations: tuple[Observation, ...],
        ranking: Ranking,
        chances: Matrix,
        least: float,
        live: LiveChoice | None,
    ) -> NextProbe | None:
        barred = self._read_already(observations)
        numbers: dict[frozenset[str], int] = {}
        groups = [numbers.setdefault(parts, len(numbers)) for parts in ranking.parts]
        last = observations[-1].pair if observations else frozenset()
        dead = best_pair(ranking.boxes, chances, groups, barred, last, self.reader)
        asked = [] if dead is None else [self._asked(ranking.boxes, dead, last, WAY_BACK if live else 0.0)]
        if live is not None and live.pairs:
            seen = {c.pair for c in observations if c.kind is Kind.voltage and c.state == live.state}
            boxes = self._hypotheses.live.boxes(live, ranking.hypotheses, likeliest(chances).tolist())
            lit = best_pair(boxes, chances, groups, seen, last, self.reader)
            asked += [] if lit is None else [replace(self._asked(boxes, lit, last, 0.0), live=True)]
        tired = max(1.0, len(observations) / PATIENCE)
        worth = [one for one in asked if one.bits >= least * tired]
        return max(worth, key=lambda one: one.bits / one.seconds, default=None)

    def _asked(self, boxes: Boxes, best: tuple[int, float, float], last: frozenset[str], before: float) -> NextProbe:
        """The question in words; `before` are the seconds that go by until the probes may be laid on."""
        column, bits, seconds = best
        return replace(self._say(*boxes.pairs[column], last), bits=bits, seconds=seconds + before)

    def _say(self, a: str, b: str, last: frozenset[str]) -> NextProbe:
        """The two terminals in words; black stays where a probe is already, and goes to what is black itself."""
        if b in last and a not in last:
            a, b = b, a
        if "red" in self.circuit.say(a).split() and "black" in self.circuit.say(b).split():
            a, b = b, a
        say = f"Black probe on {self.circuit.say(a)}, red probe on {self.circuit.say(b)}."
        return NextProbe(a=a, b=b, say=say, bits=0.0, seconds=0.0)

    def _suspect(self, part: str, observations: tuple[Observation, ...], ranking: Ranking, *, leads: bool) -> Suspect:
        mine = np.array([part in parts for parts in ranking.parts])
        best = int(np.argmax(np.where(mine, ranking.chances, -1.0)))
        weight = np.where(mine, 0.0, ranking.prior)
        ratios = [float(term[best] * weight.sum() / max(float(term @ weight), 1e-300)) for term in ranking.terms]
        faults = ranking.hypotheses[best]
        if leads:
            faults = self._magnitude_estimator.likeliest(faults, observations)
        return Suspect(
            part=part,
            share=ranking.by_part[part],
            words="; ".join(fault_mode.words(self.circuit) for fault_mode in faults) or "nothing is wrong",
            faults=faults,
            speaks_for=tuple(c.words(self.circuit) for c, r in zip(observations, ratios, strict=True) if r > TELLING),
            speaks_against=tuple(
                c.words(self.circuit) for c, r in zip(observations, ratios, strict=True) if r * TELLING < 1
            ),
            history=history_words(self.circuit, part, self.history),
        )


def _in_doubt(ranking: Ranking, rivals: tuple[str, ...]) -> Matrix:
    """The chances that the next probe is to tell apart: all of them, and only the leading parts' once these are sure.

    One part that holds 95 % ends the search. Where it has rivals, a probe elsewhere could but confirm what would not be
    asked of one part.
    """
    group = {next(iter(ranking.by_part)), *rivals}
    inside = np.array([not parts.isdisjoint(group) for parts in ranking.parts]) * ranking.chances
    return inside if "" not in group and inside.sum() >= TOGETHER else ranking.chances
