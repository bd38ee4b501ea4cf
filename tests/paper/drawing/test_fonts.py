"""Fonts: which file prints which character, and what is said when a file is missing or damaged."""

import shutil
import subprocess
import sys

import pytest

from benchapp.files.shipped import shipped_folder
from benchapp.paper.drawing.fonts import BOLD_FILE, REGULAR_FILE, Faces, faces
from benchapp.paper.problems import PaperProblem

FONTS = shipped_folder("resources") / "fonts"


@pytest.mark.parametrize("name", [REGULAR_FILE, BOLD_FILE])
def test_a_missing_font_is_named_with_what_to_do(tmp_path, name):
    for file in {REGULAR_FILE, BOLD_FILE} - {name}:
        shutil.copy(FONTS / file, tmp_path)
    with pytest.raises(PaperProblem) as caught:
        Faces(tmp_path)
    assert caught.value.sentence == (
        f"Nothing can be printed: the font file {name} cannot be read in {tmp_path}. "
        "Put it back there, or install benchapp again; the workbook and its records are untouched."
    )


@pytest.mark.parametrize("data", [b"", b"not a font", (FONTS / REGULAR_FILE).read_bytes()[:5000]])
def test_a_damaged_font_is_named_with_what_to_do(tmp_path, data):
    (tmp_path / REGULAR_FILE).write_bytes(data)
    with pytest.raises(PaperProblem, match=r"DejaVuSansCondensed\.ttf is damaged .* Replace it with a good copy"):
        Faces(tmp_path)


@pytest.mark.parametrize("sign", "Ω±≤≥µ–…£€°×²½⚠✓◐✗•·“”")
def test_every_sign_that_the_program_prints_is_in_both_faces(sign):
    assert faces().regular.missing(sign) == ()
    assert faces().bold.missing(sign) == ()


def test_the_characters_that_cannot_be_printed_are_named_once_each():
    assert faces().regular.missing("a\U0001f50c漢\U0001f50c") == ("\U0001f50c",)


def test_fonts_that_stand_in_are_read_only_when_they_are_needed():
    code = (
        "from reportlab.pdfbase import pdfmetrics\n"
        "from benchapp.paper.drawing.fonts import faces\n"
        "def known(): return any('DroidSansFallback' in name for name in pdfmetrics.getRegisteredFontNames())\n"
        "faces().regular.printable('Ω Усилитель'); before = known()\n"
        "faces().regular.printable('漢'); print(before, known())"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["False", "True"]


def lacking_in_bold() -> str:
    """A character that the regular face has and the bold one has not."""
    bold = faces().bold._fonts[0].face.charToGlyph
    return next(chr(code) for code in sorted(faces().regular._fonts[0].face.charToGlyph) if code not in bold)


def test_what_the_bold_face_lacks_the_regular_one_lends_it():
    character = lacking_in_bold()
    runs = faces().bold.runs(f"a{character}b")
    assert [text for _font, text in runs] == ["a", character, "b"]
    assert runs[1][0] == faces().regular.name


def test_a_font_laid_into_the_folder_stands_in_for_what_the_bundled_ones_lack(tmp_path):
    for file in (REGULAR_FILE, BOLD_FILE):
        shutil.copy(FONTS / BOLD_FILE, tmp_path / file)  # a bundled face that lacks a few characters
    shutil.copy(FONTS / REGULAR_FILE, tmp_path / "stand-in.ttf")
    runs = Faces(tmp_path).regular.runs(f"a{lacking_in_bold()}")
    assert runs[1] == (str(tmp_path / "stand-in.ttf"), lacking_in_bold())
