"""What is kept, table by table.

Choices are stored as text with a check, times as ISO 8601 texts in UTC, what has no columns of its own as canonical
JSON. Entries, runs, revisions and anchors are only ever added: triggers refuse UPDATE and DELETE on them. Nothing maps
rows to objects, so these are plain tables: the mapper's library would cost an eighth of the window's start.
"""

from collections.abc import Sequence

from sqlalchemy import (
    Boolean,
    CheckConstraint,
    Column,
    Double,
    ForeignKey,
    Index,
    Integer,
    MetaData,
    Table,
    Text,
    UniqueConstraint,
)

from benchapp.judgement.statements import Judgement, Rule
from benchapp.sequences.entries import Disposition, EntryKind
from benchapp.sequences.state import StageStatus

ENTRY_KINDS = tuple(EntryKind)
JUDGEMENTS = tuple(Judgement)
RULES = tuple(Rule)
BOUNDS = ("exact", "above", "below")
DISPOSITIONS = tuple(Disposition)
STATUSES = tuple(StageStatus)
MOMENTS = ("opening", "closing")

NAMING = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}
METADATA = MetaData(naming_convention=NAMING)
"""The constraint names are stable, so that migrations can name them."""


def one_of(column: str, words: Sequence[str]) -> CheckConstraint:
    """A check that a text column holds one of these words (or NULL, where the column allows it)."""
    return CheckConstraint(f"{column} IN ({', '.join(repr(str(word)) for word in words)})", name=column)


WORKBOOK = Table(
    "workbook",
    METADATA,
    Column("id", Integer, primary_key=True),
    Column("uuid", Text, unique=True, nullable=False),
    Column("made", Text, nullable=False),
    Column("workshop", Text, nullable=False),
    CheckConstraint("id = 1", name="single"),
)
"""The workbook itself: who it is, and the workshop's settings as JSON."""

LOTS = Table(
    "lots",
    METADATA,
    Column("id", Integer, primary_key=True),
    Column("name", Text, unique=True, nullable=False),
    Column("equipment", Text, nullable=False),
    Column("title", Text, nullable=False),
    Column("taken_in", Text, nullable=False),
    Column("by", Text, nullable=False),
    Column("note", Text, nullable=False),
)
"""Units taken in together."""

UNITS = Table(
    "units",
    METADATA,
    Column("id", Integer, primary_key=True),
    Column("lot_id", Integer, ForeignKey("lots.id"), index=True, nullable=False),
    Column("mark", Text, unique=True, nullable=False),
    Column("genesis", Text, nullable=False),
    Column("route", Text, nullable=False),
    Column("disposition", Text, nullable=False),
    Column("grade", Text, nullable=False),
    Column("price", Text, nullable=False),
    Column("due", Text, nullable=False),
    Column("run_id", Integer),
    Column("last_entry", Integer, nullable=False),
    Column("last_at", Text, nullable=False),
    Column("last_sha256", Text, nullable=False),
    one_of("disposition", DISPOSITIONS),
)
"""One physical item. All but its mark and lot is a projection of its entries, kept for the board."""

REVISIONS = Table(
    "revisions",
    METADATA,
    Column("id", Integer, primary_key=True),
    Column("sha256", Text, unique=True, nullable=False),
    Column("text", Text, nullable=False),
    Column("kept", Text, nullable=False),
)
"""The exact text of a file that a run pinned, kept once however many runs pin it."""

RUNS = Table(
    "runs",
    METADATA,
    Column("id", Integer, primary_key=True),
    Column("uuid", Text, unique=True, nullable=False),
    Column("unit_id", Integer, ForeignKey("units.id"), nullable=False),
    Column("number", Integer, nullable=False),
    Column("started", Text, nullable=False),
    Column("by", Text, nullable=False),
    Column("route", Text, nullable=False),
    Column("equipment", Text, nullable=False),
    Column("workshop", Text, nullable=False),
    Column("sha256", Text, nullable=False),
    UniqueConstraint("unit_id", "number"),
)
"""One pass of pinned texts over one unit, with the workshop's settings of that moment."""

RUN_REVISIONS = Table(
    "run_revisions",
    METADATA,
    Column("run_id", Integer, ForeignKey("runs.id"), primary_key=True),
    Column("name", Text, primary_key=True),
    Column("revision_id", Integer, ForeignKey("revisions.id"), nullable=False),
)
"""Which text a run pinned under which file name."""

ENTRIES = Table(
    "entries",
    METADATA,
    Column("id", Integer, primary_key=True),
    Column("uuid", Text, unique=True, nullable=False),
    Column("unit_id", Integer, ForeignKey("units.id"), nullable=False),
    Column("number", Integer, nullable=False),
    Column("run_id", Integer, ForeignKey("runs.id"), nullable=False),
    Column("kind", Text, nullable=False),
    Column("at", Text, nullable=False),
    Column("by", Text, nullable=False),
    Column("address", Text, nullable=False),
    Column("value", Double),
    Column("bound", Text),
    Column("lower", Double),
    Column("upper", Double),
    Column("standard_uncertainty", Double),
    Column("rule", Text),
    Column("judgement", Text),
    Column("rules_version", Text),
    Column("content", Text, nullable=False),
    Column("sha256", Text, nullable=False),
    UniqueConstraint("unit_id", "number"),
    Index(None, "address", "unit_id"),
    one_of("kind", ENTRY_KINDS),
    one_of("judgement", JUDGEMENTS),
    one_of("rule", RULES),
    one_of("bound", BOUNDS),
    CheckConstraint("number >= 1", name="number"),
)
"""One accepted entry, as it was given. What its judgement rests on stands in columns, in SI units."""

ANCHORS = Table(
    "anchors",
    METADATA,
    Column("id", Integer, primary_key=True),
    Column("at", Text, nullable=False),
    Column("reason", Text, nullable=False),
    Column("entries", Integer, nullable=False),
    Column("heads", Text, nullable=False),
    Column("sha256", Text, nullable=False),
)
"""A seal over the last entry of every unit, chained to the seal before it."""

UNIT_STAGES = Table(
    "unit_stages",
    METADATA,
    Column("unit_id", Integer, ForeignKey("units.id"), primary_key=True),
    Column("stage", Text, primary_key=True),
    Column("position", Integer, nullable=False),
    Column("title", Text, nullable=False),
    Column("status", Text, nullable=False),
    Column("done", Integer, nullable=False),
    Column("steps", Integer, nullable=False),
    Column("why", Text, nullable=False),
    one_of("status", STATUSES),
)
"""How far a unit is in a stage: a projection of its entries, so that the board opens without folding."""

BENCH_OPENINGS = Table(
    "bench_openings",
    METADATA,
    Column("id", Integer, primary_key=True),
    Column("uuid", Text, unique=True, nullable=False),
    Column("at", Text, nullable=False),
    Column("by", Text, nullable=False),
    Column("rcd_button_tested", Boolean, nullable=False),
    Column("note", Text, nullable=False),
)
"""The check at the start of a day at the bench."""

BENCH_CLOSINGS = Table(
    "bench_closings",
    METADATA,
    Column("opening_id", Integer, ForeignKey("bench_openings.id"), primary_key=True),
    Column("at", Text, nullable=False),
    Column("by", Text, nullable=False),
    Column("note", Text, nullable=False),
)
"""The check at the end of that day."""

METER_PROOFS = Table(
    "meter_proofs",
    METADATA,
    Column("opening_id", Integer, ForeignKey("bench_openings.id"), primary_key=True),
    Column("moment", Text, primary_key=True),
    Column("meter", Text, primary_key=True),
    Column("proved", Boolean, nullable=False),
    Column("lead_resistance", Double),
    Column("nulled", Boolean, nullable=False),
    one_of("moment", MOMENTS),
)
"""A meter proved, or found wanting, when the bench was opened or closed."""

TAGS_PRINTED = Table(
    "tags_printed",
    METADATA,
    Column("id", Integer, primary_key=True),
    Column("unit_id", Integer, ForeignKey("units.id"), index=True, nullable=False),
    Column("at", Text, nullable=False),
    Column("by", Text, nullable=False),
    Column("disposition", Text, nullable=False),
    Column("record_hash", Text, nullable=False),
)
"""That a tag was put on paper: what it said and on which record."""
