"""What is printed, as plain values: the content of a tag, of a sticker, of a record sheet and of a pin card.

Nothing here knows a font, a millimetre or a PDF. Every text arrives ready to print: numbers already written with
their units, dates as the workshop writes them. An empty text or tuple is left out of the page, or is a dash in a table.
"""

from dataclasses import dataclass
from enum import StrEnum

from benchapp.judgement.statements.band import DerivationStep
from benchapp.judgement.uncertainty.budget_words import BudgetLine
from benchapp.wiring.model.faces import Face


class PaperKind(StrEnum):
    """What a printed document is; it stands in the file, so that one of ours is told from any other."""

    TAGS = "tag sheet"
    STICKERS = "sticker sheet"
    RECORD = "record sheet"
    PIN_CARD = "pin card"
    ALIGNMENT = "alignment page"


class Tone(StrEnum):
    """What a sign says by its shape: each shape can be told apart in black and white and from across a room."""

    READY = "ready"  # tested and for sale: a tick in a ring
    WAITING = "waiting"  # hold: two bars in a square
    FORBIDDEN = "forbidden"  # not tested, do not plug in; do not use: a ring with a bar across
    PARTS = "parts"  # spares or repair, scrap: a broken square
    KEPT = "kept"  # stays in the collection: a house


class Finding(StrEnum):
    """How a row of the record came out; decides the small sign before the judgement's words."""

    GOOD = "good"
    CONDITIONAL = "conditional"
    BAD = "bad"
    NOT_JUDGED = "not judged"


@dataclass(frozen=True, slots=True, kw_only=True)
class TagReading:
    """One key reading on a tag, such as ("Earth continuity", "0.06 Ω", "at most 0.15 Ω")."""

    what: str
    value: str
    band: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TagContent:
    """Everything one tag carries. `code` is the text inside the QR code (see `unit_code`); empty: no code.

    Readings come most telling first: where the label is too small the last ones give way to a line that says how many.
    Nothing else ever gives way.
    """

    shelf_mark: str
    title: str
    disposition_words: str
    tone: Tone
    tested: tuple[str, ...] = ()
    readings: tuple[TagReading, ...] = ()
    failed: tuple[str, ...] = ()
    """what failed and on which day, a line each"""
    repaired: tuple[str, ...] = ()
    """the parts that were repaired, in words"""
    fuse: str = ""
    date: str = ""
    initials: str = ""
    price: str = ""
    cautions: tuple[str, ...] = ()
    not_tested: tuple[str, ...] = ()
    code: str
    record_hash: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class StickerContent:
    """Everything a sticker carries: which unit it is stuck on. It has no place for a reading, a price or a verdict.

    `code` is the text inside the QR code, as on the unit's tag (see `unit_code`).
    """

    shelf_mark: str
    title: str
    lot: str
    taken_in: str
    code: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """A name and its value in the head or foot of a record sheet."""

    name: str
    value: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Budget:
    """The uncertainty of one reading, or of several with the same lines: (("3", "7"), "tb-m1, resistance")."""

    numbers: tuple[str, ...]
    taken_with: str
    rows: tuple[BudgetLine, ...]
    combined: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordRow:
    """One recorded answer. A step without a number puts its answer ("good", "done", "yes") in `reading`.

    `lapse` says in a word why the row no longer counts ("withdrawn", "superseded", "stale"); empty while it stands.
    """

    number: str = ""
    step: str
    reading: str
    band: str = ""
    uncertainty: str = ""
    meter: str = ""
    when: str = ""
    by: str = ""
    judgement: str = ""
    finding: Finding = Finding.NOT_JUDGED
    derivation: tuple[DerivationStep, ...] = ()
    corrections: tuple[DerivationStep, ...] = ()
    """what was taken off the reading before it was judged"""
    cautions: tuple[str, ...] = ()
    siblings: tuple[str, ...] = ()
    """how it sits among its lot's readings on the day of printing"""
    note: str = ""
    lapse: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordSection:
    """The rows of one stage; `supply` is "none", "limited" or "full" in the words to print."""

    title: str
    rows: tuple[RecordRow, ...]
    supply: str = ""
    status: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultLine:
    """One fault: when found and by whom, the part, what was wrong, and whether it is open or how it was closed."""

    when: str
    by: str
    part: str
    words: str
    state: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairLine:
    """One repair: the part touched, what was done, what was opened, parts used, and what was taken again after it."""

    when: str
    by: str
    part: str
    words: str
    opened: str = ""
    parts_used: str = ""
    retested: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Signature:
    """A line to sign, or a sign-off already given (`name` and `when` filled)."""

    role: str
    name: str = ""
    when: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordPhoto:
    """A photo: `words` name its entry and step; `image` is JPEG, PNG or WebP, empty where there is none."""

    words: str
    image: bytes
    of_unit: str = ""
    """the number of its entry where it belongs to no step"""


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordSheet:
    """The whole record of one unit. `facts` are the head (equipment, lot, class, cord, fuse, route and revision ...);
    `hashes` are printed in full (record, texts pinned); `printed` is the date of printing, passed in.
    """

    shelf_mark: str
    equipment: str
    lot: str
    disposition_words: str
    tone: Tone
    facts: tuple[Fact, ...] = ()
    sections: tuple[RecordSection, ...] = ()
    budgets: tuple[Budget, ...] = ()
    faults: tuple[FaultLine, ...] = ()
    repairs: tuple[RepairLine, ...] = ()
    failed: tuple[str, ...] = ()
    """what failed and is not mended, each with its day first, as on the tag"""
    not_tested: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    cautions_read: tuple[Fact, ...] = ()
    """the cautions of the work on it by their titles: what each says, and who read it when"""
    hazards: tuple[Fact, ...] = ()
    """hazards of old equipment by their titles: how each stands in this unit, what to do and what never"""
    own_texts: tuple[str, ...] = ()
    """safety texts and figures that no published document gives: the workshop's own"""
    meters: tuple[Fact, ...] = ()
    hashes: tuple[Fact, ...] = ()
    signatures: tuple[Signature, ...] = ()
    photos: tuple[RecordPhoto, ...] = ()
    printed: str = ""
    code: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PinReading:
    """What should be read between two pins, dead or live: `what` names it ("resistance, switch on")."""

    between: str
    what: str
    expected: str
    band: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PinCard:
    """A connector's face at true size with what should be read there, to lay under a breakout lead.

    `groups` says in words which pins are joined; `conditions` what the voltages hold for (mains, no load).
    """

    equipment: str
    face: Face
    groups: tuple[str, ...] = ()
    readings: tuple[PinReading, ...] = ()
    conditions: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    printed: str = ""


def unit_code(shelf_mark: str, record_hash: str) -> str:
    """Text of a unit's QR code, as a scanner types it: the shelf mark and eight characters of the record's hash.

    The hash is written in capitals: with a mark in capitals the whole text is then in the code's alphanumeric set,
    which needs the fewest modules (ISO/IEC 18004, alphanumeric mode), so each module prints larger.
    """
    return f"{shelf_mark} {record_hash[:8].upper()}".strip()
