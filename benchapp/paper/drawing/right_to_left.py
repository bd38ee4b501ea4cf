"""The order and form in which letters of Hebrew and Arabic are drawn, on a line that else runs from left to right.

A page draws letters one after the other from left to right. So stretches of right-to-left text are turned about here,
numbers in them excepted, and Arabic letters take the forms that join them to their neighbours. After the Unicode
Bidirectional Algorithm (UAX #9) for one level of embedding in a left-to-right line, and the joining rules of The
Unicode Standard, chapter 9 (chapter from memory); the forms themselves are the compatibility decompositions of Arabic
Presentation Forms A (single letters) and B.
"""

import unicodedata
from functools import cache

_RIGHT_TO_LEFT = frozenset({"R", "AL"})
_LEFT_TO_RIGHT = frozenset({"L"})
_NUMBER = frozenset({"EN", "AN", "ES", "CS", "ET"})
_OPENING = {")": "(", "]": "[", "}": "{"}
_MIRRORED = str.maketrans("()[]{}<>«»≤≥", ")(][}{><»«≥≤")


def drawn_order(line: str) -> str:
    """The characters of one line in the order in which they are drawn from left to right."""
    classes = [unicodedata.bidirectional(character) for character in line]
    if _RIGHT_TO_LEFT.isdisjoint(classes):
        return line
    drawn, position = "", 0
    while position < len(line):
        if classes[position] not in _RIGHT_TO_LEFT:
            drawn += line[position]
            position += 1
            continue
        end = _end_of_stretch(line, classes, position)
        drawn += _turned_about(line[position:end])
        position = end
    return drawn


def joined_letters(text: str) -> str:
    """The text with each Arabic letter in the form that its neighbours ask for; other text as it is."""
    if not any("\u0600" <= character <= "\u06ff" for character in text):
        return text
    text = _ligatures_made(text)
    letters = [index for index, character in enumerate(text) if not unicodedata.combining(character)]
    shaped = list(text)
    for place, index in enumerate(letters):
        before = place > 0 and "initial" in _forms(text[letters[place - 1]])
        after = place + 1 < len(letters) and "final" in _forms(text[letters[place + 1]])
        forms = _forms(text[index])
        after = after and "initial" in forms
        before = before and "final" in forms
        name = "medial" if before and after else "final" if before else "initial" if after else "isolated"
        shaped[index] = forms.get(name, text[index])
    return "".join(shaped)


def _end_of_stretch(line: str, classes: list[str], start: int) -> int:
    """Just after the last right-to-left letter (or number behind it) before the next left-to-right letter.

    A bracket that closes one opened in the stretch belongs to it.
    """
    end = start
    for position in range(start, len(classes)):
        if classes[position] in _LEFT_TO_RIGHT:
            break
        if classes[position] in _RIGHT_TO_LEFT or classes[position] in ("EN", "AN", "NSM"):
            end = position + 1
    while end < len(line) and line[end] in _OPENING and _open(line[start:end], line[end]):
        end += 1
    return end


def _open(stretch: str, closing: str) -> bool:
    return stretch.count(_OPENING[closing]) > stretch.count(closing)


def _turned_about(stretch: str) -> str:
    """A right-to-left stretch from its last letter to its first; numbers keep their order, marks their letter."""
    pieces: list[str] = []
    for character in stretch:
        kind = unicodedata.bidirectional(character)
        continues = kind in _NUMBER and pieces and unicodedata.bidirectional(pieces[-1][-1]) in _NUMBER
        if pieces and (kind == "NSM" or continues):
            pieces[-1] += character
        else:
            pieces.append(character.translate(_MIRRORED))
    return "".join(reversed(pieces))


def _ligatures_made(text: str) -> str:
    """Lam before alef is written as one sign; its joined forms follow from `_forms` as for a letter."""
    for pair, sign in _pairs().items():
        text = text.replace(pair, sign)
    return text


@cache
def _table() -> dict[str, dict[str, str]]:
    """Letter (or pair) -> name of a form -> the character of that form."""
    table: dict[str, dict[str, str]] = {}
    for code in (*range(0xFB50, 0xFC00), *range(0xFE70, 0xFEFD)):
        form, *parts = unicodedata.decomposition(chr(code)).split() or [""]
        letters = "".join(chr(int(part, 16)) for part in parts)
        if form in ("<isolated>", "<final>", "<initial>", "<medial>") and (len(letters) == 1 or code >= 0xFE70):
            table.setdefault(letters, {})[form.strip("<>")] = chr(code)
    return table


@cache
def _pairs() -> dict[str, str]:
    """Pairs of letters with one sign of their own -> that sign standing alone."""
    whole = {letters: forms for letters, forms in _table().items() if len(letters) == 2 and "isolated" in forms}
    return {letters: forms["isolated"] for letters, forms in whole.items() if not letters.startswith(" ")}


@cache
def _forms(character: str) -> dict[str, str]:
    alone = {sign: letters for letters, sign in _pairs().items()}
    return _table().get(alone.get(character, character), {})
