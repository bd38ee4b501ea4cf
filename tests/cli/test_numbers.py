"""Numbers on the console: band, read, limits."""

import json

import pytest

from benchapp.cli.command import main


def run(capsys, *words):
    code = main(words)
    out, err = capsys.readouterr()
    return code, out, err


def run_json(capsys, *words):
    code, out, err = run(capsys, *words, "--json")
    assert err == ""
    return code, json.loads(out)


def test_a_reading_inside_its_band_passes(capsys):
    code, found = run_json(capsys, "band", "9 V ± 10 %", "9.12 V")
    assert code == 0
    assert (found["value"], found["unit"], found["lower"], found["upper"]) == (9.12, "V", 8.1, 9.9)
    assert (found["judgement"], found["rule"], found["guard_band"]) == ("pass", "simple", 0.0)
    assert found["standard_uncertainty"] is found["expanded_uncertainty"] is found["conformance_probability"] is None
    assert found["derivation"][0].keys() == {"what", "value", "source"}


def test_the_answer_of_band_has_every_key_that_programs_are_promised(capsys):
    _, found = run_json(capsys, "band", "9 V ± 10 %", "9.12 V")
    promised = {"value", "unit", "lower", "upper", "standard_uncertainty", "expanded_uncertainty", "guard_band"}
    assert promised | {"conformance_probability", "judgement", "derivation"} <= found.keys()


def test_a_reading_outside_its_band_is_a_no(capsys):
    code, found = run_json(capsys, "band", "9 V ± 10 %", "10.2 V")
    assert (code, found["judgement"]) == (1, "fail")


def test_a_stated_uncertainty_is_the_standard_one_and_guards(capsys):
    """JCGM 106:2012, 8.3.2 and ILAC-G8:09/2019, 4.2.2: guard band w = U = 2 u (clauses from memory)."""
    code, found = run_json(capsys, "band", "9 V ± 10 %", "9.88 V", "--uncertainty", "0.02 V")
    assert (code, found["judgement"]) == (0, "conditional pass")
    assert (found["standard_uncertainty"], found["expanded_uncertainty"]) == (0.02, pytest.approx(0.04, rel=1e-3))
    assert found["guard_band"] == found["expanded_uncertainty"]
    assert found["conformance_probability"] == pytest.approx(0.8413, abs=1e-4)  # normal distribution at 1 sigma


def test_simple_judging_may_be_asked_for_with_an_uncertainty(capsys):
    code, found = run_json(capsys, "band", "9 V ± 10 %", "9.88 V", "--uncertainty", "0.02 V", "--rule", "simple")
    assert (code, found["judgement"], found["guard_band"]) == (0, "pass", 0.0)


def test_a_meter_gives_the_uncertainty_with_its_budget(capsys):
    _, found = run_json(capsys, "band", "9 V ± 10 %", "9.12 V", "--meter", "tb-m1", "--function", "AC voltage")
    # accuracy 0.7 % + 3 counts of 0.01 V, and half a digit, both rectangular (JCGM 100:2008, 4.3.7)
    accuracy, digit = 0.007 * 9.12 + 0.03, 0.005
    assert found["standard_uncertainty"] == pytest.approx(((accuracy**2 + digit**2) / 3) ** 0.5, rel=1e-12)
    assert len(found["budget"]) == 2
    assert found["budget"][0].keys() == {"source", "value", "distribution", "sensitivity", "contribution", "share"}
    assert found["false_accept_risk"] == pytest.approx(1 - found["false_reject_risk"])


def test_untold_the_least_accurate_function_of_that_kind_is_taken(capsys):
    _, untold = run_json(capsys, "band", "9 V ± 10 %", "9.12 V", "--meter", "tb-m1")
    _, alternating = run_json(capsys, "band", "9 V ± 10 %", "9.12 V", "--meter", "tb-m1", "--function", "AC voltage")
    _, direct = run_json(capsys, "band", "9 V ± 10 %", "9.12 V", "--meter", "tb-m1", "--function", "DC voltage")
    assert untold == alternating
    assert direct["standard_uncertainty"] < alternating["standard_uncertainty"]


def test_a_bare_number_has_the_unit_of_the_band(capsys):
    _, found = run_json(capsys, "band", "9 V ± 10 %", "9,12")
    assert found["value"] == 9.12


def test_a_sentence_speaks_of_a_meter_only_where_one_was_named(capsys):
    for more in ([], ["--uncertainty", "0.02 V"], ["--uncertainty", "0.02 V", "--rule", "simple"]):
        _, found = run_json(capsys, "band", "9 V ± 10 %", "9.88 V", *more)
        assert "meter" not in found["sentence"]
    _, found = run_json(capsys, "band", "9 V ± 10 %", "9.88 V", "--meter", "tb-m1")
    assert "than this meter can tell" in found["sentence"]


def test_over_the_range_of_a_small_function_shows_no_isolation(capsys):
    words = ("band", "at least 1 Mohm", "OL", "--meter", "tb-m1", "--function")
    assert run_json(capsys, *words, "resistance")[1]["judgement"] == "pass"
    assert run_json(capsys, *words, "continuity")[1]["judgement"] == "not judged"


@pytest.mark.parametrize("stated", ["-0.1 V", "OL", "<0.1 V", "1 ohm", "nan", "inf V", "1e400 V"])
def test_what_is_no_standard_uncertainty_is_a_sentence(capsys, stated):
    code, out, err = run(capsys, "band", "9 V ± 10 %", "9.88 V", f"--uncertainty={stated}")
    assert (code, out) == (2, "")
    assert err.strip()


def test_over_range_meets_a_minimum(capsys):
    code, found = run_json(capsys, "band", "at least 1 Mohm", "OL")
    assert (code, found["judgement"], found["value"], found["bound"]) == (0, "pass", None, "above")


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("9 V ± 10 %", "9.12 ohm"), '"9.12 ohm" is a resistance; a voltage is needed here'),
        (("from wiring", "9 V"), "needs a piece of equipment"),
        (("mains * 2 ± 1 %", "9 V"), "rests on mains, which only a sequence knows"),
        (("9 V ± 10 %", "9.12 V", "--meter", "tbm-1"), "There is no meter 'tbm-1'. Did you mean tb-m1?"),
        (("9 V ± 10 %", "9.12 V", "--meter", "tb-pm1", "--function", "resistance"), "has no function 'resistance'"),
        (("9 V ± 10 %", "9.12 V", "--uncertainty", "1 ohm"), "a voltage is needed here"),
        (("9 V ± 10 %", "9.12 V", "--uncertainty", "-1 V"), "is no standard uncertainty"),
        (("9 V ± 10 %", "9.12 V", "--rule", "guarded"), "needs the meter or the uncertainty"),
        (("between 3 V and 2 V", "2.5 V"), "swap them"),
        (("", "9 V"), "Nothing is accepted"),
        (("9 V ± 10 %", ""), "Nothing was typed"),
    ],
)
def test_bad_input_is_one_line_on_stderr_and_exit_2(capsys, words, sentence):
    code, out, err = run(capsys, "band", *words)
    assert (code, out) == (2, "")
    assert sentence in err
    assert err.startswith("benchapp: ")
    assert err.count("\n") == 1


def test_people_get_a_sentence_and_a_table(capsys):
    code, out, _ = run(capsys, "band", "9 V ± 10 %", "9.12 V", "--uncertainty", "0.02 V")
    assert code == 0
    assert out.startswith("pass: 9.12 V is inside 8.1 V to 9.9 V")
    assert "guard band" in out


@pytest.mark.parametrize(
    ("band", "reading", "sentence"),
    [
        ("at most 3 %", "0.926 %", "0.926 % is inside the limit (at most 3 %)."),
        ("between 4 min and 6 min", "300 s", "5.0 min is inside 4 min to 6 min."),
        ("33.3 rpm ± 1 %", "33.4 rpm", "33.4 rpm is inside 32.97 rpm to 33.63 rpm."),
        ("at most 100 VA", "80 VA", "80 VA is inside the limit (at most 100 VA)."),
        ("at most 100 mV", "0.05 V", "0.05 V is inside the limit (at most 100 mV)."),
    ],
)
def test_values_are_said_in_the_unit_that_the_author_wrote(capsys, band, reading, sentence):
    _, found = run_json(capsys, "band", band, reading)
    assert found["sentence"] == sentence
    assert found["derivation"][-1]["value"] in sentence


@pytest.mark.parametrize(
    ("words", "si", "unit", "bound"),
    [
        (("4k7",), 4700.0, "kohm", "exact"),
        (("4k7", "--kind", "resistance"), 4700.0, "kohm", "exact"),
        (("9,12 V",), 9.12, "V", "exact"),
        (("9120", "--kind", "voltage", "--unit", "mV"), 9.12, "mV", "exact"),
        ((">20 Mohm", "--kind", "resistance"), 2e7, "Mohm", "above"),
        (("OL", "--kind", "resistance"), None, None, "above"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, tuple) else "",
)
def test_read_says_what_a_text_means(capsys, words, si, unit, bound):
    code, found = run_json(capsys, "read", *words)
    assert (code, found["si"], found["unit"], found["bound"]) == (0, si, unit, bound)


def test_read_says_what_stands_on_a_part_in_colours(capsys):
    """Yellow, violet, red, gold: 4.7 kohm, 5 %, 4465 to 4935 ohm (a published example)."""
    code, found = run_json(capsys, "read", "yellow violet red gold")
    assert (code, found["si"], found["value"], found["unit"]) == (0, 4700.0, "4700", "ohm")
    assert found["tolerance"] == {"of": "5 %", "lowest": 4465.0, "highest": 4935.0, "note": ""}
    assert found["preferred"]["code"] == "4K7"
    _, out, _ = run(capsys, "read", "Yellow-Violet-Red-Gold")
    assert "tolerance        5 %: 4.465 kohm to 4.935 kohm" in out


def test_read_gives_both_meanings_of_a_band_that_has_had_two(capsys):
    """Orange is 0.05 % since IEC 60062:2016 and was 3 % on older charts (encyclopedia copy)."""
    _, found = run_json(capsys, "read", "orange orange black brown orange")
    assert [one["of"] for one in (found["tolerance"], *found["other_tolerances"])] == ["0.05 %", "3 %"]


@pytest.mark.parametrize(
    ("text", "si", "tolerance"),
    [("4K7J", 4700.0, "5 %"), ("4K7K", 4700.0, "10 %"), ("100nM", 1e-7, "20 %"), ("10L", 0.01, None)],
)
def test_read_knows_a_code_with_its_tolerance_letter(capsys, text, si, tolerance):
    """IEC 60062: J 5 %, K 10 %, M 20 % (confirmed); K and M are tolerances after the value."""
    _, found = run_json(capsys, "read", text)
    assert found["si"] == si
    assert (found["tolerance"] or {}).get("of") == tolerance


def test_read_says_whether_a_value_is_a_preferred_one_and_which_are_near(capsys):
    """IEC 60063: 4.7 is in E3; 5.0 is in none, 4.7 and 5.1 stand next to it in E12 and E24."""
    _, found = run_json(capsys, "read", "4k7")
    assert found["preferred"]["series"] == "E3"
    _, found = run_json(capsys, "read", "5 kohm")
    assert found["preferred"]["series"] is None
    assert (found["preferred"]["nearest"]["E12"], found["preferred"]["nearest"]["E24"]) == (4700.0, 5100.0)
    _, out, _ = run(capsys, "read", "5 kohm")
    assert "no; nearest: E3 4.7 kohm" in out
    assert run_json(capsys, "read", "9.12 V")[1]["preferred"] is None
    assert run_json(capsys, "read", ">20 Mohm")[1]["preferred"] is None


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("red red orang gold",), '"orang" is no colour of the code. Did you mean orange?'),
        (("red red red gold", "--kind", "voltage"), '"red red red gold" is a resistance, not a voltage.'),
        (("470K",), "470 kohm or 470 kelvin"),
        (("4k7", "--kind", "resistence"), "'resistence' is not a kind of value. Did you mean resistance?"),
    ],
)
def test_read_says_what_is_wrong_with_a_marking(capsys, words, sentence):
    code, out, err = run(capsys, "read", *words)
    assert (code, out) == (2, "")
    assert sentence in err


@pytest.mark.parametrize("words", [("4k7", "--kind", "resistence"), ("9.1.2 V",), ("1,234.5 V",)], ids=" ".join)
def test_read_refuses_with_a_sentence(capsys, words):
    code, out, err = run(capsys, "read", *words)
    assert (code, out) == (2, "")
    assert err.count("\n") == 1


def test_every_limit_is_listed_with_its_source(capsys):
    code, found = run_json(capsys, "limits")
    assert code == 0
    assert set(found) == {"gb", "eu", "us", "au", "nz"}
    for figures in found.values():
        assert all(line["source"] and line["status"] and line["value"] for line in figures)


def test_an_uncertain_limit_says_so(capsys):
    _, out, _ = run(capsys, "limits", "--region", "gb")
    assert out.startswith("Great Britain (gb).")
    assert "from memory; check the document" in out


def test_each_line_of_a_table_says_for_itself_how_certain_it_is(capsys):
    _, found = run_json(capsys, "limits", "--region", "gb")
    lines = {line["figure"]: line for line in found["gb"]}
    assert lines["conductors, plain, 1.25 mm²"]["certain"] is False
    assert lines["conductors, plain, 1.0 mm²"]["certain"] is True


def test_rules_in_words_and_notes_are_listed_too(capsys):
    _, out, _ = run(capsys, "limits", "--region", "gb")
    assert "3 A red, 13 A brown, all others black. (BS 1362:1973)" in out
    assert "probably a misprint. Check the Code before use." in out


def test_an_unknown_region_is_refused_with_those_there_are(capsys):
    code, _, err = run(capsys, "limits", "--region", "gbr")
    assert code == 2
    assert "There is no region 'gbr'. Did you mean gb?" in err
