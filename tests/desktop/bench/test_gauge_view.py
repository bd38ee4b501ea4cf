"""The reasons beside the gauge, before anything is recorded."""

from types import SimpleNamespace

from benchapp.desktop.bench.gauge_view import derivation_line, why_words
from benchapp.desktop.bench.plain_words import band_words
from benchapp.files.models import build_model
from benchapp.files.reader import read_document
from benchapp.files.shipped import shipped_folder
from benchapp.judgement.limits.bands import limit_band
from benchapp.judgement.limits.cords import LimitFacts
from benchapp.judgement.limits.profiles import LimitProfile
from benchapp.judgement.statements.band import Band, DerivationStep
from benchapp.judgement.statements.statements import Judgement
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.quantity import Bound
from benchapp.sequences.planning.answer_content import ReadingContent
from benchapp.sequences.planning.state import Evaluation

STEP = SimpleNamespace(probe=None)
TAKEN_OFF = ReadingContent(
    step="measure",
    judgement=Judgement.not_judged,
    typed="1.3 ohm",
    value=1.18,
    bound=Bound.exact,
    kind=Kind.resistance,
    rules_version="1",
    corrections=(DerivationStep(what="leads taken off", value="0.12 ohm", source="measured at bench opening"),),
)


def test_the_band_its_cautions_and_what_the_reading_was_put_right_by_are_said():
    band = Band(
        kind=Kind.resistance,
        unit="ohm",
        lower=None,
        upper=1.0,
        derivation=(DerivationStep(what="winding temperature", value="assumed 15 °C to 35 °C", source="IEC 60228"),),
        cautions=("A capacitor lies on this side.",),
    )
    assert why_words(STEP, Evaluation(band=band, content=TAKEN_OFF)).splitlines() == [
        "winding temperature: assumed 15 °C to 35 °C  (IEC 60228)",
        "A capacitor lies on this side.",
        "leads taken off: 0.12 ohm  (measured at bench opening)",
    ]


def test_a_limit_from_memory_says_so_beside_the_gauge():
    profile = build_model(read_document(shipped_folder("resources") / "limits" / "au.yaml"), LimitProfile)
    band = limit_band(profile, "insulation", LimitFacts(equipment_class="I"))
    words = why_words(STEP, Evaluation(band=band))
    assert "AS/NZS 3760 (from memory; check the document)" in words
    assert words.endswith("Check this figure: AS/NZS 5761:2011 and AS/NZS 3760, from memory.")


def test_without_a_band_what_was_put_right_is_said_all_the_same():
    words = why_words(STEP, Evaluation(content=TAKEN_OFF))
    assert words.splitlines()[0] == "No band: this reading is recorded and not judged."
    assert words.splitlines()[1].startswith("leads taken off")


def test_a_line_that_rests_on_a_reading_says_when_and_neither_entry_nor_meter_nor_address():
    line = derivation_line("live-voltage.mains", "243.6 V", "entry 57, tb-pm1, 2026-05-04T09:25")
    assert line == "mains: 243.6 V  (read at 09:25)"


def test_limits_from_the_wiring_are_said_with_two_digits():
    band = Band(kind=Kind.current, unit="A", lower=0.0006667, upper=0.03667, expected=0.012)
    assert band_words(band) == "about 1 to 37 mA"


def test_a_published_limit_keeps_its_digits():
    band = Band(kind=Kind.resistance, unit="ohm", lower=None, upper=0.1468, safety=True, expected=0.0468)
    assert band_words(band) == "0.1468 ohm or less"


def test_a_limit_to_both_sides_is_said_once():
    band = Band(kind=Kind.voltage, lower=-25.0, upper=25.0, unit="V", safety=True)
    assert band_words(band) == "25 V or less, either way round"
