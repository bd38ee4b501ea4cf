"""What a judgement costs against the same through unit objects, and a million of them against plain numpy."""

import math
import time
from statistics import NormalDist, median

import numpy as np
import pint
import pytest
from uncertainties import ufloat

from benchapp.files.models import build_model
from benchapp.files.reader import read_document
from benchapp.files.shipped import shipped_folder
from benchapp.judgement.acceptance.accept_text import parse_accept
from benchapp.judgement.decision.columns import judge_columns
from benchapp.judgement.decision.decision import decide
from benchapp.judgement.meters.functions import Function
from benchapp.judgement.meters.readings import uncertainty_of
from benchapp.judgement.meters.records import MeterRecord
from benchapp.judgement.statements.sentences import limits_in_words
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.entry import read_reading

pytestmark = pytest.mark.performance

ROUNDS, PER_ROUND = 60, 50
MILLION = 1_000_000
NORMAL = NormalDist()
TEXTS = [f"{8.5 + n / 100:.2f} V" for n in range(PER_ROUND)]


@pytest.fixture(scope="module")
def meter() -> MeterRecord:
    return build_model(read_document(shipped_folder("resources") / "meters" / "tb-m1.yaml"), MeterRecord)


def ours(meter: MeterRecord, accept, text: str):
    limits_in_words.cache_clear()
    band = accept.band({}, kind=Kind.voltage)
    reading = read_reading(text, kind=Kind.voltage, unit=band.unit)
    uncertainty = uncertainty_of(meter, Function.ac_voltage, reading)
    return decide(
        value=reading.si, bound=reading.bound, band=band, uncertainty=uncertainty, step=reading.si_step
    ), band.derivation


def loss(z: float) -> float:
    """The mean excess of a standard normal variable over z, by the standard library's own distribution."""
    return NORMAL.pdf(z) - z * NORMAL.cdf(-z)


def below(x: float, half_width: float, rest: float) -> float:
    """Probability below x for a rectangle blurred by a normal rest, as its convolution is written."""
    return 1 - 0.5 * rest / half_width * (loss((x - half_width) / rest) - loss((x + half_width) / rest))


def interval(half_width: float, rest: float) -> float:
    """Half of the interval of 95.45 %, by halving."""
    low, high = 0.0, half_width + 9 * rest
    for _ in range(30):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if below(middle, half_width, rest) < 0.97725 else (low, middle)
    return high


def by_objects(registry: pint.UnitRegistry, text: str):
    """The same judgement with a pint quantity for every value and the uncertainties library for the budget."""
    reading = registry.Quantity(text)
    half_width = 0.007 * reading + 3 * registry.Quantity("0.01 V")
    accuracy = ufloat(0, half_width.m_as("V") / math.sqrt(3), "accuracy")
    resolution = ufloat(0, 0.005 / math.sqrt(3), "resolution")
    value = (reading.m_as("V") + accuracy + resolution) * registry.volt
    centre = registry.Quantity("9 V")
    lower, upper = centre * (1 - 0.1), centre * (1 + 0.1)
    u = value.magnitude.std_dev * registry.volt
    largest, rest = half_width.m_as("V"), resolution.std_dev
    budget = [(v.tag, e, (e / u.magnitude) ** 2) for v, e in value.magnitude.error_components().items()]
    guard = interval(largest, rest) * registry.volt
    p = below((upper - reading).m_as("V"), largest, rest) - below((lower - reading).m_as("V"), largest, rest)
    inside = lower + guard <= reading <= upper - guard
    edge = lower <= reading <= upper
    judgement = "pass" if inside else "conditional pass" if edge else "fail"
    derivation = [("accepted", f"{lower:.4g~} to {upper:.4g~}", "author"), ("reading", f"{reading:~}", "meter")]
    return judgement, p, budget, derivation


def test_one_reading_from_text_to_judgement(meter, capsys):
    registry, accept = pint.UnitRegistry(), parse_accept("9 V ± 10 %")
    assert ours(meter, accept, "9.86 V")[0].judgement == by_objects(registry, "9.86 V")[0] == "conditional pass"
    assert ours(meter, accept, "9.86 V")[0].conformance_probability == pytest.approx(
        by_objects(registry, "9.86 V")[1], rel=1e-9
    )
    plain, objects = [], []
    for _ in range(ROUNDS):
        started = time.perf_counter()
        for text in TEXTS:
            ours(meter, accept, text)
        between = time.perf_counter()
        for text in TEXTS:
            by_objects(registry, text)
        plain.append((between - started) / PER_ROUND)
        objects.append((time.perf_counter() - between) / PER_ROUND)
    ratio = median(objects) / median(plain)
    with capsys.disabled():
        print(
            f"\none reading {median(plain) * 1e6:.0f} µs, "
            f"through pint and uncertainties {median(objects) * 1e6:.0f} µs: {ratio:.1f} × faster"
        )
    assert ratio >= 4.0


def straight_numpy(values, expanded, lower, upper):
    """The same million written for this one case only."""
    outside = np.maximum(values - upper, lower - values)
    return np.select([outside <= -expanded, outside <= 0, outside <= expanded], [0, 1, 2], 3)


def test_a_million_readings_judged_again(meter, capsys):
    random = np.random.default_rng(1)
    values = 9 * random.normal(1, 0.06, MILLION)
    known = uncertainty_of(meter, Function.ac_voltage, read_reading("9.00 V", kind=Kind.voltage, unit="V"))
    expanded = known.expanded * np.abs(values) / 9
    band = parse_accept("9 V ± 10 %").band({}, kind=Kind.voltage)
    exact, nowhere = np.zeros(MILLION), np.full(MILLION, np.nan)

    def columns():
        return judge_columns(band=band, values=values, bounds=exact, expanded=expanded, overs=nowhere)

    assert np.array_equal(columns(), straight_numpy(values, expanded, band.lower, band.upper))
    full, floor = [], []
    for _ in range(15):
        started = time.perf_counter()
        columns()
        between = time.perf_counter()
        straight_numpy(values, expanded, band.lower, band.upper)
        full.append(between - started)
        floor.append(time.perf_counter() - between)
    ratio = median(full) / median(floor)
    with capsys.disabled():
        print(f"\na million judged in {median(full):.3f} s, straight numpy {median(floor):.3f} s: {ratio:.2f} ×")
    assert ratio <= 2.0
