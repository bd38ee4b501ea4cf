"""A workshop's own limits against the shipped ones: stricter is taken, looser is refused, nonsense always.

Trials in use: an earth limit of 50 ohm passed a path of 12 ohm; insulation of 0.001 Mohm and of -1 Mohm, tested at 5 V;
325 V DC counted as low. Published: 0.1 ohm, 1 Mohm and 500 V (IET Code of Practice), 25 V (IEC 61140 family).
"""

import random
import re
from decimal import Decimal
from itertools import product

import pytest

from benchapp.files.locations import FileProblems
from benchapp.files.models import build_model
from benchapp.files.reader import parse_document
from benchapp.files.shipped import shipped_folder
from benchapp.judgement.limits.bands import limit_band, limit_names
from benchapp.judgement.limits.cords import LimitFacts
from benchapp.judgement.limits.figures import Figure, Table
from benchapp.judgement.limits.profiles import LimitProfile
from benchapp.judgement.limits.stricter import figures_by_key, looser_than, senseless_in, stated_in
from benchapp.judgement.limits.strictness import RULES, Stricter, UnknownStrictness, rule_of
from benchapp.judgement.statements.problems import LimitProblem

REGIONS = ("au", "eu", "gb", "nz", "us")
FOLDER = shipped_folder("resources") / "limits"


def text_of(region: str) -> str:
    return (FOLDER / f"{region}.yaml").read_text(encoding="utf-8")


def profile(text: str) -> LimitProfile:
    return build_model(parse_document(text, "own.yaml"), LimitProfile)


def changed(region: str, below: str, old: str, new: str) -> LimitProfile:
    """The region's limits with one thing changed: the first `old` below the line `below`."""
    head, line, tail = text_of(region).partition(below)
    assert line
    assert old in tail
    return profile(head + line + tail.replace(old, new, 1))


def told(own: LimitProfile, region: str) -> list[str]:
    return [one.what for one in looser_than(own, profile(text_of(region)))]


@pytest.mark.parametrize("region", REGIONS)
def test_what_is_shipped_is_no_looser_than_itself_and_makes_sense(region):
    same = profile(text_of(region))
    assert told(same, region) == []
    assert list(senseless_in(same)) == []


@pytest.mark.parametrize("region", REGIONS)
def test_every_figure_of_every_shipped_file_has_its_direction(region):
    figures = dict(figures_by_key(profile(text_of(region))))
    assert len(figures) > 5
    for key in figures:
        assert rule_of(key).stricter in Stricter


def test_a_figure_that_nobody_gave_a_direction_is_refused():
    with pytest.raises(UnknownStrictness, match="which way “earth continuity, at noon” of a limits file is stricter"):
        rule_of(("earth continuity", "at noon"))


LOOSER = [
    ("gb", "earth continuity:", "value: 0.1", "value: 50", "earth continuity, base: 50 ohm is looser"),
    ("gb", "  minimum:\n    I:", "value: 1.0", "value: 0.001", "insulation, minimum, I: 0.001 Mohm is looser"),
    ("gb", "  minimum:\n    I:", "value: 1.0", "value: -1", "insulation, minimum, I: -1 Mohm is looser"),
    ("gb", "  minimum:\n    I:", "unit: Mohm", "unit: kohm", "insulation, minimum, I: 1.0 kohm is looser"),
    ("gb", "  test voltage:", "value: 500", "value: 5", "insulation, test voltage: 5 V is looser"),
    ("gb", "  test voltage with", "value: 250", "value: 5", "insulation, test voltage with suppressor: 5 V is looser"),
    ("gb", "  heating:\n    minimum:", "value: 0.3", "value: 0.2", "insulation, heating, minimum: 0.2 Mohm is looser"),
    ("gb", "    from power:", "value: 3", "value: 2", "insulation, heating, from power: 2 kW is looser"),
    ("gb", "voltage low:", "value: 25", "value: 325", "voltage low: 325 V is looser than the shipped 25 V"),
    ("gb", "plug pins:", "value: 34", "value: 60", "plug pins: 60 V is looser"),
    ("gb", "capability:", "value: 30", "value: 90", "capability: 90 % is looser"),
    ("gb", "  below:", "value: 6", "value: 15", "mains, below: 15 % is looser"),
    ("gb", "  above:", "value: 10", "value: 20", "mains, above: 20 % is another than"),
    ("gb", "  above:", "value: 10", "value: 6", "mains, above: 6 % is another than"),  # a lower setting would fit
    ("gb", "  frequency:", "value: 50", "value: 60", "mains, frequency: 60 Hz is another than the shipped 50 Hz"),
    ("gb", "  nominal:", "value: 230", "value: 240", "mains, nominal: 240 V is another than the shipped 230 V"),
    ("gb", "other mains:", "value: 240", "value: 400", "before 1995, nominal: 400 V is another"),
    ("gb", "protective conductor current:", "value: 3.5", "value: 9", "current, by class, I: 9 mA is looser"),
    ("gb", "  hand held:", "value: 0.75", "value: 3", "protective conductor current, hand held: 3 mA is looser"),
    ("gb", "    each kilowatt:", "value: 0.75", "value: 1", "current, heating, each kilowatt: 1 mA is looser"),
    ("gb", "    at least:", "value: 0.75", "value: 3", "current, heating, at least: 3 mA is looser"),
    ("gb", "    at most:", "value: 5", "value: 10", "current, heating, at most: 10 mA is looser"),
    ("gb", "touch current:", "value: 0.25", "value: 5", "touch current, by class, II: 5 mA is looser"),
    ("gb", "  plain:", "0.75 mm²: 26.0", "0.75 mm²: 40", "conductors, plain, 0.75 mm²: 40 ohm/km is looser"),
    ("gb", "  tinned:", "0.75 mm²: 26.7", "0.75 mm²: 40", "conductors, tinned, 0.75 mm²: 40 ohm/km is looser"),
    ("gb", "  temperature coefficient:", "0.00393", "0.00395", "temperature coefficient: 0.00395 /K is another"),
    ("gb", "  by area:", "0.5 mm²: 3", "0.5 mm²: 13", "cords, by area, 0.5 mm²: 13 A is looser"),
    ("gb", "  short moulded:", "value: 10", "value: 13", "cords, short moulded: 13 A is looser"),
    ("gb", "  short length:", "value: 2", "value: 5", "cords, short length: 5 m is looser"),
    ("gb", "  short area:", "value: 0.75", "value: 0.5", "cords, short area: 0.5 mm² is another"),
    ("gb", "  ratings:", "value: 3", "value: 5", "fuses, ratings, smallest: 5 A is looser"),
    ("gb", "  ratings:", "value: 13", "value: 16", "fuses, ratings, largest: 16 A is looser"),
    ("gb", "  cut over power:", "value: 700", "value: 300", "fuses, cut over power: 300 W is looser"),
    ("gb", "  inrush:", "value: 5", "value: 13", "fuses, inrush: 13 A is looser"),
    ("gb", "  largest for cord:", "0.5 mm²: 3", "0.5 mm²: 13", "largest for cord, 0.5 mm²: 13 A is looser"),
    ("gb", "  largest for inrush:", "0.5 mm²: 5", "0.5 mm²: 13", "largest for inrush, 0.5 mm²: 13 A is looser"),
    ("gb", "  - core: neutral", "new: blue", "new: brown", "core colours, neutral: “brown (before: black)” is not"),
    (
        "gb",
        "plug rules:",
        "any rating up to 13 A is allowed",
        "any rating is allowed",
        "the shipped rule “Preferred ratings",
    ),
    (
        "gb",
        "title: Great Britain",
        "Local codes and licensed practice come first",
        "All is well",
        "the shipped caution",
    ),
    (
        "gb",
        "earth continuity:",
        "conductor: added",
        "conductor: in the base",
        "earth continuity, conductor: “in the base”",
    ),
    ("eu", "    up to:", "value: 5", "value: 1", "earth continuity, longer cords, up to: 1 m is looser"),
    ("eu", "    each further:", "value: 7.5", "value: 1", "longer cords, each further: 1 m is looser"),
    ("eu", "    adds:", "value: 0.1", "value: 0.5", "longer cords, adds: 0.5 ohm is looser"),
    ("eu", "    at most:", "value: 1.0", "value: 9", "longer cords, at most: 9 ohm is looser"),
    ("eu", "    largest area:", "value: 1.5", "value: 4", "longer cords, largest area: 4 mm² is another"),
    ("eu", "    smallest:", "value: 0.1", "value: 1", "longer cords, smallest: 1 ohm is looser"),
    ("eu", "    above power:", "value: 3.5", "value: 1", "current, heating, above power: 1 kW is another"),
]


@pytest.mark.parametrize(("region", "below", "old", "new", "sentence"), LOOSER, ids=lambda value: value[-40:])
def test_a_looser_figure_is_told_with_both_and_the_source(region, below, old, new, sentence):
    found = told(changed(region, below, old, new), region)
    assert len(found) == 1
    assert sentence in found[0]
    if "shipped" in found[0] and "looser" in found[0]:
        assert found[0].endswith(")")  # the source of the shipped one


def test_every_kind_of_figure_has_its_trial():
    tried = " ".join(sentence for *_, sentence in LOOSER)
    for place in RULES:
        last = place.replace(", *", "").rpartition(", ")[2]
        assert last in tried or place.startswith("touch current") or "other mains" in place, place


STRICTER = [
    ("gb", "earth continuity:", "value: 0.1", "value: 0.05"),
    ("gb", "  minimum:\n    I:", "value: 1.0", "value: 5"),
    ("gb", "voltage low:", "value: 25", "value: 12"),
    ("gb", "  test voltage:", "value: 500", "value: 1000"),
    ("gb", "  cut over power:", "value: 700", "value: 720"),
    ("gb", "  largest for cord:", "0.75 mm²: 13", "0.75 mm²: 3"),
    ("gb", "plug rules:", "any rating up to 13 A is allowed.", "any rating up to 13 A is allowed. We fit 3 A."),
    ("eu", "    adds:", "value: 0.1", "value: 0.05"),
]


@pytest.mark.parametrize(("region", "below", "old", "new"), STRICTER, ids=lambda value: value[-40:])
def test_a_stricter_figure_is_taken(region, below, old, new):
    own = changed(region, below, old, new)
    assert told(own, region) == []
    assert list(senseless_in(own)) == []


GONE = [
    ("gb", "plug pins:", "earth continuity:", "plug pins is missing: shipped is 34 V (IEC 60335-1"),
    ("gb", "fuses:", "core colours:", "fuses, cut over power is missing: shipped is 700 W"),
    ("gb", "  hand held:", "  heating:", "protective conductor current, hand held is missing: shipped is 0.75 mA"),
    (
        "gb",
        "    II:\n      value: 2.0",
        "    III:\n      value: 0.25\n      unit: Mohm",
        "insulation, minimum, II is missing",
    ),
    ("eu", "  longer cords:", "insulation:", "earth continuity, longer cords, up to is missing: shipped is 5 m"),
    ("gb", "other mains:", "voltage low:", "other mains, Great Britain before 1995, nominal is missing"),
    ("gb", "core colours:", "plug rules:", "core colours, live is missing: shipped is brown"),
]


@pytest.mark.parametrize(("region", "first", "after", "sentence"), GONE, ids=lambda value: value[-40:].strip())
def test_a_figure_that_was_taken_out_is_told(region, first, after, sentence):
    head, line, tail = text_of(region).partition(first)
    assert line
    own = profile(head + after + tail.partition(after)[2])
    assert any(sentence in one for one in told(own, region))


def test_a_row_of_a_table_that_was_taken_out_is_told():
    own = changed("gb", "  largest for cord:", "0.5 mm²: 3, ", "")
    assert told(own, "gb") == ["fuses, largest for cord, 0.5 mm² is missing: shipped is 3 A (BS 1363-1 Table 2)"]


def test_an_area_written_otherwise_does_not_hide_behind_the_published_row():
    own = changed("gb", "  largest for cord:", "{0.5 mm²: 3", "{0.50 mm²: 13, 0.5 mm²: 3")
    assert [one.what for one in senseless_in(own)] == ["fuses, largest for cord: 0.5 mm² stands here twice"]


def test_a_row_for_what_is_no_area_is_told():
    own = changed("gb", "  largest for cord:", "{0.5 mm²: 3", "{thick: 13, 0.5 mm²: 3")
    assert [one.what for one in senseless_in(own)] == ["fuses, largest for cord: “thick” is no area of a core"]


@pytest.mark.parametrize("value", [".nan", "nan", ".inf", "-.inf"])
def test_what_is_no_number_is_no_figure(value):
    with pytest.raises(FileProblems):
        changed("gb", "voltage low:", "value: 25", f"value: {value}")


FIGURE = "{{value: {}, unit: {}, source: our own, status: 'common practice, no source'}}"


@pytest.mark.parametrize(
    ("region", "below", "new", "sentence"),
    [
        (
            "au",
            "protective conductor current:\n",
            f"  hand held: {FIGURE.format(9, 'mA')}\n",
            "hand held: 9 mA is looser",
        ),
        ("au", "protective conductor current:\n", f"  hand held: {FIGURE.format(2, 'mA')}\n", ""),
        (
            "au",
            "  conductor: in the base\n",
            "  longer cords: {"
            + ", ".join(
                f"{name}: {FIGURE.format(value, unit)}"
                for name, value, unit in (
                    ("up to", 5, "m"),
                    ("each further", 7.5, "m"),
                    ("adds", 0.1, "ohm"),
                    ("at most", 1, "ohm"),
                    ("largest area", 1.5, "mm²"),
                    ("smallest", 0.1, "ohm"),
                )
            )
            + "}\n",
            "longer cords, adds: 0.1 ohm is an exception that the shipped limits do not make",
        ),
        (
            "au",
            "insulation:\n",
            f"  heating: {{minimum: {FIGURE.format(0.3, 'Mohm')}}}\n",
            "minimum: 0.3 Mohm is looser",
        ),
        ("us", "core colours:", "", ""),
    ],
    ids=lambda value: str(value)[:30].strip(),
)
def test_an_added_exception_may_ask_for_more_never_for_less(region, below, new, sentence):
    head, line, tail = text_of(region).partition(below)
    own = profile(head + line + new + tail)
    found = told(own, region)
    assert any(sentence in one for one in found) if sentence else found == []


def test_a_region_that_states_no_insulation_may_get_a_workshop_s_own_within_sense():
    own = "insulation:\n  test voltage: {}\n  minimum:\n    I: {}\n"
    bare = re.sub(r"(?ms)^insulation:.*?(?=^conductors:)", "", text_of("us"))
    good = profile(bare + own.format(FIGURE.format(500, "V"), FIGURE.format(1, "Mohm")))
    assert list(looser_than(good, profile(bare))) == []
    assert list(senseless_in(good)) == []
    bad = profile(bare + own.format(FIGURE.format(5, "V"), FIGURE.format(-1, "Mohm")))
    assert [one.what for one in senseless_in(bad)] == [
        "insulation, test voltage: 5 V makes no sense as a limit",
        "insulation, minimum, I: -1 Mohm makes no sense as a limit",
    ]


@pytest.mark.parametrize("value", ["0", "-25", "325", "1e300", "1e-300"])
def test_a_limit_that_makes_no_sense_is_told_even_in_a_new_region(value):
    own = profile(text_of("us").replace("limits: us", "limits: tarnbeck").replace("value: 25\n", f"value: {value}\n"))
    (found,) = senseless_in(own)
    assert "makes no sense as a limit" in found.what
    assert found.expected == "1 V to 60 V (IEC 61140 family: 60 V DC even where damp)"


FACTS = [
    LimitFacts(
        equipment_class=kind,
        cord_area=area,
        cord_length=length,
        conductor_temperature=warm,
        power=power,
        tinned=tinned,
        heating=heating,
        hand_held=held,
        surge_suppressor=held,
    )
    for kind, area, length, warm, power, tinned, heating, held in product(
        ("I", "II", "III"),
        (0.5e-6, 0.75e-6, 1.5e-6, 4e-6),
        (0.5, 5.0, 13.0, 60.0),
        (5.0, 35.0),
        (None, 50.0, 2500.0, 6000.0),
        (False, True),
        (False, True),
        (False, True),
    )
]


@pytest.mark.parametrize("region", REGIONS)
def test_no_figure_that_is_taken_widens_any_band_of_any_unit(region):
    """Own limits changed at random, as far as they are taken: no unit's band is wider than by the published ones."""
    chance, shipped = random.Random(2026), profile(text_of(region))
    published = {
        (name, facts): _band(shipped, name, facts) for name in limit_names() for facts in chance.sample(FACTS, 60)
    }
    taken = 0
    for _ in range(150):
        own = _moved(shipped, chance)
        if list(looser_than(own, shipped)) or list(senseless_in(own)):
            continue
        taken += 1
        for (name, facts), band in published.items():
            mine = _band(own, name, facts)
            if band is not None and mine is not None:
                assert _within(mine, band), (name, facts)
    assert taken > 10


def _band(limits, name, facts):
    try:
        band = limit_band(limits, name, facts)
    except LimitProblem:
        return None
    return band.lower, band.upper


def _within(mine, band):
    (low, high), (least, most) = mine, band
    return (least is None or (low is not None and low >= least - 1e-12)) and (
        most is None or (high is not None and high <= most + 1e-12)
    )


def _moved(shipped, chance):
    """One to three figures halved or doubled."""
    keys = [key for key, figure in figures_by_key(shipped)]
    wanted = chance.sample(keys, chance.randint(1, 3))
    return _with(shipped, (), wanted, chance)


def _with(value, key, wanted, chance):
    if key in wanted:
        factor = Decimal(chance.choice(["0.5", "0.9", "1.1", "2"]))
        if isinstance(value, Figure):
            return value.model_copy(update={"value": value.value * factor})
        assert isinstance(value, Table)
        return value.model_copy(update={"values": {area: one * factor for area, one in value.values.items()}})
    if isinstance(value, Figure | Table):
        return value
    if isinstance(value, dict):
        return {name: _with(inner, (*key, str(name)), wanted, chance) for name, inner in value.items()}
    if isinstance(value, tuple):
        return tuple(_with(inner, (*key, number), wanted, chance) for number, inner in enumerate(value))
    if hasattr(type(value), "model_fields"):
        names = type(value).model_fields
        return value.model_copy(
            update={name: _with(getattr(value, name), (*key, name.replace("_", " ")), wanted, chance) for name in names}
        )
    return value


def test_places_are_the_same_whatever_the_order_of_a_list():
    text = text_of("gb")
    head, live, tail = text.partition("  - core: live")
    neutral = tail.partition("  - core: neutral")
    moved = head + "  - core: neutral" + neutral[2].partition("plug rules:")[0] + live + neutral[0] + "plug rules:"
    again = profile(moved + text.partition("plug rules:")[2])
    assert set(stated_in(again)) == set(stated_in(profile(text)))
    assert told(again, "gb") == []
