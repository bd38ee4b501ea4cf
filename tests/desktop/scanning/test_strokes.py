"""Fingers and devices told apart by time: over all a person and a scanner can do, neither passes for the other."""

from hypothesis import given
from hypothesis import strategies as st

from benchapp.desktop.scanning.strokes import Hand, Stroke, runs_of, text_of

SIGNS = st.characters(min_codepoint=33, max_codepoint=126)
PAUSES = st.one_of(st.floats(46, 400), st.floats(46, 120))
"""milliseconds between two keys of a person; at 120 words a minute they are 100 on the average"""


@st.composite
def typed(draw):
    """Fingers: now and then two keys in one, as a hand rolls, never three within 80 ms."""
    at, strokes, rolled = 0.0, [], False
    for sign in draw(st.lists(st.one_of(SIGNS, st.just("\r")), min_size=1, max_size=60)):
        strokes.append(Stroke(sign, at))
        rolled = not rolled and draw(st.integers(0, 5)) == 0
        at += draw(st.floats(1, 35) if rolled else PAUSES)
    return strokes


@st.composite
def held(draw):
    """One key held down: a first stroke, a pause, then the repeats of the keyboard, as fast as it is set."""
    sign, every = draw(SIGNS), draw(st.floats(5, 60))
    first = draw(st.floats(150, 700))
    repeats = [Stroke(sign, first + every * number, repeat=True) for number in range(draw(st.integers(1, 80)))]
    return [Stroke(sign, 0.0), *repeats]


@st.composite
def scanned(draw, start=0.0):
    """A scanner: 3 to 40 signs, 1 to 30 ms between any two, with Enter, Tab or nothing behind."""
    signs = draw(st.lists(SIGNS, min_size=3, max_size=40)) + draw(st.sampled_from([[], ["\r"], ["\t"]]))
    at, strokes = start, []
    for sign in signs:
        strokes.append(Stroke(sign, at))
        at += draw(st.floats(1, 30))
    return strokes


@given(typed())
def test_no_typing_is_taken_for_a_device(strokes):
    assert all(run.hand is not Hand.device for run in runs_of(strokes))


@given(held())
def test_no_held_key_is_taken_for_a_device(strokes):
    assert all(run.hand is Hand.person for run in runs_of(strokes))


@given(st.lists(st.floats(36, 44), min_size=5, max_size=30))
def test_a_device_that_stumbles_is_told_by_its_length(pauses):
    """Six keys and more, a little slower than a scanner is: no hand goes on like that."""
    at, strokes = 0.0, [Stroke("7", 0.0)]
    for pause in pauses:
        at += pause
        strokes.append(Stroke("7", at))
    assert [run.hand for run in runs_of(strokes)] == [Hand.device]


@given(st.lists(st.floats(36, 44), min_size=1, max_size=4))
def test_a_quick_hand_is_none(pauses):
    at, strokes = 0.0, [Stroke("7", 0.0)]
    for pause in pauses:
        at += pause
        strokes.append(Stroke("7", at))
    assert [run.hand for run in runs_of(strokes)] == [Hand.person]


@given(scanned())
def test_every_scan_is_one_burst_of_a_device(strokes):
    (run,) = runs_of(strokes)
    assert run.hand is Hand.device
    assert run.text == text_of(strokes)


@given(typed(), st.data())
def test_a_scan_between_two_words_is_told_from_them(strokes, data):
    later = strokes[-1].at + 60
    scan = data.draw(scanned(start=later))
    again = [Stroke(one.sign, one.at + scan[-1].at + 60) for one in strokes]
    hands = [run for run in runs_of([*strokes, *scan, *again]) if run.hand is Hand.device]
    assert [run.strokes for run in hands] == [tuple(scan)]


@given(st.lists(st.tuples(SIGNS, st.floats(0, 200), st.booleans()), max_size=60))
def test_no_stroke_is_lost_or_comes_out_of_order(given_strokes):
    at, strokes = 0.0, []
    for sign, apart, repeat in given_strokes:
        at += apart
        strokes.append(Stroke(sign, at, repeat=repeat))
    assert [stroke for run in runs_of(strokes) for stroke in run.strokes] == strokes
