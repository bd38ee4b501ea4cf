"""What is written by habit is answered with how our files say it; what is suggested can be read."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.judgement.acceptance.accept_habits import accept_suggestion, accuracy_suggestion
from benchapp.judgement.acceptance.accept_text import parse_accept
from benchapp.judgement.meters.accuracy import parse_accuracy
from benchapp.judgement.statements.problems import AcceptProblem, AccuracyProblem


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("max 3 %", "at most 3 %"),
        ("max. 0.1 ohm", "at most 0.1 ohm"),
        ("maximum 0.1 ohm", "at most 0.1 ohm"),
        ("0.1 ohm max", "at most 0.1 ohm"),
        ("<= 5 V", "at most 5 V"),
        ("<5 V", "at most 5 V"),
        ("less than 5 V", "at most 5 V"),
        ("up to 5 V", "at most 5 V"),
        ("min 1 Mohm", "at least 1 Mohm"),
        (">1 Mohm", "at least 1 Mohm"),
        ("1 Mohm or more", "at least 1 Mohm"),
        ("8 V to 14 V", "between 8 V and 14 V"),
        ("8 to 14 V", "between 8 V and 14 V"),
        ("8-14 V", "between 8 V and 14 V"),
        ("8 V ... 14 V", "between 8 V and 14 V"),
        ("from 8 V to 14 V", "between 8 V and 14 V"),
        ("betwen 8 V and 14 V", "between 8 V and 14 V"),
        ("8 V and 14 V", "between 8 V and 14 V"),
        ("12 V", "12 V ± 5 %"),
        ("from wirng", "from wiring"),
        ("wiring", "from wiring"),
        ("limits insulation", "limit insulation"),
    ],
)
def test_a_habit_is_answered_with_our_words(written, meant):
    assert accept_suggestion(written) == meant
    parse_accept(meant)
    with pytest.raises(AcceptProblem, match="Did you mean"):
        parse_accept(written)


@pytest.mark.parametrize("written", ["soon", "about right", "9", "± ±"])
def test_what_nobody_can_guess_gets_the_forms(written):
    with pytest.raises(AcceptProblem) as caught:
        parse_accept(written)
    assert "Did you mean" not in caught.value.sentence


@pytest.mark.parametrize("word", ["dgt", "dgts", "dig", "LSD", "cts"])
def test_other_words_for_counts_are_told_ours(word):
    with pytest.raises(AccuracyProblem, match=r"Did you mean “0\.5 % \+ 3 counts”\?"):
        parse_accuracy(f"0.5 % + 3 {word}")
    assert parse_accuracy("0.5 % + 3 digits").counts == 3


@given(st.text(max_size=3000) | st.text(alphabet="0123456789.,- toV≤<max", max_size=3000))
def test_any_text_is_looked_at_quickly_and_never_breaks(text):
    assert isinstance(accept_suggestion(text), str)
    assert isinstance(accuracy_suggestion(text), str)
