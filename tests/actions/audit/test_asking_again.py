"""Every entry of a history is judged and held before the gate again: what the gate would refuse does not verify."""

import json
from dataclasses import dataclass, replace

import pytest

from benchapp.actions.audit.asking_again import ask_again
from benchapp.errors import BenchError
from benchapp.judgement.statements.statements import RULES_VERSION
from benchapp.sequences.planning.bench_day import BenchDay
from benchapp.sequences.planning.contents import content_json, read_content
from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.entry_contents import WithdrawalContent
from tests.people import OPENED, staffed
from tests.sequences.bench import Unit, plan_of
from tests.sequences.interlock.careless import DESIGNS, HAPPENINGS, Hands, beginnings

FIRST_LIVE = "first-power.plug-in"


def as_read_back(entries):
    """The entries as they come from disk, numbered as they stand."""
    return [
        replace(
            entry,
            number=number,
            content=read_content(entry.kind, json.loads(json.dumps(content_json(entry.content)))),
            rules=entry.rules or RULES_VERSION,
        )
        for number, entry in enumerate(entries, start=1)
    ]


def wrong_in(plan, entries, **more):
    """By number of the entry: what is said of it."""
    found = {entry.number: words for entry, words in ask_again(lambda _: plan, as_read_back(entries), **more)}
    assert list(found) == list(range(1, len(entries) + 1))
    return {number: words for number, words in found.items() if words}


@pytest.fixture(scope="module")
def whole():
    unit = Unit(plan_of())
    unit.finish()
    return unit


def at(unit, address):
    """Where in the history the step was first answered."""
    return next(n for n, e in enumerate(unit.entries) if e.address == address and e.kind is EntryKind.answer)


@pytest.mark.parametrize("of", range(len(DESIGNS)))
def test_an_honest_history_comes_out_as_it_was_recorded(of):
    unit = beginnings(of)[-1]
    assert wrong_in(unit.plan, unit.entries) == {}


def test_whatever_befell_the_unit_what_passed_the_gate_passes_it_again():
    hands = Hands(3)
    for what in HAPPENINGS:
        hands.happen(what)
        hands.go_on(2)
    assert len(hands.unit.entries) > 100
    assert wrong_in(hands.unit.plan, hands.unit.entries) == {}


def test_a_live_answer_before_any_dead_test_does_not_verify(whole):
    plugged_in = whole.entries[at(whole, FIRST_LIVE)]
    (words,) = wrong_in(whole.plan, [plugged_in])[1]
    assert words.startswith("it would have been refused: Mains stays away from this unit until the visual inspection")


@pytest.mark.parametrize(
    ("missing", "words"),
    [
        ("continuity.earth", "the earth path is good"),
        ("continuity.primary", "the primary is whole"),
        ("insulation.live-to-case", "the insulation is good"),
        ("visual-inspection.outside", "the visual inspection holds"),
        ("plug-rewire.fuse", "the plug was inspected"),
    ],
)
def test_a_dead_test_taken_out_of_the_history_shuts_the_live_answers_after_it(whole, missing, words):
    left = [entry for entry in whole.entries if entry.address != missing]
    found = wrong_in(whole.plan, left)
    first = next(number for number, entry in enumerate(left, start=1) if entry.address == FIRST_LIVE)
    assert "it would have been refused: " in found[first][0]
    assert words in found[first][0]


def test_a_dead_test_withdrawn_in_between_shuts_the_live_answers_after_it(whole):
    place = at(whole, FIRST_LIVE)
    earth = whole.entries[at(whole, "continuity.earth")]
    taken_back = replace(
        earth,
        kind=EntryKind.withdrawal,
        uuid="w",
        at=whole.entries[place].at,
        content=WithdrawalContent(number=earth.number),
    )
    found = wrong_in(whole.plan, [*whole.entries[:place], taken_back, *whole.entries[place:]])
    assert place + 1 not in found
    assert "the earth path is good: the answer was withdrawn" in found[place + 2][0]


def test_a_forged_value_and_a_gate_that_would_have_refused_are_both_said(whole):
    place = at(whole, "live-voltage.mains")
    forged = replace(whole.entries[place], content=replace(whole.entries[place].content, value=0.5))
    words = wrong_in(whole.plan, [forged])[1]
    assert words[0].startswith("it would have been refused: Mains stays away")
    assert any(one.startswith("value was recorded as 0.5, and comes out as") for one in words)


def test_a_good_withdrawal_of_nothing_does_not_verify(whole):
    entry = replace(whole.entries[0], kind=EntryKind.withdrawal, content=WithdrawalContent(number=7))
    assert wrong_in(whole.plan, [entry]) == {1: ("it would have been refused: This unit has no entry 7",)}


def test_a_step_that_the_plan_does_not_have_is_said_once(whole):
    strange = replace(whole.entries[at(whole, "continuity.earth")], address="continuity.nowhere")
    assert wrong_in(whole.plan, [strange]) == {
        1: ("it would have been refused: This run has no step “continuity.nowhere”",)
    }


def test_an_answer_at_another_step_of_the_same_name_does_not_verify(whole):
    place = at(whole, "continuity.earth")
    changed = replace(whole.entries[place].content, step_digest="1:0123456789abcdef")
    entries = [*whole.entries[:place], replace(whole.entries[place], content=changed), *whole.entries[place + 1 :]]
    found = wrong_in(whole.plan, entries)
    assert found[place + 1] == ("it was given at another step than the continuity.earth that its run pinned",)
    assert "the earth path is good: this step has changed since" in found[at(whole, FIRST_LIVE) + 1][0]


def test_rules_that_this_program_does_not_have_are_said_not_guessed(whole):
    place = at(whole, "continuity.earth")
    other = replace(whole.entries[place], rules="0")
    found = wrong_in(whole.plan, [*whole.entries[:place], other])
    assert found == {place + 1: (f"it was judged by rules 0; this program has rules {RULES_VERSION} and cannot say",)}


def test_an_entry_whose_plan_cannot_be_made_is_said_and_the_walk_goes_on(whole):
    def plan_of_entry(entry):
        if entry.number == 2:
            raise BenchError("The pinned text of continuity is gone.")
        return whole.plan

    found = [words for _, words in ask_again(plan_of_entry, as_read_back(whole.entries[:4]))]
    assert found == [(), ("it cannot be judged again: The pinned text of continuity is gone",), (), ()]


@pytest.mark.parametrize("at_text", ["", "yesterday", "2026-06-01", "2026-13-01T00:00:00Z"])
@pytest.mark.parametrize("address", ["continuity.leads-before", "continuity.earth", FIRST_LIVE, "make-safe.low"])
def test_a_time_that_is_none_is_a_sentence_and_the_walk_goes_on(whole, at_text, address):
    place = at(whole, address)
    forged = replace(whole.entries[place], at=at_text)
    found = wrong_in(whole.plan, [*whole.entries[:place], forged, *whole.entries[place + 1 :]])
    assert place + 1 in found


# What lies outside of the unit's own entries -----------------------------------------------------------------------


def test_the_gate_is_asked_under_the_settings_of_the_hour(whole):
    """Without an insulation tester full mains stays shut, whatever another hour's settings let through."""
    without = plan_of(workshop=staffed(insulation_tester=False))
    place = at(whole, "live-voltage.plug-in")
    since = ask_again(lambda entry: whole.plan if entry.number <= place else without, as_read_back(whole.entries))
    found = {entry.number: words for entry, words in since if words}
    assert min(found) == place + 1
    assert "no insulation tester here: full mains stays shut" in found[place + 1][0]


@dataclass(frozen=True, kw_only=True)
class Found:
    meter: str
    proved: bool = True
    lead_resistance: float | None = 0.0
    nulled: bool = False


def day_of(entry, **changed):
    """The day on which the meters were proved at the very time that each entry says."""
    said = getattr(entry.content, "proved", "") or "2026-06-01T08:00:00+00:00"
    meters = tuple(Found(meter=meter) for meter in ("tb-m1", "tb-it1", "tb-pm1"))
    return replace(BenchDay(opened=said, meters=meters, rcd_button_tested=True, **OPENED), **changed)


def test_an_honest_history_is_borne_out_by_its_day(whole):
    assert wrong_in(whole.plan, whole.entries, day_of=day_of) == {}


@pytest.mark.parametrize(
    ("changed", "kind", "words"),
    [
        ({"rcd_button_tested": False}, EntryKind.caution, "The RCD's button was not tried at today's bench opening"),
        ({"rcd_rating": 0.3}, EntryKind.caution, "above 30 mA, and that protects no people"),
        ({"rcd_reset": False}, EntryKind.caution, "that the RCD was switched on again"),
        ({"opened": "2026-05-31T08:00:00+00:00"}, EntryKind.caution, "This bench was not opened today"),
        ({"opened": "2026-06-01T23:00:00+00:00"}, EntryKind.caution, "This bench was not opened today"),
        ({"room": ""}, EntryKind.caution, "Nobody else is named as in the room"),
        ({"source": "a socket"}, EntryKind.caution, "No meter was proved on a known source"),
        ({"closed": True}, EntryKind.answer, "The bench was closed for today"),
        ({"opened": "2026-06-01T07:00:00+00:00"}, EntryKind.meter, "This is not what the day's bench opening found of"),
        (
            {"meters": (Found(meter="tb-pm1", proved=False), Found(meter="tb-m1"))},
            EntryKind.answer,
            "This meter was not proved at the last",
        ),
    ],
)
def test_what_the_day_does_not_bear_out_does_not_verify(whole, changed, kind, words):
    found = wrong_in(whole.plan, whole.entries, day_of=lambda entry: day_of(entry, **changed))
    said = [words for number, one in found.items() if whole.entries[number - 1].kind is kind for words in one]
    assert said
    assert all(one.startswith("it would have been refused: ") for one in said)
    assert any(words in one for one in said)
