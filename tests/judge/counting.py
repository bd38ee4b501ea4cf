"""Searches counted: of each design how many faults were named rightly, and how many sound units were accused."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field

from tests.judge.design import designs
from tests.judge.drawing import Case, cases
from tests.judge.optimal import fewest
from tests.judge.seen import signature, told_together
from tests.judge.trial import SOUND, Outcome, run, run_sound
from tests.judge.verdicts import GROUP, LATER, OPEN, PASSED, RIGHT, WRONG, found_both, is_shown, verdict

EVERYDAY, EVERYDAY_SOUND = 4, 2
"""steady faults and sound units of each design that an everyday run searches"""


@dataclass
class Count:
    """What came of the searches of one design, or of all."""

    name: str
    words: Counter[str] = field(default_factory=Counter)
    """verdicts on steady faults that some reading shows"""
    hidden: Counter[str] = field(default_factory=Counter)
    """and on those that none shows"""
    flickering: Counter[str] = field(default_factory=Counter)
    doubles: list[bool] = field(default_factory=list)
    accused: list[bool] = field(default_factory=list)
    used: float = 0.0
    fewest: float = 0.0
    """readings taken, and those of the optimal tree, over the designs of which the tree was computed"""

    @property
    def shown(self) -> int:
        """Steady faults that some reading shows."""
        return self.words.total()

    def share(self, *words: str) -> float:
        """Of those, the share that ended so."""
        return sum(self.words[word] for word in words) / max(self.shown, 1)

    @property
    def ratio(self) -> float:
        """Readings taken over those of the optimal tree."""
        return self.used / self.fewest if self.fewest else 0.0

    def add(self, other: "Count") -> None:
        """Count another one's searches too."""
        for name in ("words", "hidden", "flickering"):
            getattr(self, name).update(getattr(other, name))
        self.doubles += other.doubles
        self.accused += other.accused
        self.used += other.used
        self.fewest += other.fewest


def count(name: str, *, whole: bool = True, trees: bool = True) -> Count:
    """The searches of a design: all, or those of an everyday run."""
    counted, searched = Count(name), []
    for case in _chosen(name, whole=whole):
        outcome = run(case)
        if case.kind == "double":
            _count_double(counted, case, outcome)
        elif case.kind == "flickering":
            counted.flickering[verdict(case, outcome)] += 1
        else:
            shown = is_shown(case)
            (counted.words if shown else counted.hidden)[verdict(case, outcome)] += 1
            searched += [(case, outcome)] if shown else []
    counted.accused = [bool(run_sound(name, number).named) for number in range(SOUND if whole else EVERYDAY_SOUND)]
    if trees:
        _count_probes(counted, searched)
    return counted


def _chosen(name: str, *, whole: bool) -> Sequence[Case]:
    of_it = [case for case in cases() if case.design == name]
    return of_it if whole else [case for case in of_it if case.kind == "steady"][:EVERYDAY]


def _count_double(counted: Count, case: Case, outcome: Outcome) -> None:
    """Two faults count where both show: together they read otherwise than either alone."""
    if is_shown(case) and told_together(case.design, *(fault.change for fault in case.faults)):
        counted.doubles.append(found_both(case, outcome))


def _count_probes(counted: Count, searched: list[tuple[Case, Outcome]]) -> None:
    signatures = [signature(counted.name, case.change) for case, _ in searched]
    least = fewest(signatures, [frozenset(case.faults[0].truth) for case, _ in searched]) if searched else None
    if least is not None:
        counted.fewest = least * len(searched)
        counted.used = float(sum(outcome.probes for _, outcome in searched))


def count_all(*, whole: bool = True, trees: bool = True) -> list[Count]:
    """Of every design, then of all together."""
    found = [count(name, whole=whole, trees=trees) for name in designs()]
    together = Count("all")
    for one in found:
        together.add(one)
    return [*found, together]


HEAD = ("design", "shown", RIGHT, GROUP, LATER, WRONG, PASSED, OPEN, "hidden: sound", "flickers", "two", "accused")
HEAD += ("readings / fewest",)


def row(one: Count) -> tuple[str, ...]:
    """A line of the table; shares are of the faults that some reading shows."""
    words = [f"{100 * one.share(word):.0f} %" for word in (RIGHT, GROUP, LATER, WRONG, PASSED, OPEN)]
    hidden = f"{one.hidden[PASSED]} of {one.hidden.total()}"
    flickers = f"{one.flickering[RIGHT]} of {one.flickering.total()}"
    two, accused = (f"{sum(some)} of {len(some)}" for some in (one.doubles, one.accused))
    ratio = f"{one.used:.0f} / {one.fewest:.0f} = {one.ratio:.2f}" if one.fewest else "-"
    return (one.name, str(one.shown), *words, hidden, flickers, two, accused, ratio)
