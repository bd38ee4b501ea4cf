"""Which font file prints which character, and how wide a text runs.

The two bundled faces (resources/fonts/, see its README) come first; a character that they lack is taken from any
other TrueType file in that folder; a character that no file has is printed as its code point, [U+1F50C], never as an
empty box. Texts are normalised (NFC), so a letter followed by its accent prints as the one letter that the font has.
"""

import struct
import unicodedata
from collections.abc import Callable
from functools import cache
from pathlib import Path

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFError, TTFont

from benchapp.files.shipped import shipped_folder
from benchapp.paper.drawing.right_to_left import drawn_order, joined_letters
from benchapp.paper.problems import PaperProblem
from benchapp.words import say, shown, tr

REGULAR_FILE = "DejaVuSansCondensed.ttf"
BOLD_FILE = "DejaVuSansCondensed-Bold.ttf"

Run = tuple[str, str]  # (registered font name, text that this font has every character of)
LONGEST_PRINTED = 20_000
"""Characters of one text on paper; more is no note that anybody reads there (own choice)."""


class Face:
    """One weight: the font that leads, the other weight, and those that stand in. Widths are in type sizes."""

    def __init__(self, leading: TTFont, second: TTFont, standing_in: Callable[[], tuple[TTFont, ...]]) -> None:
        self.name: str = leading.fontName
        self._fonts = (leading, second)
        self._standing_in = standing_in
        self._words: dict[str, float] = {}
        self._homes: dict[str, TTFont | None] = {}

    def printable(self, text: str) -> str:
        """The text as it will be printed: in the reader's language, composed, one space for any white space.

        Characters that no font has are written as [U+....].
        """
        text = shown(text)
        if text.isascii() and text.isprintable() and len(text) <= LONGEST_PRINTED:
            return text
        composed = joined_letters(" ".join(unicodedata.normalize("NFC", text[:LONGEST_PRINTED]).split()))
        printed = "".join(c if self._home(c) else f"[U+{ord(c):04X}]" for c in composed)
        if len(text) <= LONGEST_PRINTED >= len(printed):
            return printed
        cut = tr("{printed} … [cut: of {count} characters, whole in the workbook]")
        return cut.format(printed=printed[:LONGEST_PRINTED], count=len(text))

    def missing(self, text: str) -> tuple[str, ...]:
        """The characters of a text that no font here has, each once."""
        return tuple(dict.fromkeys(c for c in unicodedata.normalize("NFC", text) if not self._home(c)))

    def width(self, text: str) -> float:
        """Width of a printable text at size 1; kept for each word, since a lot's tags share most of theirs."""
        width = self._words.get(text)
        if width is None:
            width = self._words[text] = sum(self._advance(c) for c in text)
        return width

    def runs(self, text: str) -> tuple[Run, ...]:
        """A line of printable text in the order in which it is drawn, cut where the font changes."""
        if text.isascii():
            return ((self.name, text),)
        text = drawn_order(text)
        runs: list[list[str]] = []
        for character in text:
            home = self._home(character) or self._fonts[0]
            if runs and runs[-1][0] == home.fontName:
                runs[-1][1] += character
            else:
                runs.append([home.fontName, character])
        return tuple((name, part) for name, part in runs)

    def _home(self, character: str) -> TTFont | None:
        if character not in self._homes:
            code = ord(character)
            home = next((f for f in self._fonts if code in f.face.charToGlyph), None)
            home = home or next((f for f in self._standing_in() if code in f.face.charToGlyph), None)
            self._homes[character] = home
        return self._homes[character]

    def _advance(self, character: str) -> float:
        face = (self._home(character) or self._fonts[0]).face
        return float(face.charWidths.get(ord(character), face.defaultWidth)) / 1000


class Faces:
    """The regular and the bold face, ready to draw with."""

    def __init__(self, folder: Path) -> None:
        regular, bold = _load(folder / REGULAR_FILE), _load(folder / BOLD_FILE)
        others = sorted(p for p in folder.glob("*.ttf") if p.name not in (REGULAR_FILE, BOLD_FILE))
        standing_in = cache(lambda: tuple(_load(path) for path in others))  # megabytes: read when first needed
        self.regular = Face(regular, bold, standing_in)
        self.bold = Face(bold, regular, standing_in)
        pdfmetrics.registerFontFamily(
            regular.fontName, regular.fontName, bold.fontName, regular.fontName, bold.fontName
        )

    def face(self, *, bold: bool) -> Face:
        """The face of a weight."""
        return self.bold if bold else self.regular


@cache
def faces(folder: Path | None = None) -> Faces:
    """The faces of a folder of fonts (else the shipped one), loaded once.

    Raises PaperProblem when a file is missing or damaged.
    """
    return Faces(folder or shipped_folder("resources") / "fonts")


def _load(path: Path) -> TTFont:
    try:
        data = path.read_bytes()
    except OSError:
        raise PaperProblem(
            say(
                "Nothing can be printed: the font file {name} cannot be read in {parent}. Put it back "
                "there, or install benchapp again; the workbook and its records are untouched.",
                name=path.name,
                parent=path.parent,
            )
        ) from None
    try:
        font = TTFont(str(path), str(path))  # by its path: two folders may hold fonts of one name
    except (TTFError, struct.error, IndexError, KeyError, ValueError, OverflowError) as error:
        raise PaperProblem(
            say(
                "Nothing can be printed: the font file {path} is damaged ({count} bytes, not a TrueType "
                "font that can be embedded). Replace it with a good copy, or install benchapp again; the "
                "workbook and its records are untouched.",
                path=path,
                count=len(data),
            )
        ) from error
    pdfmetrics.registerFont(font)
    return font
