"""The one table of keys: what each is called, where it holds, what it does; and the action that each is made into.

Hints, buttons, sentences and the page of all keys read this table; no other file writes a key down.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QWidget

from benchapp.desktop.words import tr

WINDOW = "window"
BENCH = "bench"
ANYWHERE = "anywhere"


@dataclass(frozen=True, slots=True, kw_only=True)
class Key:
    """One thing that a key does, named by `id`."""

    id: str
    sequences: tuple[str, ...]
    """As Qt names them; each does the same. None: it is done from the menus alone."""
    where: str
    """`WINDOW`, a screen (`BENCH` with all its pages), a page, a dialog; `ANYWHERE` for what fields and lists take."""
    words: str
    """What it does, as the foot of the screen says it where a page has no words of its own."""
    shown: str
    """How it is written on the screen."""
    typed: bool
    """The field or list at hand takes it, so that no action is made of it."""


def _keys(where: str, *rows: tuple[str, str, str] | tuple[str, str, str, str], typed: bool = False) -> Iterator[Key]:
    """Rows of id, sequences with blanks between them, words and, where it is written otherwise, how it is shown."""
    for one, sequences, words, *shown in rows:
        each = tuple(sequences.split())
        yield Key(id=one, sequences=each, where=where, words=words, shown=(*shown, *each, "")[0], typed=typed)


TABLE = (
    *_keys(
        WINDOW,
        ("lots", "F2", "Lots"),
        ("bench", "F4", "Bench"),
        ("sale", "F11", "Sale table"),
        ("all keys", "F1", "all keys"),
        ("initials", "F7", "your initials"),
        ("opening", "F8", "bench opening: prove meters"),
        ("withdraw", "Ctrl+Z", "take back what you did last"),
        ("workshop", "Ctrl+,", "the workshop"),
        ("people", "Ctrl+Shift+P", "people: who may do what"),
        ("meters", "Ctrl+Shift+E", "meters of the workshop"),
        ("wires", "Ctrl+Shift+M", "meters on a wire"),
        ("backups", "Ctrl+S", "Backups"),
        ("back up now", "Ctrl+B", "back up now"),
        ("copy", "Ctrl+Shift+S", "make a copy of the workbook"),
        ("check record", "Ctrl+Shift+H", "does the record hold"),
        ("text larger", "Ctrl++ Ctrl+=", "text larger", "Ctrl and +"),
        ("text smaller", "Ctrl+-", "text smaller", "−"),
        ("text as usual", "Ctrl+0", "text as usual", "0"),
        ("open workbook", "Ctrl+O", "open a workbook"),
        ("new workbook", "Ctrl+Shift+N", "begin a new workbook"),
        ("close", "Ctrl+W", "close the workbook"),
        ("quit", "Ctrl+Q", "quit"),
        ("find unit", "Ctrl+F", "find a unit by its mark"),
        ("help", "Shift+F1", "how a day goes"),
        ("about program", "", "about this program, and licences"),
        ("theme of the system", "", "as the system has them"),
        ("light theme", "", "light"),
        ("dark theme", "", "dark"),
        ("strong contrast", "", "strong contrast"),
    ),
    *_keys(
        "lots",
        ("new lot", "Ctrl+N", "new lot"),
        ("print lot", "Ctrl+P", "print tags or stickers of the lot"),
        ("lot units", "Ctrl+Shift+D", "this lot: more units, another lot, another design"),
        ("lot tags", "Ctrl+E", "tags of the lot as PDF"),
        ("unit photos", "Ctrl+Shift+G", "photos of units"),
        ("lot designs", "Ctrl+Shift+T", "the design, drawn"),
        ("lot in one look", "Ctrl+Shift+L", "the lot in one look"),
        ("leave look", "Esc", "back to the board"),
        ("sweep", "Ctrl+J", "one stage for all units"),
    ),
    *_keys(
        "lots",
        ("search board", "", "search", "letters, digits"),
        ("heads", "Up", "column heads", "↑ above the first row"),
        ("another lot", "Alt+L", "another lot"),
        typed=True,
    ),
    *_keys(
        "sale",
        ("print shown", "Ctrl+P", "print the tags shown"),
        ("export shown", "Ctrl+E", "tags shown as PDF"),
        ("sheet shown", "Ctrl+R", "record sheet of the unit"),
    ),
    *_keys("sale", ("others", "Alt+W", "show others"), typed=True),
    *_keys(
        "backups",
        ("restore", "Ctrl+Shift+R", "restore to a new file"),
        ("backup folder", "Ctrl+Shift+F", "folder for backups"),
        ("day file in", "Ctrl+I", "bring a day file in"),
        ("day file out", "Ctrl+Shift+I", "write a day file"),
        ("leave backups", "Esc", "back to the lots"),
    ),
    *_keys(
        BENCH,
        ("again", "F3", "take it again"),
        ("next", "F5", "next unit"),
        ("outcome", "F6", "hold, spares, scrap"),
        ("event", "F9", "it fell, was opened, false alarm"),
        ("search", "F10", "find the fault"),
        ("hazard", "F12 Ctrl+Backspace", "smoke, smell, hum or heat"),
        ("meter", "Ctrl+D", "another meter"),
        ("facts", "Ctrl+U", "what this unit has and its design has not"),
        ("record", "Ctrl+L", "the record"),
        ("pins", "Ctrl+K", "pin card as PDF"),
        ("print", "Ctrl+P", "print: tag, record, pin card"),
        ("export", "Ctrl+E", "tag as PDF"),
        ("sheet", "Ctrl+R", "record sheet as PDF"),
        ("back", "Esc", "back"),
    ),
    *_keys("reading", ("range", "Ctrl+G", "range of the meter"), ("budget", "Ctrl+Shift+U", "why this uncertainty")),
    *_keys(
        "reading",
        ("digits", "0 1 2 3 4 5 6 7 8 9", "the reading, as 9.12 or 4k7", "digits"),
        ("one more", ";", "one more reading of the same"),
        ("over range", "*", "OL, over range"),
        ("take shown", "+", "take what the meter on the wire shows"),
        typed=True,
    ),
    *_keys(
        "photo",
        ("choose photos", "Ctrl+Shift+O", "choose photos"),
        ("paste photos", "Ctrl+V", "paste a photo"),
        ("take away", "Del Backspace", "take the marked photo away"),
        ("attach photo", "Ctrl+Shift+A", "attach it"),
        ("leave photo", "Ctrl+Shift+X", "not this one"),
        ("photo folder", "Ctrl+Shift+W", "folder …"),
    ),
    *_keys("record", ("take this back", "Del Backspace", "take this one back, or answer it again")),
    *_keys("caution", ("understood", "Y Shift+Y", "yes, read and understood")),
    *_keys("opening", ("open", "Ctrl+Return Ctrl+Enter", "open the bench", "Ctrl+Enter")),
    *_keys("search", ("agree", "Ctrl+Return Ctrl+Enter", "the marked suspect is the fault", "Ctrl+Enter")),
    *_keys(
        "outcome",
        ("destroyed", "D Shift+D", "plug cut off and destroyed"),
        ("mark anew", "Ctrl+T", "another shelf mark"),
    ),
    *_keys("outcome", ("disposition", "1 2 3 4 5 6", "what becomes of it", "1…6"), typed=True),
    *_keys(
        "inspect", ("good", "1", "good"), ("bad", "2", "bad"), ("does not apply", "3", "does not apply"), typed=True
    ),
    *_keys("repair", ("not needed", "3", "not needed"), typed=True),
    *_keys("meter", ("this meter", "1 2 3 4 5 6 7 8 9", "take that meter", "1…9"), typed=True),
    *_keys(
        ANYWHERE,
        ("enter", "Return Enter", "record", "Enter"),
        ("rows", "Up Down", "another row", "↑ ↓"),
        ("fields", "Tab", "next field"),
        ("tick", "Space", "yes or no"),
        ("cut", "Ctrl+X", "cut"),
        ("copy text", "Ctrl+C", "copy"),
        ("paste", "Ctrl+V", "paste"),
        ("select all", "Ctrl+A", "select all"),
        typed=True,
    ),
    *_keys(
        "leaving-dialog", ("make safe now", "Alt+M", "make it safe"), ("leave live", "Alt+L", "leave it, all the same")
    ),
    *_keys("pause-dialog", ("sweep on", "Alt+G", "go on with the sweep")),
    *_keys(
        "new-lot-dialog",
        ("add units", "Alt+A", "add these, change one, go on"),
        ("row out", "Alt+O", "take the marked row out"),
        ("this design", "Alt+L", "look at this design"),
        ("new design", "Alt+K", "describe another kind of item"),
        ("and print", "Alt+P", "print stickers too"),
        ("and photos", "Alt+H", "photos too"),
    ),
    *_keys("lot-list-dialog", ("list and print", "Alt+P", "print stickers too")),
    *_keys(
        "lot-units-dialog",
        ("tick all", "Alt+A", "tick all, or none"),
        ("more units", "Alt+M", "more units for this lot"),
        ("photos of row", "Alt+H", "photos of the marked unit"),
        ("tags of ticked", "Alt+P", "print tags or stickers of those ticked"),
    ),
    *_keys("unit-photos-dialog", ("next photos", "Alt+N", "next unit")),
    *_keys("meter-dialog", ("add line", "Alt+A", "add this line"), ("line out", "Alt+O", "take the marked line out")),
    *_keys("keys-dialog", ("about", "A", "About and licences")),
    *_keys("take-back-dialog", ("answer again", "Alt+A", "answer it again")),
    *_keys("save-dialog", ("replace", "Alt+R", "replace that file")),
    *_keys(
        "print-dialog",
        ("test print", "Alt+T", "test print"),
        ("as pdf", "Alt+F", "as a PDF file"),
        ("fitting sheet", "Alt+S", "take the sheet that fits"),
        ("page back", "PgUp", "page before"),
        ("page on", "PgDown", "page after"),
    ),
)
KEYS = {key.id: key for key in TABLE}
_OF_FIELDS = ("Ctrl+V",)
"""a field pastes text before the page pastes a photo"""
BEFORE_FIELDS = frozenset(
    QKeySequence(sequence)[0].toCombined()  # type: ignore[index]
    for key in TABLE
    if not key.typed
    for sequence in key.sequences
    if "Ctrl+" in sequence and sequence not in _OF_FIELDS
)
"""keys, with what is held beside them, that no field takes for an editing key of its own"""

ALIKE: tuple[tuple[str, ...], ...] = (
    ("print lot", "print", "print shown"),
    ("lot tags", "export", "export shown"),
    ("sheet", "sheet shown"),
    ("back", "leave backups", "leave look"),
    ("open", "agree"),
    ("paste", "paste photos"),
    ("take away", "take this back"),
)
"""Rows that mean one thing, each in its own place: they alone share a key."""

ALL_KEYS: tuple[tuple[tuple[str, ...], str], ...] = (
    (("lots", "bench", "sale"), "Lots, Bench, Sale table"),
    (("initials",), "your initials"),
    (("text larger", "text smaller", "text as usual"), "text larger, smaller, as usual"),
    (("enter",), "record, go on; on the board: take the unit, or the stage from its column head"),
    (("withdraw",), "take back what you did last at this bench, prices too; both stay in the record"),
    (("again",), "take a failed step again, or a reading that the search doubts"),
    (("next",), "next unit"),
    (("outcome",), "what becomes of the unit: for sale, hold, spares, scrap"),
    (("mark anew",), "on the outcome of a unit: give it another shelf mark"),
    (("opening",), "bench opening: prove the meters"),
    (("event",), "it fell, got damp, was cleaned wet or opened; a false alarm; another design; the meters of today"),
    (("search",), "once a reading has failed: find the fault, by more probes, dead and live"),
    (("meter",), "another meter"),
    (("range",), "on a reading: the range of the meter, where it was set by hand"),
    (("budget",), "on a reading: what its uncertainty is made of"),
    (("choose photos", "paste photos", "take away"), "on a photo: choose files, paste one, take the marked one away"),
    (
        ("attach photo", "leave photo", "photo folder"),
        "on a photo: attach the new one from the phone's folder, leave it, name the folder",
    ),
    (("facts",), "what this unit has and its design has not: cord, plug, class"),
    (
        ("record", "take this back"),
        "the record of the unit, and why each reading was judged so; there: take one back, or answer it again",
    ),
    (
        ("hazard",),
        "on live pages: smoke, smell, hum or heat. Off at the wall, or plug out. Ctrl+Backspace does the same",
    ),
    (("back",), "back; from a live page the way back, else to the lots. What was typed is kept"),
    (("new lot",), "on the lots: new lot"),
    (("lot in one look",), "on the lots: where its units stand, what was found wrong, what to fetch; again: the board"),
    (("sweep",), "on the lots: one stage for all units that are ready there, one after the other"),
    (("lot units",), "on the lots: more units for this lot, units into another lot, units of another design"),
    (("unit photos",), "on the lots: photos of a unit, from files, the clipboard, a drag or the phone's folder"),
    (("lot designs",), "on the lots: the circuit of a unit's design, drawn, and the readings that its route plans"),
    (("find unit",), "find a unit by its mark or the code of its tag"),
    (("open workbook", "new workbook"), "open another workbook, begin a new one"),
    (("close", "quit"), "close the workbook, quit"),
    (("help",), "how a day goes"),
    (("workshop",), "the workshop: region, age of dead tests, insulation tester"),
    (("people",), "people: who they are, what they may do, until when"),
    (("meters",), "meters of the workshop: what each reads, as its data sheet says"),
    (("wires", "take shown"), "meters on a wire: where each answers, and a trial; on a reading: take what it shows"),
    (("backups",), "backups: where they go, what each holds"),
    (("back up now", "restore", "backup folder"), "on the backups: back up now, restore to a new file, another folder"),
    (("copy",), "make a copy of the workbook, whole and checked"),
    (("check record",), "does the record hold: what does not, and a check of all of it"),
    (("day file in", "day file out"), "on the backups: bring another bench's day file in, write one"),
    (("pins",), "on the bench: pin card as PDF, to lay under a breakout lead"),
    (
        ("print", "export", "sheet"),
        "print (tags; on the bench record sheet and pin card too), tags as PDF, record sheet as PDF",
    ),
)
"""The page of all keys: keys by their ids, and what is said of them at length."""


def key_text(one: str) -> str:
    """How the key of that id is written on the screen."""
    return KEYS[one].shown


def with_key(one: str, words: str) -> str:
    """The words of a button behind the key that does the same."""
    return f"{key_text(one)}  {words}"


def native_key(one: str) -> str:
    """The first key of that id as this system writes it; empty where it has none."""
    sequences = KEYS[one].sequences
    return QKeySequence(sequences[0]).toString(QKeySequence.SequenceFormat.NativeText) if sequences else ""


def action_at_hand(window: QWidget, ones: Iterable[str]) -> tuple[str, Callable[[], object]] | None:
    """The first of these ids whose place is on the screen, and what its action does; None where none is."""
    for one in ones:
        action = window.findChild(QAction, f"action-{one}")
        owner = action.parent() if action is not None else None
        if action is not None and action.isEnabled() and isinstance(owner, QWidget) and owner.isVisible():
            return one, action.trigger
    return None


def add_action(owner: QWidget, one: str, work: Callable[[], object]) -> QAction:
    """Make the key of that id work wherever the keyboard is in `owner`: in its whole window for a key of the window."""
    key = KEYS[one]
    assert not key.typed, f"{one} is taken by the field or list at hand"
    action = QAction(tr(key.words), owner)
    action.setObjectName(f"action-{one}")
    action.setShortcuts([QKeySequence(sequence) for sequence in key.sequences])
    contexts = Qt.ShortcutContext
    action.setShortcutContext(contexts.WindowShortcut if key.where == WINDOW else contexts.WidgetWithChildrenShortcut)
    action.setAutoRepeat(False)
    action.triggered.connect(lambda _checked=False: work())
    owner.addAction(action)
    return action


def take_short_cut(owners: Iterable[QWidget], event: QKeyEvent) -> bool:
    """Do what the struck key is for in the first of these places that has an action for it; false where none has."""
    struck = QKeySequence(event.keyCombination())
    actions = (action for owner in owners for action in owner.actions() if action.isEnabled())
    action = next((action for action in actions if struck in action.shortcuts()), None)
    if action is not None:
        action.trigger()
    return action is not None
