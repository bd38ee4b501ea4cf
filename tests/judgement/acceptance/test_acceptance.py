"""What a step accepts: every form, exact limits, dimension checks, uncertain values, and any text whatever."""

import pytest
from hypothesis import strategies as st

from benchapp.judgement.acceptance.accept_text import parse_accept
from benchapp.judgement.acceptance.acceptance import Form, KnownQuantity
from benchapp.judgement.statements.problems import AcceptProblem
from benchapp.judgement.statements.statements import Rule
from benchapp.quantities.dimensions import Kind
from tests.any_text import hold, mixed


def band(text, values=None, kind=Kind.voltage, **more):
    return parse_accept(text).band(values or {}, kind=kind, **more)


def known(value, u=0.0, kind=Kind.voltage):
    return KnownQuantity(value_si=value, standard_uncertainty=u, what="measured mains", source="step mains", kind=kind)


@pytest.mark.parametrize(
    ("text", "lower", "upper", "expected"),
    [
        ("9 V ± 20 %", 7.2, 10.8, 9.0),
        ("9.8 V ± 5 %", 9.31, 10.29, 9.8),
        ("9 V +10 % -5 %", 8.55, 9.9, 9.0),
        ("9 V + 10 % − 5 %", 8.55, 9.9, 9.0),
        ("9 V +0.5 V -0.2 V", 8.8, 9.5, 9.0),
        ("9 V ± 0.5 V", 8.5, 9.5, 9.0),
        ("9 V ± 500 mV", 8.5, 9.5, 9.0),
        ("9 V +/- 10 %", 8.1, 9.9, 9.0),
        ("-12 V ± 5 %", -12.6, -11.4, -12.0),
        ("at most 0.1 V", None, 0.1, None),
        ("At least 2 V", 2.0, None, None),
        ("between 216 V and 253 V", 216.0, 253.0, None),
        ("max(2 V, 3 V) * 2 ± 10 %", 5.4, 6.6, 6.0),
    ],
)
def test_every_form_gives_its_band_in_decimal(text, lower, upper, expected):
    found = band(text)
    assert (found.lower, found.upper, found.expected) == (lower, upper, expected)


def test_the_first_unit_written_is_what_a_bare_number_means():
    assert parse_accept("at least 1 Mohm").unit == "Mohm"
    assert parse_accept("9.8 V ± 5 %").unit == "V"
    assert parse_accept("at most 0.75 mm²").unit == "mm²"


def test_a_formula_over_earlier_readings_is_worked_in_decimal():
    found = band("9 V * mains / (240 V) * (1 + 14 %) ± 10 %", {"mains": known(240.0)})
    assert (found.lower, found.upper) == (9.234, 11.286)
    assert parse_accept("9 V * mains / (240 V) ± 10 %").names == {"mains"}


def test_the_uncertainty_of_a_reading_widens_the_band_and_is_said():
    found = band("9 V * mains / (240 V) ± 10 %", {"mains": known(240.0, 1.2)})
    widening = 2 * 1.2 * 9 / 240
    assert found.lower == pytest.approx(8.1 - widening * 0.9)
    assert found.upper == pytest.approx(9.9 + widening * 1.1)
    assert any("widened" in line.what for line in found.derivation)


def test_a_safety_limit_is_never_widened():
    found = band("at most mains / 10", {"mains": known(240.0, 1.2)}, safety=True, rule=Rule.simple)
    assert found.upper == 24.0


def test_the_derivation_names_each_value_and_the_expression():
    found = band("9 V * mains / (240 V) ± 10 %", {"mains": known(243.0)})
    assert [line.what for line in found.derivation] == ["measured mains", "accepted: 9 V * mains / (240 V) ± 10 %"]
    assert found.derivation[0].value == "243 V"


def test_what_was_accepted_outright_is_said_once():
    assert band("at most 1 ohm", kind=Kind.resistance).derivation[-1].what == "accepted"
    assert band("9 V ± 10 %").derivation[-1].what == "accepted: 9 V ± 10 %"


def test_limit_and_wiring_name_their_source_and_have_no_band_of_their_own():
    assert parse_accept("limit earth-continuity").limit_name == "earth-continuity"
    assert parse_accept("limit earth continuity").limit_name == "earth-continuity"
    assert parse_accept("from wiring").form is Form.wiring
    with pytest.raises(AcceptProblem, match="limits"):
        band("limit insulation")


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("9 V", "does not say what is accepted"),
        ("", "Nothing is accepted"),
        ("between 10 V and 9 V", "swap"),
        ("9 V ± -5 %", "below zero"),
        ("at most 1 V < 2 V", "comparison"),
        ("at most", "does not say"),
        ("9 V ± 5 % ± 3 %", "±"),
        ("x" * 700, "characters"),
    ],
)
def test_what_cannot_be_accepted_is_a_sentence(text, part):
    with pytest.raises(AcceptProblem, match=part):
        parse_accept(text)


@pytest.mark.parametrize(
    ("text", "kind", "position"),
    [
        ("at most 3 A", Kind.voltage, 8),
        ("9 V ± 1 A", Kind.voltage, 6),
        ("between 1 V and 2 A", Kind.voltage, 16),
        ("  at most mains", Kind.voltage, 10),
    ],
)
def test_a_wrong_dimension_is_told_with_its_place(text, kind, position):
    with pytest.raises(AcceptProblem) as caught:
        parse_accept(text).check({}, kind)
    assert caught.value.position == position


def test_a_right_dimension_is_accepted():
    parse_accept("9 V * mains / (240 V) ± 10 %").check({"mains": Kind.voltage}, Kind.voltage)
    parse_accept("0.04 ± 5 %").check({}, Kind.ratio)


@pytest.mark.parametrize(
    ("text", "kind", "unit", "sentence", "position"),
    [
        ("9 V ± 3", Kind.voltage, "", "“3” has no unit: write 3 V or 3 %.", 6),
        ("9 V ± 0.05", Kind.voltage, "", "“0.05” has no unit: write 0.05 V or 5 %.", 6),
        ("mains * 2 ± 3", Kind.voltage, "", "“3” has no unit: write 3 V or 3 %.", 12),
        ("mains ± 20 mV * 2", Kind.voltage, "", "", 0),
        ("at most 3", Kind.voltage, "mV", "“3” has no unit: write 3 mV.", 8),
        ("at most 3", Kind.ratio, "%", "“3” has no unit, and the reading is in %: write 3 %, or what it is in %.", 8),
        ("3 % ± 1", Kind.ratio, "%", "“1” has no unit, and the reading is in %: write 1 %, or what it is in %.", 6),
        ("at most 3 %", Kind.ratio, "%", "", 0),
        ("at most 0.03", Kind.ratio, "", "", 0),
        ("at most mains^2", Kind.voltage, "", "“mains^2” is a quantity in V²; the reading is a voltage.", 8),
        ("mains ± 5 ohm", Kind.voltage, "", "“5 ohm” is a resistance; the reading is a voltage.", 8),
    ],
)
def test_a_number_without_a_unit_is_never_taken_for_a_share(text, kind, unit, sentence, position):
    if not sentence:
        parse_accept(text).check({"mains": Kind.voltage}, kind, unit)
        return
    with pytest.raises(AcceptProblem) as caught:
        parse_accept(text).check({"mains": Kind.voltage}, kind, unit)
    assert (caught.value.sentence, caught.value.position) == (sentence, position)


@pytest.mark.parametrize(
    ("text", "unit"),
    [("9 V ± 5 %", "V"), ("1e3 mV ± 5 %", "mV"), ("at most 1.5 Mohm", "Mohm"), ("at most 3 %", "%"), ("4k7 ± 5 %", "")],
)
def test_a_bare_reading_is_in_the_unit_that_the_expression_names_first(text, unit):
    assert parse_accept(text).unit == unit


def test_limits_of_two_kinds_are_not_called_swapped():
    with pytest.raises(AcceptProblem, match="is a resistance; the reading is a voltage"):
        parse_accept("between 2 V and 1 ohm").check({}, Kind.voltage)


def test_a_bare_tolerance_that_a_run_pinned_is_the_share_it_was():
    """No file may say so any more; a run that pinned one is judged as it was."""
    found = band("9 V ± 0.05")
    assert (found.lower, found.upper) == (8.55, 9.45)


def test_a_share_of_a_named_value_is_a_tolerance_of_its_own_kind():
    found = band("9 V ± 5 % * mains", {"mains": known(240.0)})
    assert (found.lower, found.upper) == (-3.0, 21.0)


def test_a_tolerance_in_percent_of_a_ratio_is_relative():
    found = band("0.04 ± 5 %", kind=Kind.ratio)
    assert (found.lower, found.upper) == (0.038, 0.042)


def test_a_value_that_is_missing_is_named():
    with pytest.raises(AcceptProblem, match="mains"):
        band("mains ± 5 %")


def test_limits_that_cross_for_these_readings_are_a_sentence():
    with pytest.raises(AcceptProblem, match="above its upper"):
        band("between a and 5 V", {"a": known(9.0)})


WORDS = [
    *("9 V", "±", "5 %", "at most", "at least", "between", "and", "limit", "from wiring", "mains", "+10 %", "-5 %"),
    *("(", ")", "* 2", "+/-", "sqrt(", "^2", "1e9", "÷"),
]


def test_any_text_gives_a_band_or_a_sentence():
    def accept_and_judge(text: str) -> None:
        accept = parse_accept(text)
        accept.check(dict.fromkeys(accept.names, Kind.voltage), Kind.voltage)
        found = accept.band(dict.fromkeys(accept.names, known(240.0, 1.0)), kind=Kind.voltage)
        assert found.derivation[-1].value
        assert found.lower is None or found.upper is None or found.lower <= found.upper

    expressions = st.lists(st.sampled_from(WORDS), max_size=7).map(" ".join)
    hold(accept_and_judge, mixed(WORDS) | expressions, "accept expressions")
