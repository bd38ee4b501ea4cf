"""What verifying costs: judged again and held before the gate again, against the bare judging of prepared states.

Times are those of this process. The histories are those of whole units, gone all the way, as they come from disk.
"""

import json
import time
from dataclasses import replace

import pytest

from benchapp.actions.audit.asking_again import ask_again
from benchapp.judgement.statements.statements import RULES_VERSION
from benchapp.sequences.answering.evaluate import answer_from, evaluate
from benchapp.sequences.interlock.fold import fold
from benchapp.sequences.planning.contents import content_json, read_content
from benchapp.sequences.planning.entries import EntryKind
from tests.sequences.bench import Unit, plan_of

pytestmark = pytest.mark.performance
ROUNDS = 40
ASKED = 5_000
"""entries a second, on one core of a machine with nothing else to do"""


def least(*works) -> list[float]:
    """Seconds of the quickest of many rounds, in turns: what else the machine does only adds to the others."""
    best = [float("inf")] * len(works)
    for _ in range(ROUNDS):
        for place, work in enumerate(works):
            begun = time.process_time()
            work()
            best[place] = min(best[place], time.process_time() - begun)
    return best


def worked(route: str, equipment: str):
    """The plan of a whole unit and its history as it is read back from disk."""
    unit = Unit(plan_of(route, equipment))
    unit.finish()
    entries = [
        replace(
            entry,
            content=read_content(entry.kind, json.loads(json.dumps(content_json(entry.content)))),
            rules=RULES_VERSION,
        )
        for entry in unit.entries
    ]
    return unit.plan, entries


@pytest.mark.parametrize(("route", "equipment"), [("mains-unit", "tb-mu1"), ("recorder", "tb-rec1")])
def test_judging_again_and_asking_the_gate_cost_little_beyond_bare_judging(route, equipment, capsys):
    plan, entries = worked(route, equipment)
    states = [fold(plan, entries[:place], at=entry.at) for place, entry in enumerate(entries)]

    def bare() -> None:
        for entry, state in zip(entries, states, strict=True):
            if entry.kind is EntryKind.answer:
                evaluate(plan, state, entry.address, answer_from(entry.content), at=entry.at)

    def whole() -> None:
        assert not any(words for _, words in ask_again(lambda _: plan, entries))

    floor, asked = least(bare, whole)
    with capsys.disabled():
        print(
            f"\n{equipment}: {len(entries) / asked:.0f} entries a second judged and held before the gate again "
            f"(asked: {ASKED}), bare judging {len(entries) / floor:.0f}: {asked / floor:.2f} ×"
        )
    assert asked <= 3.0 * floor


def test_a_history_twice_as_long_costs_twice_as_much(capsys):
    plan, entries = worked("mains-unit", "tb-mu1")
    longer = [
        replace(entry, number=number) for number, entry in enumerate(entries * 8, start=1) if entry.kind == "answer"
    ]
    half = longer[: len(longer) // 2]

    def walked(history):
        return lambda: [None for _ in ask_again(lambda _: plan, history)]

    of_half, of_all = least(walked(half), walked(longer))
    ratio = of_all / of_half
    with capsys.disabled():
        print(f"\n{len(longer)} answers of one unit against {len(half)}: {ratio:.2f} ×")
    assert ratio <= 2.6
