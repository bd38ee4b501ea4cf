"""Which part is broken, how sure that is, and what should be probed next.

Suspects are replaceable parts. The search is over when one of them holds 95 %, or when no probe can tell the rest
apart. A part that explains the readings as well, and is only rarer, is named beside the one that was found.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from benchapp.quantities.dimensions import Kind
from benchapp.wiring.faults.weights import FaultWeights, Repaired, history_words
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.model.probe_words import say_probes
from benchapp.wiring.network.solve import Matrix
from benchapp.wiring.search.diagnosis import SOUND_UNIT, Diagnosis, Suspect, sentence_of
from benchapp.wiring.search.fault_magnitude import MagnitudeEstimator
from benchapp.wiring.search.hypotheses import Boxes
from benchapp.wiring.search.likelihood import Reader, slip_density
from benchapp.wiring.search.live_table import LiveChoice
from benchapp.wiring.search.next_probe import WAY_BACK, NextProbe, best_pair, likeliest, seconds_for
from benchapp.wiring.search.observations import Observation, check_observations
from benchapp.wiring.search.ranking import WORTH_NAMING, Hypotheses, Ranking, left_to_slips, parts_of
from benchapp.wiring.search.untested_faults import untested_pair

SURE = 0.95
TOGETHER = 0.985  # that parts which no probe tells apart hold among them: then nothing else is asked about
LEADS = 0.2  # chance from which on the size of a suspect's fault is estimated
MOST_SUSPECTS = 8
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
        self.magnitude_estimator = MagnitudeEstimator(circuit, modes.ranges(), self.reader)
        self.hypotheses = Hypotheses(circuit, modes, self.history, self.state, self.reader)

    def diagnosis(self, observations: Iterable[Observation], live: LiveChoice | None = None) -> Diagnosis:
        """Weigh all hypotheses by the readings so far; raises ObservationProblem for readings that contradict.

        With `live` the mains is on: the next probe may be a live one, and a dead one costs the way back.
        """
        observations = tuple(observations)
        check_observations(observations)
        return _Question(self, observations, self.hypotheses.rank(observations), live).answer()


@dataclass(frozen=True)
class _Question:
    """What the search was asked: by these readings, ranked so, which part, and what next."""

    search: Diagnoser
    observations: tuple[Observation, ...]
    ranking: Ranking
    live: LiveChoice | None

    def answer(self) -> Diagnosis:
        """The suspects, whether the search is over, and what should be read next."""
        inconsistent = self.search.hypotheses.unexplained(self.observations, self.ranking)
        group = self._ambiguity_group
        probe = None if self.found else self._most_telling(self._in_doubt(), LEAST_BITS)
        probe = probe or self._between_rivals() or self._for_untested()
        if probe is None and not self.found:
            probe = self._repeat_of_a_slip(group)
        found = self.found
        if probe is None and not found and self._is_sound:
            found, group = SOUND_UNIT, tuple(part for part in group if part)
        group = () if probe else group
        suspects = self._suspects(found)
        words = (suspects, found, group, inconsistent)
        return Diagnosis(
            suspects=suspects,
            next_probe=probe,
            found=found,
            ambiguity_group=group,
            inconsistent=inconsistent,
            sentence=sentence_of(self.search.circuit, *words, goes_on=probe is not None),
            single_support=None if probe or inconsistent else self._repeat_of_single_support(),
        )

    @cached_property
    def found(self) -> tuple[str, ...]:
        """The parts that are sure."""
        return tuple(part for part, share in self.ranking.by_part.items() if share >= SURE)

    @cached_property
    def _leading(self) -> str:
        return next(iter(self.ranking.by_part))

    @cached_property
    def _last(self) -> frozenset[str]:
        """The terminals that the probes are on."""
        return self.observations[-1].pair if self.observations else frozenset()

    @cached_property
    def _fits_equally(self) -> NDArray[np.bool_]:
        """Which hypotheses explain the readings about as well as the likeliest part does, however rare they are.

        A fault that allows a wider reading fits less closely: where it leaves no more readings to slips it counts too.
        """
        ranking = self.ranking
        own = [i for i, parts in enumerate(ranking.parts) if self._leading in parts]
        first = own[int(np.argmax(ranking.fit[own]))]
        slips = np.array([2 * slip_density(observation, self.search.reader) for observation in self.observations])
        terms = np.array(ranking.terms).reshape(len(self.observations), len(ranking.hypotheses))
        explained = np.all((terms > slips[:, None]) | (terms[:, [first]] <= slips[:, None]), axis=0)
        best = ranking.fit[first]
        well = (ranking.fit >= best - np.log(AS_WELL)) | (explained & (ranking.fit >= best - np.log(LOOSELY)))
        return np.asarray(well, dtype=bool)

    @property
    def _is_sound(self) -> bool:
        """Whether every reading agrees with a sound unit.

        At the end of a search that is a finding: what no reading tells from a sound unit weighs by its prior alone.
        """
        return self._sound_fits and self.search.hypotheses.is_sound(self.observations)

    @property
    def _sound_fits(self) -> bool:
        """Whether a unit with nothing wrong explains the readings as well as the leading part does."""
        return bool(self._fits_equally[self.ranking.parts.index(parts_of(()))])

    @cached_property
    def _rivals(self) -> tuple[str, ...]:
        """Parts that alone explain the readings as well as the leading part."""
        fitting = (self.ranking.hypotheses[i] for i in np.flatnonzero(self._fits_equally))
        parts = (faults[0].part for faults in fitting if len(faults) == 1)
        return tuple(part for part in dict.fromkeys(parts) if part != self._leading)

    @cached_property
    def _ambiguity_group(self) -> tuple[str, ...]:
        """Parts that no probe tells from those found, or from each other.

        Where nothing is found, the leading one is among them; what only a slip would explain is not.
        """
        leading = () if self.found else (self._leading,)
        parts = dict.fromkeys((*leading, *self._rivals, *self._parts_of_pairs()))
        return tuple(part for part in parts if part not in self.found)

    def _parts_of_pairs(self) -> tuple[str, ...]:
        """Where the likeliest is a pair of faults, the parts of all pairs that explain the readings as well."""
        ranking = self.ranking
        if len(ranking.hypotheses[ranking.best]) < 2:
            return ()
        well = np.flatnonzero(ranking.fit >= ranking.fit[ranking.best] - np.log(AS_WELL))
        likeliest_first = sorted((int(i) for i in well), key=lambda i: -ranking.chances[i])
        return tuple(fault_mode.part for i in likeliest_first for fault_mode in ranking.hypotheses[i])

    def _in_doubt(self) -> Matrix:
        """The chances that the next probe is to tell apart: all, and only the leading parts' once these are sure.

        One part that holds 95 % ends the search. Where it has rivals, a probe elsewhere could but confirm what would
        not be asked of one part.
        """
        group = {self._leading, *self._rivals}
        chances = self.ranking.chances
        inside = np.array([not parts.isdisjoint(group) for parts in self.ranking.parts]) * chances
        return inside if "" not in group and inside.sum() >= TOGETHER else chances

    def _repeat_of_a_slip(self, group: tuple[str, ...]) -> NextProbe | None:
        """The reading to take a second time, where the parts left over hold out because it may have been a slip."""
        ranking, reader = self.ranking, self.search.reader
        outside = np.array([0.0 if parts & set(group) else 1.0 for parts in ranking.parts]) * ranking.chances
        if outside.sum() <= 1 - SURE:
            return None
        doubted = {
            index: float(outside[term <= 2 * slip_density(observation, reader)].sum())
            for index, (observation, term) in enumerate(zip(self.observations, ranking.terms, strict=True))
            if observation.times == 1 and self._is_dead_here(observation)
        }
        index = max(doubted, key=lambda one: doubted[one], default=-1)
        if index < 0 or doubted[index] < outside.sum() / 2:
            return None
        return replace(self._repeat(index), bits=doubted[index])

    def _repeat_of_single_support(self) -> NextProbe | None:
        """The only reading that a sound unit does not explain, where it was taken once and can be taken again.

        A slip of the probe or of a digit may be all that is wrong: it is worth reading anew before anything is mended.
        """
        sound = self.ranking.parts.index(parts_of(()))
        odd = left_to_slips(self.observations, self.ranking, sound, self.search.reader)
        if len(odd) != 1 or self.observations[odd[0]].times > 1:
            return None
        observation, live = self.observations[odd[0]], self.live
        if observation.kind is Kind.current:
            return None  # no second try before a finding
        lit, state = observation.kind is Kind.voltage, self.search.state if live is None else live.state
        if lit == (live is None) or observation.state != state:
            return None
        return replace(self._repeat(odd[0]), live=lit)

    def _repeat(self, number: int) -> NextProbe:
        observation = self.observations[number]
        asked = self._asked_at(observation.a, observation.b)
        seconds = float(seconds_for(observation.pair, self._last))
        return replace(asked, say=f"Once more, to be sure: {asked.say}", seconds=seconds, again=True)

    def _between_rivals(self) -> NextProbe | None:
        """A probe that would tell the leading part from its rivals, all taken as equally likely before the readings."""
        if not (self._leading and self._rivals):
            return None
        ranking = self.ranking
        chances = np.zeros(len(ranking.hypotheses))
        for part in (self._leading, *self._rivals):
            own = [i for i, parts in enumerate(ranking.parts) if parts == {part}]
            if own:
                weights = np.exp(ranking.fit[own] - ranking.fit[own].max())
                chances[own] = weights / weights.sum()
        return self._most_telling(chances, SPLITS) if chances.any() else None

    def _for_untested(self) -> NextProbe | None:
        """While a sound unit explains as much, a probe that would show what could be wrong and was not tested."""
        ranking = self.ranking
        if not self._sound_fits:
            return None
        fitting = [int(i) for i in np.flatnonzero(self._fits_equally) if len(ranking.hypotheses[i]) == 1]
        best = untested_pair(ranking.boxes, fitting, self._read_dead(), self._last, self.search.reader)
        return best and self._asked(ranking.boxes, (best[0], 0.0, best[1]))

    def _is_dead_here(self, observation: Observation) -> bool:
        return observation.kind is Kind.resistance and observation.state == self.search.state

    def _read_dead(self) -> set[frozenset[str]]:
        """The pairs that were read dead in the search's own set-up."""
        return {observation.pair for observation in self.observations if self._is_dead_here(observation)}

    def _most_telling(self, chances: Matrix, least: float) -> NextProbe | None:
        """The probe that tells most per second of what these chances leave open; None where none tells enough."""
        ranking, reader, live = self.ranking, self.search.reader, self.live
        numbers: dict[frozenset[str], int] = {}
        groups = [numbers.setdefault(parts, len(numbers)) for parts in ranking.parts]
        dead = best_pair(ranking.boxes, chances, groups, self._read_dead(), self._last, reader)
        asked = [] if dead is None else [self._asked(ranking.boxes, dead)]
        if live is not None and live.pairs:
            seen = {one.pair for one in self.observations if one.kind is Kind.voltage and one.state == live.state}
            boxes = self.search.hypotheses.live.boxes(live, ranking.hypotheses, likeliest(chances).tolist())
            lit = best_pair(boxes, chances, groups, seen, self._last, reader)
            asked += [] if lit is None else [self._asked(boxes, lit, live=True)]
        tired = max(1.0, len(self.observations) / PATIENCE)
        worth = [one for one in asked if one.bits >= least * tired]
        return max(worth, key=lambda one: one.bits / one.seconds, default=None)

    def _asked(self, boxes: Boxes, best: tuple[int, float, float], *, live: bool = False) -> NextProbe:
        """The probe in words; from mains to a dead reading goes the way back."""
        column, bits, seconds = best
        before = WAY_BACK if self.live is not None and not live else 0.0
        return replace(self._asked_at(*boxes.pairs[column]), bits=bits, seconds=seconds + before, live=live)

    def _asked_at(self, a: str, b: str) -> NextProbe:
        """The two terminals in words; black stays where a probe is already, and goes to what is black itself."""
        say = self.search.circuit.say
        if b in self._last and a not in self._last:
            a, b = b, a
        if "red" in say(a).split() and "black" in say(b).split():
            a, b = b, a
        return NextProbe(a=a, b=b, say=say_probes(self.search.circuit, a, b), bits=0.0, seconds=0.0)

    def _suspects(self, found: tuple[str, ...]) -> tuple[Suspect, ...]:
        """The likeliest first, and before them that nothing is wrong, where that was found."""
        shares = self.ranking.by_part
        first = list(found) if found == SOUND_UNIT else []
        shown = [part for part, share in shares.items() if share > WORTH_NAMING and part not in first]
        shown = [*first, *shown][:MOST_SUSPECTS]
        return tuple(self._suspect(part, leads=part == shown[0] and shares[part] > LEADS) for part in shown)

    def _suspect(self, part: str, *, leads: bool) -> Suspect:
        ranking, circuit = self.ranking, self.search.circuit
        mine = np.array([part in parts for parts in ranking.parts])
        best = int(np.argmax(np.where(mine, ranking.chances, -1.0)))
        weight = np.where(mine, 0.0, ranking.prior)
        ratios = [float(term[best] * weight.sum() / max(float(term @ weight), 1e-300)) for term in ranking.terms]
        words = [observation.words(circuit) for observation in self.observations]
        faults = ranking.hypotheses[best]
        if leads:
            faults = self.search.magnitude_estimator.likeliest(faults, self.observations)
        return Suspect(
            part=part,
            share=ranking.by_part[part],
            words="; ".join(fault_mode.words(circuit) for fault_mode in faults) or "nothing is wrong",
            faults=faults,
            speaks_for=tuple(said for said, ratio in zip(words, ratios, strict=True) if ratio > TELLING),
            speaks_against=tuple(said for said, ratio in zip(words, ratios, strict=True) if ratio * TELLING < 1),
            history=history_words(circuit, part, self.search.history),
        )
