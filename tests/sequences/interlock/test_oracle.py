"""The oracle stands outside of what it judges, and its word can be no as well as yes."""

import ast
from pathlib import Path

import pytest

from tests.sequences.bench import BACK
from tests.sequences.interlock.oracle.files import Files
from tests.sequences.interlock.oracle.judge import complaints
from tests.sequences.interlock.oracle.typed import BAD, GOOD, NEAR, Told, quantity, worth
from tests.sequences.interlock.walking import CLASS_ONE, ROUTES, SELECTOR, place_of, ready
from tests.sequences.interlock.watched import Watched, shipped

ORACLE = sorted((Path(__file__).parent / "oracle").glob("*.py"))
OUTSIDE = {"ast", "collections", "dataclasses", "datetime", "functools", "re", "typing", "yaml"}


def imported(path: Path) -> set[str]:
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {name.name for name in node.names}
        elif isinstance(node, ast.ImportFrom):
            found.add(node.module if not node.level else "." * node.level)
    return found


@pytest.mark.parametrize("path", ORACLE, ids=lambda path: path.stem)
def test_oracle_imports_nothing_of_the_program_nor_what_imports_it(path):
    for module in imported(path):
        own = module.startswith("tests.sequences.interlock.oracle.")
        assert own or module.partition(".")[0] in OUTSIDE, module


def test_oracle_looks_nothing_up_by_name_at_run_time():
    for path in ORACLE:
        text = path.read_text(encoding="utf-8")
        assert not {"import_module", "__import__", "eval(", "exec("} & set(text.replace("(", "( ").split()), path
        assert "benchapp" not in text, path


def test_what_the_oracle_is_told_is_plain():
    """Words, numbers, lists and mappings; nothing that the program made."""
    plain = (str, int, float, bool, type(None), list, tuple, dict)
    for route in ROUTES:
        for told in ready(route).told:
            assert all(isinstance(value, plain) for value in told.said.values()), told.said
            assert not {"judgement", "supply", "energises", "value", "lower", "upper", "test_voltage"} & set(told.said)


def test_oracle_has_nothing_against_a_careful_history():
    for route in ROUTES:
        unit = Watched.of(place_of(route, ordered=True))
        unit.finish()
        assert unit.live_accepted


@pytest.mark.parametrize(
    "address",
    [
        "visual-inspection.outside",
        "plug-rewire.fuse-rating",
        "continuity.leads-before",
        "continuity.earth",
        "continuity.live-earth",
        "continuity.primary",
        "continuity.leads-after",
        "insulation.live-to-case",
        "insulation.leads-after",
        *BACK[:-1],
        "first-power.current",
    ],
)
def test_oracle_misses_every_single_answer_that_was_needed(address):
    """The check can fail: without any one of these it does."""
    unit = Watched.of(place_of(CLASS_ONE))
    unit.finish()
    heard = [one for one in unit.told if one.address != address]
    assert any(complaints(heard, one) for one in heard)


@pytest.mark.parametrize("kind", ["caution", "meter", "set-up"])
def test_oracle_misses_a_caution_a_meter_and_a_set_up(kind):
    unit = ready(CLASS_ONE)
    unit.finish()
    heard = [one for one in unit.told if one.kind != kind]
    assert any(complaints(heard, one) for one in heard)


FILES = Files(shipped(), "mains-unit", "tb-mu1")


@pytest.mark.parametrize(
    ("address", "typed", "meter", "expected"),
    [
        ("continuity.earth", "0.146 ohm", "tb-it1", GOOD),
        ("continuity.earth", "0.147 ohm", "tb-it1", BAD),
        ("continuity.earth", "100 mohm", "tb-it1", GOOD),
        ("continuity.earth", "0.05 ohm", "tb-m2", BAD),
        ("continuity.earth", "0.05 ohm", "tb-m1", BAD),
        ("continuity.primary", "480 ohm", "tb-m1", GOOD),
        ("continuity.primary", "559.2 ohm", "tb-m1", NEAR),
        ("continuity.primary", "0.6 kohm", "tb-m1", BAD),
        ("continuity.primary", "OL", "tb-m1", BAD),
        ("continuity.live-earth", "OL", "tb-m1", GOOD),
        ("continuity.live-earth", "0.99 Mohm", "tb-m1", BAD),
        ("continuity.live-earth", "1.002 Mohm", "tb-m1", NEAR),
        ("continuity.leads-before", "0.99 ohm", "tb-m1", NEAR),
        ("continuity.leads-before", "1.2 ohm", "tb-m1", BAD),
        ("insulation.live-to-case", "1", "tb-it1", GOOD),
        ("insulation.live-to-case", "0.99", "tb-it1", BAD),
        ("insulation.live-to-case", ">200 Mohm", "tb-it1", GOOD),
        ("first-power.current", "15 mA", "tb-pm1", GOOD),
        ("first-power.current", "0.026 A", "tb-pm1", GOOD),
        ("first-power.current", "0.036 A", "tb-pm1", BAD),
        ("first-power.current", "0 A", "tb-pm1", BAD),
        ("make-safe.low", "-25 V", "tb-m1", GOOD),
        ("make-safe.low", "-25.1 V", "tb-m1", BAD),
        ("live-voltage.mains", "216.2 V", "tb-pm1", GOOD),
        ("live-voltage.mains", "253.1 V", "tb-pm1", BAD),
    ],
)
def test_oracle_judges_what_was_typed(address, typed, meter, expected):
    told = Told(
        number=1,
        kind="answer",
        at="2026-06-01T09:00:00+00:00",
        by="KT",
        address=address,
        said={"typed": typed, "meter": meter},
        files=FILES,
    )
    assert worth(told, FILES, {**FILES.facts, "limiter": "lamp", "limiter lamp": "60 W"}) == expected


@pytest.mark.parametrize("facts", [{}, {"limiter": "lamp"}, {"limiter": "lamp", "limiter lamp": "5 W"}])
def test_oracle_takes_no_current_for_good_whose_limiter_is_not_known_or_too_small(facts):
    said = {"typed": "15 mA", "meter": "tb-pm1"}
    told = Told(number=1, kind="answer", at="", by="KT", address="first-power.current", said=said, files=FILES)
    assert worth(told, FILES, {**FILES.facts, **facts}) == BAD


@pytest.mark.parametrize(
    ("text", "value"),
    [("0.75 mm²", 0.75), ("240 V", 240), ("2 Mohm", 2e6), ("500 mA", 0.5), ("1.8 m", 1.8), ("8 VA", 8)],
)
def test_oracle_reads_quantities(text, value):
    assert quantity(text) == pytest.approx(value)


def test_oracle_reads_the_supply_and_the_mains_side_off_the_files():
    supplies = {step.address: step.supply for step in FILES.steps}
    assert supplies["first-power.current"] == "limited"
    assert supplies["live-voltage.outputs"] == "full"
    assert supplies["continuity.earth"] == "none"
    expected = {"plug-fuse", "cord-live", "cord-neutral", "cord-earth", "case-bond", "primary"}
    assert FILES.on_the_mains_side == expected | {"mains-to-outlet", "mains-to-earth"}
    assert not FILES.touched_by_mains


def test_oracle_reads_the_facts_of_a_design_off_its_file():
    facts = place_of(SELECTOR).files.facts
    assert (facts["voltage selector"], facts["internal fuse"], facts["detachable lead"]) == (True, True, True)
    assert not any(FILES.facts[name] for name in ("voltage selector", "internal fuse", "detachable lead"))
