"""The fewest readings, on average, that any order of probing needs to tell these faults apart: exact, where it can be.

A decision tree over the drawn faults of a design, each as likely as the others: a reading parts those that are left by
its class, and a branch ends where one place could be at fault in all of them, or no reading tells them apart. Every
sub-set that comes up is solved once (dynamic programming; the textbook case is the optimal test sequence of Pattipati
and Alexandridis 1990, from memory, which tests hold here).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from tests.judge.seen import Pair

MOST_STATES = 60_000


class TooLarge(Exception):
    """More sub-sets come up than are worth solving."""


@dataclass
class Tree:
    """Items by number: how likely each is, which places would be right of it, and its answer to every question."""

    weights: Sequence[float]
    truths: Sequence[frozenset[str]]
    answers: Sequence[Sequence[int]]
    """of each question, the answer of every item"""
    _known: dict[int, float] = field(default_factory=dict)

    def cost(self) -> float:
        """Mean number of questions; raises TooLarge."""
        total = sum(self.weights)
        return self._cost((1 << len(self.weights)) - 1) / total

    def _cost(self, left: int) -> float:
        if left in self._known:
            return self._known[left]
        if len(self._known) > MOST_STATES:
            raise TooLarge
        items = [item for item in range(len(self.weights)) if left >> item & 1]
        parts = self._partings(items)
        if frozenset.intersection(*(self.truths[item] for item in items)) or not parts:
            best = 0.0
        else:
            weight = sum(self.weights[item] for item in items)
            best = weight + min(sum(self._cost(part) for part in one) for one in parts)
        self._known[left] = best
        return best

    def _partings(self, items: Sequence[int]) -> list[tuple[int, ...]]:
        """The ways in which one question parts them, each once, what parts nothing left out."""
        found = {}
        for answers in self.answers:
            groups: dict[int, int] = {}
            for item in items:
                groups[answers[item]] = groups.get(answers[item], 0) | 1 << item
            if len(groups) > 1:
                found[tuple(sorted(groups.values()))] = None
        return list(found)


def fewest(signatures: Sequence[Mapping[Pair, int]], truths: Sequence[frozenset[str]]) -> float | None:
    """The mean of the optimal tree over these faults; None where it is too large to be computed."""
    merged: dict[tuple[int, ...], tuple[float, frozenset[str]]] = {}
    pairs = sorted(signatures[0])
    for signature, truth in zip(signatures, truths, strict=True):
        key = tuple(signature[pair] for pair in pairs)
        weight, known = merged.get(key, (0.0, frozenset()))
        merged[key] = weight + 1, known | truth
    columns = {tuple(key[number] for key in merged) for number in range(len(pairs))}
    tree = Tree(
        weights=[weight for weight, _ in merged.values()],
        truths=[truth for _, truth in merged.values()],
        answers=sorted(columns),
    )
    try:
        return tree.cost()
    except TooLarge:
        return None
