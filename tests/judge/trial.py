"""One unit searched to the end: what the program asks for is read and handed over, until it asks for nothing more."""

from dataclasses import dataclass
from random import Random

from tests.judge.design import Design, changed, design, made, unit
from tests.judge.drawing import Case
from tests.judge.hands import Hands
from tests.judge.program import Answer, ask

MOST = 30
SLIPS = 0.02
"""share of readings that go wrong on a unit with a fault; common practice, no source"""
CORNERS = ("low", "high", "ends", "even")
SOUND = 12
"""sound units of each design, every third at the same kind of corner"""
ALIKE = (0.1, 0.1)
"""share, and ohms, within which a reading that is taken again came out the same"""
TO_OHM = {"ohm": 1.0, "kohm": 1e3, "Mohm": 1e6}


@dataclass(frozen=True, kw_only=True)
class Outcome:
    """How a search ended: what it named (the likeliest first), readings taken, whether it ended by itself."""

    named: tuple[str, ...]
    probes: int
    ended: bool
    sentence: str
    read: tuple[str, ...]


def run(case: Case) -> Outcome:
    """The search of a unit with the faults of that case."""
    of, chance = design(case.design), Random(f"unit {case.name}")
    said = made(of, chance, chance.choice(CORNERS))
    change = _on(of, said, case)
    broken = unit(of, changed(said, change))
    if case.kind == "flickering":
        return _search(of, Hands(of, unit(of, said), chance, slips=SLIPS, bad=broken))
    return _search(of, Hands(of, broken, chance, slips=SLIPS))


def run_sound(name: str, number: int) -> Outcome:
    """The search of a unit with nothing wrong and no slip, its values at corners."""
    of, chance = design(name), Random(f"sound {name} {number}")
    return _search(of, Hands(of, unit(of, made(of, chance, CORNERS[number % len(CORNERS)])), chance))


def _on(of: Design, said: dict, case: Case) -> dict:
    """The change on this unit: what it makes of a part's value counts from the unit's own."""
    own = {}
    for name, keys in case.change.get("set", {}).items():
        share = said[name].get("value", 0.02) / float(of.parts[name].get("value", 0.02))
        relative = of.kind(name) in ("resistor", "winding") and "value" in keys
        own[name] = {**keys, "value": keys["value"] * share} if relative else keys
    return {**case.change, "set": own}


def _search(of: Design, hands: Hands) -> Outcome:
    shown: dict[tuple[str, str], list[str]] = {}
    answer, count = ask(of.name, ()), 0
    while count < MOST and (pair := _wanted(answer, shown)) is not None:
        shown.setdefault(pair, []).append(hands.read(*pair))
        count += 1
        answer = ask(of.name, _told(shown))
    ended = _wanted(answer, shown) is None
    return Outcome(named=answer.named, probes=count, ended=ended, sentence=answer.sentence, read=_told(shown))


def _wanted(answer: Answer, shown: dict[tuple[str, str], list[str]]) -> tuple[str, str] | None:
    """The next pair to read, as it was read before where it was; what was read three times is not read again."""
    known = {frozenset(pair): pair for pair in shown}
    if answer.probe is not None:
        return known.get(frozenset(answer.probe), answer.probe)
    again = [known[frozenset(pair)] for pair in answer.again if frozenset(pair) in known]
    return next((pair for pair in again if len(shown[pair]) < 3), None)


def _told(shown: dict[tuple[str, str], list[str]]) -> tuple[str, ...]:
    """Each pair's last reading; one that came out the same again says so."""
    told = []
    for (a, b), texts in shown.items():
        twice = " twice" if len(texts) > 1 and _alike(*texts[-2:]) else ""
        told.append(f"{a},{b}={texts[-1]}{twice}")
    return tuple(told)


def _alike(one: str, other: str) -> bool:
    if "OL" in (one, other):
        return one == other
    first, second = (float(text.split()[0]) * TO_OHM[text.split()[1]] for text in (one, other))
    return abs(first - second) <= ALIKE[0] * max(first, second) + ALIKE[1]
