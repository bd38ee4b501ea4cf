"""A list of units as people keep it in a table: each line a unit, or a sentence on what is wrong with that line."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field

from benchapp.files.spelling import nearest
from benchapp.visible import visible
from benchapp.words import say

MARK, DESIGN, ROUTE, MEDIA, MEDIA_DONE = "shelf mark", "design", "route", "media left inside", "what became of them"
SERIAL, CONDITION = "serial number", "condition"
WHERE_FROM, GIVEN_BY, RIGHT = "where from", "given by", "right to give it"
CLASS, PLUG, NOTE = "class", "plug", "note"
KNOWN = (CLASS, PLUG, SERIAL, WHERE_FROM, GIVEN_BY, RIGHT, CONDITION, MEDIA, MEDIA_DONE, NOTE)
"""what may be known of a unit when it comes; all of it is kept as it was written"""
NOT_KNOWN_YET = "not known yet"
CLASSES = {
    **{said: said.upper() for said in ("0", "i", "ii", "iii")},
    **{f"class {said}": said.upper() for said in ("0", "i", "ii", "iii")},
    "1": "I",
    "2": "II",
    "3": "III",
}
"""protection classes of IEC 61140, by how people write them in small letters"""
DONE_WITH_MEDIA = ("recorded", "returned", "wiped")
LONGEST_CELL = 500
"""characters; more is no entry of a list (own choice)"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Designs:
    """What a unit may be taken in as."""

    titles: Mapping[str, str]
    """of each design, by its id"""
    routes: Mapping[str, tuple[str, ...]]
    """of each design the routes that check it, by its id"""
    unknown: str
    """the id that stands for a design that nobody knows yet"""


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedUnit:
    """A unit that is ready to be taken in, whatever the door."""

    line: int = 0
    """where it stands on a list"""
    mark: str
    equipment: str
    route: str
    known: Mapping[str, str] = field(default_factory=dict)
    """what is known of it, by what it is (`KNOWN`)"""
    hazards: tuple[str, ...] = ()
    """ids of the hazards of old equipment that it was seen to have"""


@dataclass(frozen=True, slots=True, kw_only=True)
class WrongLine:
    """A line that is not taken in as it stands, and why, in sentences."""

    line: int
    why: tuple[str, ...]


def read_head(row: Sequence[str]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The columns' names as this program knows them, and what is wrong with the head, in sentences."""
    names = tuple(" ".join(cell.lower().split()) for cell in row)
    wrong = []
    for number, name in enumerate(names):
        if name and name not in (MARK, DESIGN, ROUTE, *KNOWN):
            near = nearest(name, (MARK, DESIGN, ROUTE, *KNOWN))
            hint = say("Did you mean {near}?", near=near) if near else say("Rename it, or leave it out.")
            wrong.append(say("No column is called “{name}”. {hint}", name=visible(row[number])[:40], hint=hint))
        if name and name in names[:number]:
            wrong.append(say("Two columns are called “{name}”. Keep one of them.", name=name))
    missing = [wanted for wanted in (MARK, DESIGN) if wanted not in names]
    wrong += [say("The first line has no column “{wanted}”. Add it.", wanted=wanted) for wanted in missing]
    return names, tuple(wrong)


def read_units(
    names: Sequence[str], rows: Sequence[Sequence[str]], designs: Designs, taken: Collection[str]
) -> tuple[tuple[ListedUnit, ...], tuple[WrongLine, ...]]:
    """The units of the lines below the head (which is line 1), and the lines that are wrong.

    Blank lines are passed over; `taken` are the marks that units have already.
    """
    units: list[ListedUnit] = []
    wrong: list[WrongLine] = []
    lines: dict[str, int] = {}
    for line, row in enumerate(rows, start=2):
        said = {name: cell.strip() for name, cell in zip(names, row, strict=False) if name and cell.strip()}
        if not said:
            continue
        equipment, route, of_design = _what_it_is(said, designs)
        why = (*_mark(said.get(MARK, ""), lines, taken), *of_design, *_rest(said))
        lines.setdefault(said.get(MARK, ""), line)
        if why:
            wrong.append(WrongLine(line=line, why=why))
        else:
            known = {name: said[name] for name in KNOWN if name in said}
            units.append(ListedUnit(line=line, mark=said[MARK], equipment=equipment, route=route, known=known))
    return tuple(units), tuple(wrong)


def _mark(mark: str, lines: Mapping[str, int], taken: Collection[str]) -> tuple[str, ...]:
    if not mark:
        return (say("It has no shelf mark. Give it one."),)
    if mark in lines:
        return (
            say("The mark {mark} stands on line {line} too. Give one of them another.", mark=mark, line=lines[mark]),
        )
    if mark in taken:
        return (say("There is a unit {mark} in the workbook already. Give this one another mark.", mark=mark),)
    return ()


def _what_it_is(said: Mapping[str, str], designs: Designs) -> tuple[str, str, tuple[str, ...]]:
    """Design and route by their ids, and what is wrong with them."""
    written = said.get(DESIGN, NOT_KNOWN_YET)
    by_title = {title.lower(): one for one, title in designs.titles.items()}
    equipment = written if written in designs.titles else by_title.get(written.lower(), "")
    if written.lower() == NOT_KNOWN_YET:
        equipment = designs.unknown
    if not equipment:
        near = nearest(written, (*designs.titles, *designs.titles.values()))
        hint = say("Did you mean {near}?", near=near) if near else say("Write “not known yet” where nobody knows it.")
        return "", "", (say("There is no design “{design}”. {hint}", design=visible(written)[:60], hint=hint),)
    offered = designs.routes[equipment]
    route = said.get(ROUTE, "")
    if route in offered:
        return equipment, route, ()
    listed = ", ".join(offered) or "none"
    if route:
        words = say(
            "“{route}” does not check {design}. Its routes are: {listed}.", route=route, design=equipment, listed=listed
        )
    elif len(offered) == 1:
        return equipment, offered[0], ()
    else:
        words = say("Say which route checks {design}: {listed}.", design=equipment, listed=listed)
    return equipment, "", (words,)


def _rest(said: Mapping[str, str]) -> tuple[str, ...]:
    wrong = [
        say(
            "“{name}” holds {count} characters, and at most {most} are kept.",
            name=name,
            count=len(cell),
            most=LONGEST_CELL,
        )
        for name, cell in said.items()
        if len(cell) > LONGEST_CELL
    ]
    done = said.get(MEDIA_DONE, "")
    if done and done.lower() not in DONE_WITH_MEDIA:
        wrong.append(say("What became of the media is one of: {listed}.", listed=", ".join(DONE_WITH_MEDIA)))
    if MEDIA in said and not done:
        wrong.append(say("Media were left inside: say whether they were recorded, returned or wiped."))
    return tuple(wrong)
