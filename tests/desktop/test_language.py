"""A translation lies over the window, the engine's sentences and the papers; what is kept stays English."""

import subprocess
import sys
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from PySide6.QtCore import QLocale

from benchapp import words
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.papers.printing import export_record_sheet
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.problems import IntakeProblem
from benchapp.desktop.lots.new_lot import NewLotDialog
from benchapp.desktop.widgets.texts import label
from benchapp.desktop.words import speak_language, tr
from benchapp.errors import BenchError
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.entry import read_reading
from benchapp.wiring.model.registry import kind_named
from benchapp.words import say, shown
from tests.desktop.windows import take_in, window_on

ROOT = Path(__file__).resolve().parents[2]
LANGUAGE = QLocale(QLocale.Language.Esperanto)


def _tool(name, *arguments):
    """Run a tool of PySide6, which stands beside the Python that runs the tests."""
    subprocess.run([Path(sys.executable).parent / f"pyside6-{name}", *arguments], check=True, capture_output=True)


@pytest.fixture(scope="session")
def template(tmp_path_factory):
    """What lupdate finds in the whole program."""
    folder = tmp_path_factory.mktemp("language")
    sources, path = folder / "sources.txt", folder / "benchapp.ts"
    sources.write_text("\n".join(str(one) for one in sorted((ROOT / "benchapp").rglob("*.py"))), encoding="utf-8")
    _tool("lupdate", "-tr-function-alias", "tr+=say", f"@{sources}", "-ts", path)
    return path


@pytest.fixture
def translated(qapp, template, tmp_path):
    """Every word of ours in a made-up language: each sentence stands between « and »."""
    tree = ET.parse(template)
    tree.getroot().set("language", "eo")  # two forms: one, and more than one
    for message in tree.iter("message"):
        done = message.find("translation")
        said = f"«{message.findtext('source')}»"
        done.attrib.pop("type", None)
        done.text = said
        if message.get("numerus") == "yes":
            done.clear()
            for name in ("one", "more"):
                ET.SubElement(done, "numerusform").text = f"{name} {said}"
    made = tmp_path / "benchapp_eo.ts"
    tree.write(made, encoding="utf-8", xml_declaration=True)
    _tool("lrelease", made, "-qm", tmp_path / "benchapp_eo.qm")
    installed = speak_language(qapp, tmp_path, LANGUAGE)
    yield
    for one in installed:
        qapp.removeTranslator(one)
    words.speak(None)


def test_lupdate_files_every_word_under_one_context(template):
    contexts = {one.findtext("name"): len(one.findall("message")) for one in ET.parse(template).iter("context")}
    assert list(contexts) == [""]
    assert contexts[""] > 900


PACKAGES = ("quantities", "files", "judgement", "wiring", "sequences", "workbook", "actions", "desktop")


@pytest.mark.parametrize("package", PACKAGES)
def test_lupdate_finds_the_sentences_of_each_package(template, package):
    places = [one.get("filename", "") for one in ET.parse(template).iter("location")]
    assert sum(f"benchapp/{package}/" in place for place in places) > 5


def _of_quantities():
    read_reading("9,1,2,3.4", kind=Kind.voltage, unit="V")


def _of_wiring():
    kind_named("gremlin")


def _of_workbook():
    Bench.open(Path("no-such.workbook"))


@pytest.mark.parametrize("go_wrong", [_of_quantities, _of_wiring, _of_workbook])
def test_a_sentence_of_each_package_comes_out_translated(translated, go_wrong):
    with pytest.raises(BenchError) as problem:
        go_wrong()
    assert "«" not in problem.value.sentence
    assert shown(problem.value.sentence).startswith("«")


def test_a_translation_lies_over_the_window(translated, look, bench):
    take_in(bench)
    with window_on(look, bench) as technician:
        assert technician.window.windowTitle()
        dialog = NewLotDialog(technician.window.context, technician.window)
        assert dialog.windowTitle() == "«New lot»"
        assert dialog.take_in.text() == "«Take in the lot»"
        dialog.deleteLater()


def test_a_refusal_of_the_engine_is_shown_in_the_readers_language_with_its_values(translated, bench, qtbot):
    with pytest.raises(IntakeProblem) as refused:
        take_in_lot(bench, name="", equipment="tb-mu", route="mains-unit-check", marks=("TB-001",), by="KT")
    assert str(refused.value) == "The lot has no name. Give it one that you would write on the shelf."
    line = label("line", words=refused.value.sentence)
    qtbot.addWidget(line)
    assert line.text() == "«The lot has no name. Give it one that you would write on the shelf.»"


def test_values_that_are_sentences_are_translated_too(translated):
    inner = say("The note is empty.")
    assert shown(say("It cannot be marked “{word}”: {reason}.", word="scrap", reason=inner)) == (
        "«It cannot be marked “scrap”: «The note is empty.».»"
    )


def test_sentences_put_one_behind_the_other_are_each_translated(translated):
    both = say("The note is empty.") + " " + say("Say what was opened: cord, plug or enclosure.")
    assert both == "The note is empty. Say what was opened: cord, plug or enclosure."
    assert shown(both) == "«The note is empty.» «Say what was opened: cord, plug or enclosure.»"


def test_a_translation_with_other_names_than_the_sentence_shows_the_english_one():
    words.speak(lambda _: "{nobody} knows")
    try:
        assert shown(say("Entry {number} was withdrawn before.", number=3)) == "Entry 3 was withdrawn before."
    finally:
        words.speak(None)


def test_papers_are_printed_in_the_readers_language(translated, bench, tmp_path):
    from pypdf import PdfReader

    take_in(bench, count=1)
    export_record_sheet(bench, "TB-001", out=tmp_path / "record.pdf")
    bench.close()
    text = "".join(page.extract_text() for page in PdfReader(tmp_path / "record.pdf").pages)
    assert "«NOT tested»" in text.replace("\n", " ")


def test_what_is_kept_stays_english(translated, bench):
    take_in(bench, count=1)
    kept = bench.units()[0].due
    bench.close()
    assert kept
    assert "«" not in kept


def test_without_a_translation_everything_is_as_written():
    assert tr("New lot") == "New lot"
    assert shown(say("Entry {number} was withdrawn before.", number=3)) == "Entry 3 was withdrawn before."


def test_lupdate_asks_for_the_forms_of_counted_sentences(template):
    counted = [one.findtext("source") for one in ET.parse(template).iter("message") if one.get("numerus") == "yes"]
    assert "{count} unit(s)" in counted


def test_a_counted_sentence_comes_out_in_the_other_languages_own_form(translated):
    assert [tr("{count} unit(s)", "", count)[:4] for count in (1, 2)] == ["one ", "more"]


@pytest.mark.parametrize(
    ("count", "said"),
    [(0, "0 units are left."), (1, "1 unit is left."), (2, "2 units are left."), (21, "21 units are left.")],
)
def test_a_counted_sentence_of_english_has_the_form_for_its_count(count, said):
    pattern = "{count} unit(s) (is|are) left."
    assert tr(pattern, "", count).format(count=count) == say(pattern, count=count) == said
    assert shown(say(pattern, count=count)) == said


def test_a_sentence_without_a_count_keeps_its_brackets():
    assert say("Label {name} (s)", name="x") == "Label x (s)"
