"""Counts of entries and units: each word in the form of its count, in the reader's language too."""

import pytest

from benchapp import words
from benchapp.actions.backups.counting import entries_words, holds_words, more_words


@pytest.mark.parametrize(
    ("entries", "units", "said"),
    [(0, 3, "0 entries of 3 units"), (1, 1, "1 entry of 1 unit"), (40, 12, "40 entries of 12 units")],
)
def test_both_counts_have_their_own_form(entries, units, said):
    assert holds_words(entries, units) == said


def test_what_is_left_out_is_counted_and_nothing_said_of_none():
    assert more_words(1) == " and 1 more unit"
    assert (more_words(0), more_words(-2)) == ("", "")
    assert entries_words(2) == "2 entries"


def test_a_language_chooses_its_own_form_for_each_count(monkeypatch):
    """As German has it: "1 Eintrag" and "2 Einträge" are no ending of one word."""

    def german(sentence, count=-1):
        return {
            "{count} entr(y|ies)": "{count} Eintrag" if count == 1 else "{count} Einträge",
            "{entries} of {count} unit(s)": "{entries} zu {count} Stück",
        }.get(sentence, sentence)

    monkeypatch.setattr(words, "_translate", german)
    assert words.shown(holds_words(1, 3)) == "1 Eintrag zu 3 Stück"
    assert words.shown(holds_words(2, 1)) == "2 Einträge zu 1 Stück"
