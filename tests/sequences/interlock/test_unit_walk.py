"""One walk along a history finds the unit before every entry as a fold of the entries before leaves it."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchapp.sequences.answering.evaluate import answer_from, evaluate
from benchapp.sequences.interlock.fold import fold, state_of
from benchapp.sequences.interlock.gate import refuse, refuse_entry
from benchapp.sequences.interlock.unit_walk import walk
from tests.sequences.bench import Unit, plan_of
from tests.sequences.interlock.careless import (
    ADDRESSES,
    DESIGNS,
    EDITS,
    FACTS,
    HAPPENINGS,
    HOW,
    LIVE,
    OPENED,
    PARTS,
    STARTS,
    EntryKind,
    Hands,
    beginnings,
)


def assert_alike(plans, entries, asked=lambda number: True):
    """At the entries that are asked about; between them the walk goes on unseen."""
    for entry, standing in walk(lambda entry: plans[entry.number - 1], entries):
        if not asked(entry.number):
            continue
        plan, before = plans[entry.number - 1], entries[: entry.number - 1]
        plain = fold(plan, before, at=entry.at)
        if entry.kind is EntryKind.answer and entry.address in plan.by_address:
            given = answer_from(entry.content)
            walked = evaluate(plan, standing.state, entry.address, given, at=entry.at)
            assert walked == evaluate(plan, plain, entry.address, given, at=entry.at)
        assert refuse_entry(standing.engine, entry) is refuse(plan, before, entry) is None, "it was recorded"
        assert state_of(standing.engine) == plain


@pytest.mark.parametrize("of", range(len(DESIGNS)))
def test_a_unit_that_went_all_the_way_is_found_as_the_fold_leaves_it(of):
    unit = beginnings(of)[-1]
    assert_alike([unit.plan] * len(unit.entries), unit.entries)


@pytest.mark.parametrize("of", range(len(DESIGNS)))
def test_a_history_with_more_than_the_route_asks_is_found_as_the_fold_leaves_it(of):
    hands = Hands(3, of=of)
    for what in HAPPENINGS:
        hands.happen(what)
        hands.go_on(2)
    plans = [hands.unit.plan] * len(hands.unit.entries)
    assert len(plans) > 100
    assert_alike(plans, hands.unit.entries)


DEEDS = st.one_of(
    st.tuples(st.just("go_on"), st.integers(1, 25)),
    st.tuples(st.just("jump"), st.sampled_from(ADDRESSES), st.sampled_from(HOW)),
    st.tuples(st.just("jump"), st.sampled_from(LIVE)),
    st.tuples(st.just("mend"), st.sampled_from(PARTS), st.sampled_from(OPENED)),
    st.tuples(st.just("happen"), st.sampled_from(HAPPENINGS), st.sampled_from(["MH", "KT"])),
    st.tuples(st.just("say"), st.sampled_from(FACTS), st.sampled_from(["MH", "KT"])),
    st.tuples(st.just("withdraw"), st.integers(1, 12)),
    st.tuples(st.just("rest"), st.sampled_from([1, 15, 24 * 31, -1])),
    st.tuples(st.just("edit"), st.sampled_from(sorted(EDITS))),
    st.tuples(st.just("tester"), st.booleans()),
)


def do(hands: Hands, deed: str, *said) -> None:
    unit = hands.unit
    if deed == "withdraw":
        hands.do(lambda: unit.withdraw(unit.entries[-min(said[0], len(unit.entries))]) if unit.entries else None)
    elif deed == "say":
        hands.happen((EntryKind.fact, "", {"facts": said[0]}), said[1])
    elif deed == "rest":
        unit.wait(hours=said[0])
    elif deed == "tester":
        hands.change_settings(tester=said[0])
    else:
        getattr(hands, deed)(*said)


@settings(max_examples=settings().max_examples // 5, deadline=None)
@given(
    start=st.sampled_from(STARTS),
    of=st.sampled_from([0, 0, *range(len(DESIGNS))]),
    deeds=st.lists(DEEDS, min_size=1, max_size=8),
    every=st.integers(1, 4),
)
def test_whatever_befell_the_unit_the_walk_finds_what_the_fold_finds(start, of, deeds, every):
    """Whatever files and settings the entries were made under, and however seldom the walk is asked."""
    hands = Hands(start, of=of)
    plans = [hands.unit.plan] * len(hands.unit.entries)
    for deed in deeds:
        do(hands, *deed)
        plans += [hands.unit.plan] * (len(hands.unit.entries) - len(plans))
    assert_alike(plans, hands.unit.entries, lambda number: number % every == 0 and number > start * 10)


def test_what_was_asked_of_a_plan_serves_no_other_plan_made_from_it():
    unit = Unit(plan_of())
    unit.go_to("continuity.leads-before")
    assert unit.plan.index.by_role
    assert not replace(unit.plan, mains_fed=False).index.by_role
