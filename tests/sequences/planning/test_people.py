"""Who may do what by the list of people: initials, rights, and the day on which rights end."""

from dataclasses import replace

import pytest

from benchapp.sequences.planning.entries import person
from benchapp.sequences.planning.people import ListedPerson, Right, may, refuse_person, unlisted
from benchapp.sequences.planning.planned import Workshop
from benchapp.sequences.planning.workshop_rules import refuse_change, refuse_workshop
from tests.people import PEOPLE, staffed

AT = "2026-06-01T09:00:00Z"
KIT = ListedPerson(name="Kit Thorne", initials="K.T.", rights=(Right.live_work,), until="2026-06-01")


@pytest.mark.parametrize("said", ["KT", "kt", " K.T. ", "k t", "K-T"])
def test_initials_are_told_by_letters_and_digits_alone(said):
    assert person(said) == "kt"
    assert may((KIT,), said, Right.live_work, AT)


def test_a_right_holds_to_the_end_of_its_last_day():
    assert may((KIT,), "KT", Right.live_work, "2026-06-01T23:59:59Z")
    assert not may((KIT,), "KT", Right.live_work, "2026-06-02T00:00:00Z")
    assert "ended on 2026-06-01" in refuse_person((KIT,), "KT", Right.live_work, "2026-06-02T09:00:00Z")


def test_an_end_that_is_no_day_is_past():
    assert not may((replace(KIT, until="soon"),), "KT", Right.live_work, AT)


def test_a_right_that_was_not_given_is_not_there_and_who_has_it_is_named():
    refused = refuse_person((KIT, *PEOPLE[1:]), "KT", Right.sign_off, AT)
    assert refused.startswith("Kit Thorne (K.T.) may not sign a unit off for sale.")
    assert "CD, SV, MH" in refused
    assert refused.endswith("The list of people stands in the workshop's settings.")


@pytest.mark.parametrize("right", [*Right])
def test_a_supervisor_may_do_all_of_it(right):
    assert may(PEOPLE, "CD", right, AT)


@pytest.mark.parametrize("right", [*Right])
def test_with_nobody_on_the_list_nobody_has_a_right(right):
    assert not may((), "KT", right, AT)
    assert "nobody is on the list" in refuse_person((), "KT", right, AT)


def test_initials_that_are_not_on_the_list_are_said():
    assert unlisted(PEOPLE, "ZZ", AT).startswith("ZZ is not on the list of people: dead work only.")
    assert "ended on 2026-06-01" in unlisted((KIT,), "KT", "2026-06-02T09:00:00Z")
    assert unlisted(PEOPLE, "a.b.", AT) == unlisted(PEOPLE, " ", AT) == ""


@pytest.mark.parametrize(
    ("people", "words"),
    [
        ((replace(KIT, name=" "), *PEOPLE), "has a name"),
        ((replace(KIT, initials=".."), *PEOPLE), "initials of letters or digits"),
        ((KIT, *PEOPLE), "have the same initials"),
        ((replace(KIT, initials="X", until="tomorrow"), *PEOPLE), "is no date"),
        ((replace(KIT, initials="X", until="20260601"), *PEOPLE), "is no date"),
        ((KIT,), "needs a supervisor whose rights have no end"),
        ((replace(KIT, rights=(Right.supervisor,)),), "needs a supervisor whose rights have no end"),
    ],
)
def test_a_list_that_cannot_be_is_refused(people, words):
    assert words in refuse_workshop(Workshop(people=people))


LOOSER = {
    "no insulation tester": {"insulation_tester": False},
    "dead tests last longer": {"dead_tests_last_days": 31},
    "region": {"region": "eu"},
    "mains readings serve longer": {"mains_fresh_for": 601.0},
    "a smaller guard band": {"guard_factor": 0.5},
    "people": {"people": (*PEOPLE, ListedPerson(name="New Hand", initials="NH", rights=(Right.live_work,)))},
}


@pytest.mark.parametrize("words", LOOSER)
def test_settings_that_ask_for_less_need_a_supervisor_and_a_reason(words):
    after = staffed(**LOOSER[words])

    def refused(by, reason):
        return refuse_change(staffed(), after, by=by, at=AT, reason=reason)

    assert words in refused("AB", "it is so")
    assert "Ada Brook (AB) may not do what a supervisor does" in refused("AB", "it is so")
    assert "Say why" in refused("CD", " ")
    assert refused("CD", "it is so") is None


def test_settings_that_ask_for_more_are_anybodys():
    after = staffed(dead_tests_last_days=7, guard_factor=2.0)
    assert refuse_change(staffed(insulation_tester=True), after, by="AB", at=AT, reason="") is None


def test_the_first_list_is_made_by_a_supervisor_who_is_on_it():
    begun = Workshop(demo=True)
    assert refuse_change(begun, staffed(), by="SV", at=AT, reason="") is None
    assert "may not do what a supervisor does" in refuse_change(begun, staffed(), by="AB", at=AT, reason="")
    loose = staffed(insulation_tester=False)
    assert "Say why" in refuse_change(begun, loose, by="SV", at=AT, reason="")


def test_nobody_is_struck_from_the_list():
    words = refuse_change(staffed(), Workshop(people=PEOPLE[1:]), by="CD", at=AT, reason="left")
    assert words.startswith("Ada Brook stays on the list")
    assert refuse_change(staffed(), staffed(people=()), by="CD", at=AT, reason="left")
