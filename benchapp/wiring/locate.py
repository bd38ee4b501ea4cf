"""Which part is broken, how sure is that, and what should be probed next?

Bayes' rule over every single defect (and over pairs of defects once no single one explains the readings). Suspects are
replaceable parts; the search is over when one of them holds 95 %, or when no probe can tell the rest apart.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from benchapp.quantities import Kind
from benchapp.wiring.circuit import Circuit, State
from benchapp.wiring.clues import Clue, check_clues
from benchapp.wiring.faults import FaultModes, Repaired, history_words, weigh
from benchapp.wiring.hypotheses import Boxes, Faults, boxes, live_box
from benchapp.wiring.likelihood import Reader, explains, likelihood
from benchapp.wiring.next_probe import NextProbe, best_pair
from benchapp.wiring.solve import Matrix

SOUND = 0.05  # chance that nothing is wrong at all, before any reading; common practice, no source
PAIR = 0.02  # chance of a second defect beside the first; common practice, no source
FIRSTS = 10  # likeliest single defects that pairs are built on
SURE = 0.95
LEAST_BITS = 0.03  # a probe that tells less is not worth taking
TELLING = 3.0  # a reading speaks for or against a suspect from this ratio of likelihoods on


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspect:
    """A replaceable part: its chance, its likeliest defect in words, and the readings for and against it."""

    part: str
    share: float
    words: str
    faults: Faults
    speaks_for: tuple[str, ...] = ()
    speaks_against: tuple[str, ...] = ()
    history: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Findings:
    """Where the search stands: ranked suspects, the next probe, and whether it is over, and how."""

    suspects: tuple[Suspect, ...]
    next_probe: NextProbe | None
    found: tuple[str, ...]  # the parts that hold 95 %
    inseparable: tuple[str, ...]  # parts that no probe can tell apart
    disagreeing: tuple[Clue, ...]  # readings that no hypothesis explains: take them again
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _Ranked:
    hypotheses: list[Faults]
    chances: Matrix
    boxes: Boxes
    terms: list[Matrix]  # likelihood of each reading, per hypothesis


class Locator:
    """The search on one circuit in one set-up: build it once, ask it again after every reading."""

    def __init__(
        self,
        circuit: Circuit,
        modes: FaultModes,
        *,
        history: Sequence[Repaired] = (),
        state: State | None = None,
        reader: Reader | None = None,
    ) -> None:
        self.circuit, self.state, self.reader = circuit, state or State(), reader or Reader()
        self.history = tuple(history)
        weighted = weigh(circuit, modes, self.history)
        self._defects = weighted.defects
        self._prior = np.array([SOUND, *((1 - SOUND) * chance for chance in weighted.chances)])
        self._singles: list[Faults] = [(), *((defect,) for defect in weighted.defects)]
        self._boxes = {self.state_key(self.state): boxes(circuit, self.state, weighted.defects, self.reader)}

    @staticmethod
    def state_key(state: State) -> str:
        """What tells two set-ups apart."""
        return repr(state)

    def findings(self, clues: Iterable[Clue]) -> Findings:
        """Weigh all hypotheses by the readings so far; raises ClueProblem for readings that cannot be used together."""
        clues = tuple(clues)
        check_clues(clues)
        ranked = self._rank(clues)
        best = int(np.argmax(ranked.chances))
        unexplained = self._unexplained(clues, ranked, best)
        if unexplained:
            ranked = self._with_pairs(clues, ranked)
            best = int(np.argmax(ranked.chances))
            unexplained = self._unexplained(clues, ranked, best)
        return self._report(clues, ranked, unexplained)

    def name(self, part: str) -> str:
        """A replaceable part in words; a pair of pins stands for what joins or crosses them."""
        if not part:
            return "nothing wrong"
        pins = " and ".join(self.circuit.say(pin) for pin in part.split(", "))
        return self.circuit.part_names.get(part, f"the wiring at {pins}")

    def _rank(self, clues: tuple[Clue, ...]) -> _Ranked:
        terms = [likelihood(*self._box(clue), clue.value, clue.uncertainty, self.reader) for clue in clues]
        return _Ranked(
            hypotheses=self._singles,
            chances=_posterior(self._prior, terms),
            boxes=self._boxes[self.state_key(self.state)],
            terms=terms,
        )

    def _box(self, clue: Clue) -> tuple[Matrix, Matrix]:
        if clue.kind is Kind.voltage:
            return live_box(self.circuit, clue, self._singles)
        key = self.state_key(clue.state)
        if key not in self._boxes:
            self._boxes[key] = boxes(self.circuit, clue.state, self._defects, self.reader)
        return self._boxes[key].of(clue)

    def _unexplained(self, clues: tuple[Clue, ...], ranked: _Ranked, best: int) -> tuple[Clue, ...]:
        """The readings that the likeliest hypothesis takes for slips."""
        slip = self.reader.slip
        floor = [slip * (self.reader.slip_open if clue.value is None else 0.04) for clue in clues]
        return tuple(c for c, term, least in zip(clues, ranked.terms, floor, strict=True) if term[best] <= 2 * least)

    def _with_pairs(self, clues: tuple[Clue, ...], ranked: _Ranked) -> _Ranked:
        """Singles, and each of the likeliest defects together with every other one."""
        dead = [clue for clue in clues if clue.kind is not Kind.voltage]
        if len(dead) < len(clues):
            return ranked
        firsts = self._firsts(clues, ranked)
        hypotheses, prior = list(ranked.hypotheses), [self._prior]
        lows, highs = [ranked.boxes.low], [ranked.boxes.high]
        terms = [[term] for term in ranked.terms]
        for number in firsts:
            first = ranked.hypotheses[number][0]
            others = [i for i, d in enumerate(self._defects) if d.part != first.part]
            seconds = [self._defects[i] for i in others]
            by_state = {self.state_key(self.state): boxes(self.circuit, self.state, seconds, self.reader, (first,))}
            for clue, column in zip(clues, terms, strict=True):
                key = self.state_key(clue.state)
                if key not in by_state:
                    by_state[key] = boxes(self.circuit, clue.state, seconds, self.reader, (first,))
                low, high = by_state[key].of(clue)
                column.append(likelihood(low[1:], high[1:], clue.value, clue.uncertainty, self.reader))
            own = by_state[self.state_key(self.state)]
            hypotheses += [(first, second) for second in seconds]
            prior.append(PAIR * self._prior[number] * self._prior[[i + 1 for i in others]])
            lows.append(own.low[1:])
            highs.append(own.high[1:])
        joined = [np.concatenate(column) for column in terms]
        box = ranked.boxes
        return _Ranked(
            hypotheses=hypotheses,
            chances=_posterior(np.concatenate(prior), joined),
            boxes=Boxes(
                terminals=box.terminals,
                low=np.vstack(lows),
                high=np.vstack(highs),
                pairs=box.pairs,
                column=box.column,
            ),
            terms=joined,
        )

    def _firsts(self, clues: tuple[Clue, ...], ranked: _Ranked) -> list[int]:
        """Single defects that explain most readings, the likeliest first."""
        explained = np.zeros(len(ranked.hypotheses))
        for clue in clues:
            explained += explains(*self._box(clue), clue.value, clue.uncertainty, self.reader)
        order = np.lexsort((-ranked.chances, -explained))
        by_chance = np.argsort(-ranked.chances, kind="stable")
        mixed = dict.fromkeys(int(i) for pair in zip(order, by_chance, strict=True) for i in pair if i)
        return list(mixed)[:FIRSTS]

    def _report(self, clues: tuple[Clue, ...], ranked: _Ranked, unexplained: tuple[Clue, ...]) -> Findings:
        shares = _by_part(ranked)
        order = sorted(shares, key=lambda part: -shares[part])
        found = tuple(part for part in order if shares[part] >= SURE)
        probe = None if found else self._next(clues, ranked)
        left = tuple(part for part in order if shares[part] > (1 - SURE) / 2)
        inseparable = left if probe is None and not found else ()
        shown = [part for part in order if shares[part] > 0.005][:8]
        suspects = tuple(self._suspect(part, shares[part], clues, ranked) for part in shown)
        return Findings(
            suspects=suspects,
            next_probe=probe,
            found=found,
            inseparable=inseparable,
            disagreeing=unexplained,
            sentence=self._sentence(suspects, found, inseparable, unexplained),
        )

    def _next(self, clues: tuple[Clue, ...], ranked: _Ranked) -> NextProbe | None:
        key = self.state_key(self.state)
        barred = {c.pair for c in clues if c.kind is not Kind.voltage and self.state_key(c.state) == key}
        groups_of_parts: dict[frozenset[str], int] = {}
        groups = [
            groups_of_parts.setdefault(frozenset(d.part for d in faults), len(groups_of_parts))
            for faults in ranked.hypotheses
        ]
        last = clues[-1].pair if clues else frozenset()
        best = best_pair(ranked.boxes, ranked.chances, groups, barred, last, self.reader)
        if best is None or best[1] < LEAST_BITS:
            return None
        column, bits, seconds = best
        a, b = ranked.boxes.pairs[column]
        if b in last and a not in last:
            a, b = b, a
        say = f"Black probe on {self.circuit.say(a)}, red probe on {self.circuit.say(b)}."
        return NextProbe(a=a, b=b, say=say, bits=bits, seconds=seconds)

    def _suspect(self, part: str, share: float, clues: tuple[Clue, ...], ranked: _Ranked) -> Suspect:
        own = [i for i, faults in enumerate(ranked.hypotheses) if part in _parts(faults)]
        best = max(own, key=lambda i: ranked.chances[i])
        faults = ranked.hypotheses[best]
        others = np.delete(np.arange(len(ranked.hypotheses)), own)
        weight = self._prior_of(ranked)[others]
        speaks_for, speaks_against = [], []
        for clue, term in zip(clues, ranked.terms, strict=True):
            rest = float(term[others] @ weight) / max(float(weight.sum()), 1e-300)
            if term[best] > TELLING * rest:
                speaks_for.append(clue.words(self.circuit))
            elif term[best] * TELLING < rest:
                speaks_against.append(clue.words(self.circuit))
        return Suspect(
            part=part,
            share=share,
            words="; ".join(defect.words(self.circuit) for defect in faults) or "nothing is wrong",
            faults=faults,
            speaks_for=tuple(speaks_for),
            speaks_against=tuple(speaks_against),
            history=history_words(self.circuit, part, self.history),
        )

    def _prior_of(self, ranked: _Ranked) -> Matrix:
        extra = len(ranked.hypotheses) - len(self._prior)
        return np.concatenate((self._prior, np.zeros(extra))) if extra else self._prior

    def _sentence(
        self, suspects: tuple[Suspect, ...], found: tuple[str, ...], inseparable: tuple[str, ...], odd: tuple[Clue, ...]
    ) -> str:
        if odd:
            readings = "; ".join(clue.words(self.circuit) for clue in odd)
            return f"Nothing explains all readings. Take these again: {readings}."
        if found and suspects:
            return f"{suspects[0].words[:1].upper()}{suspects[0].words[1:]} ({suspects[0].share:.0%})."
        names = [self.name(part) for part in inseparable]
        if inseparable:
            return f"No probe can tell these apart: {', '.join(names)}."
        return f"Most likely so far: {suspects[0].words} ({suspects[0].share:.0%})." if suspects else ""


def _posterior(prior: Matrix, terms: list[Matrix]) -> Matrix:
    """Bayes' rule in logarithms; the result adds up to one."""
    logs = np.log(np.maximum(prior, 1e-300))
    for term in terms:
        logs = logs + np.log(np.maximum(term, 1e-300))
    weights = np.exp(logs - logs.max())
    posterior: Matrix = weights / weights.sum()
    return posterior


def _by_part(ranked: _Ranked) -> dict[str, float]:
    """Chance of each replaceable part; "" stands for nothing wrong."""
    shares: dict[str, float] = {}
    for faults, chance in zip(ranked.hypotheses, ranked.chances, strict=True):
        for part in _parts(faults):
            shares[part] = shares.get(part, 0.0) + float(chance)
    return shares


def _parts(faults: Faults) -> set[str]:
    """The replaceable parts of a hypothesis; "" when nothing is wrong."""
    return {defect.part for defect in faults} or {""}
