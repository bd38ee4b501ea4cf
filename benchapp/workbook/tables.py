"""What is kept, table by table.

Choices are stored as text with a check, times as ISO 8601 texts in UTC, what has no columns of its own as canonical
JSON. Entries, runs, revisions and anchors are only ever added: triggers refuse UPDATE and DELETE on them. Nothing maps
rows to objects, so these are plain tables: the mapper's library would cost an eighth of the window's start.
"""

from collections.abc import Sequence
from typing import Any

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
from sqlalchemy.types import TypeEngine

from benchapp.judgement.statements.statements import Judgement, Rule
from benchapp.sequences.planning.entries import Disposition, EntryKind
from benchapp.sequences.planning.state import StageStatus

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


def identity() -> Column[Any]:
    """The row's own number."""
    return Column("id", Integer, primary_key=True)


def kept(name: str, kind: type[TypeEngine[Any]] = Text, *, nullable: bool = False, **more: Any) -> Column[Any]:  # noqa: ANN401
    """A column, text that is always there where nothing else is said; `more` is the column's own."""
    return Column(name, kind, nullable=nullable, **more)


def reference(name: str, to: str, **more: Any) -> Column[Any]:  # noqa: ANN401 (the column's own)
    """The number of a row of another table."""
    return Column(name, Integer, ForeignKey(to), nullable=False, **more)


WORKBOOK = Table(
    "workbook",
    METADATA,
    identity(),
    kept("uuid", unique=True),
    kept("made"),
    kept("workshop"),
    CheckConstraint("id = 1", name="single"),
)
"""The workbook itself: who it is, and the workshop's settings as JSON."""

LOTS = Table(
    "lots",
    METADATA,
    identity(),
    kept("name", unique=True),
    kept("equipment"),
    kept("title"),
    kept("taken_in"),
    kept("by"),
    kept("note"),
)
"""Units taken in together."""

UNITS = Table(
    "units",
    METADATA,
    identity(),
    reference("lot_id", "lots.id", index=True),
    kept("mark", unique=True),
    kept("genesis"),
    kept("route"),
    kept("disposition"),
    kept("grade"),
    kept("price"),
    kept("due"),
    kept("run_id", Integer, nullable=True),
    kept("last_entry", Integer),
    kept("last_at"),
    kept("last_sha256"),
    one_of("disposition", DISPOSITIONS),
)
"""One physical item. All but its mark and lot is a projection of its entries, kept for the board."""

REVISIONS = Table("revisions", METADATA, identity(), kept("sha256", unique=True), kept("text"), kept("kept"))
"""The exact text of a file that a run pinned, kept once however many runs pin it."""

RUNS = Table(
    "runs",
    METADATA,
    identity(),
    kept("uuid", unique=True),
    reference("unit_id", "units.id"),
    kept("number", Integer),
    kept("started"),
    kept("by"),
    kept("route"),
    kept("equipment"),
    kept("workshop"),
    kept("sha256"),
    UniqueConstraint("unit_id", "number"),
)
"""One pass of pinned texts over one unit, with the workshop's settings of that moment."""

RUN_REVISIONS = Table(
    "run_revisions",
    METADATA,
    reference("run_id", "runs.id", primary_key=True),
    kept("name", primary_key=True),
    reference("revision_id", "revisions.id"),
)
"""Which text a run pinned under which file name."""

ENTRIES = Table(
    "entries",
    METADATA,
    identity(),
    kept("uuid", unique=True),
    reference("unit_id", "units.id"),
    kept("number", Integer),
    reference("run_id", "runs.id"),
    kept("kind"),
    kept("at"),
    kept("by"),
    kept("address"),
    kept("value", Double, nullable=True),
    kept("bound", Text, nullable=True),
    kept("lower", Double, nullable=True),
    kept("upper", Double, nullable=True),
    kept("standard_uncertainty", Double, nullable=True),
    kept("rule", Text, nullable=True),
    kept("judgement", Text, nullable=True),
    kept("rules_version", Text, nullable=True),
    kept("content"),
    kept("sha256"),
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
    "anchors", METADATA, identity(), kept("at"), kept("reason"), kept("entries", Integer), kept("heads"), kept("sha256")
)
"""A seal over the last entry of every unit, chained to the seal before it."""

UNIT_STAGES = Table(
    "unit_stages",
    METADATA,
    reference("unit_id", "units.id", primary_key=True),
    kept("stage", primary_key=True),
    kept("position", Integer),
    kept("title"),
    kept("status"),
    kept("done", Integer),
    kept("steps", Integer),
    kept("why"),
    one_of("status", STATUSES),
)
"""How far a unit is in a stage: a projection of its entries, so that the board opens without folding."""

BENCH_OPENINGS = Table(
    "bench_openings",
    METADATA,
    identity(),
    kept("uuid", unique=True),
    kept("at"),
    kept("by"),
    kept("rcd_button_tested", Boolean),
    kept("note"),
)
"""The check at the start of a day at the bench."""

BENCH_CLOSINGS = Table(
    "bench_closings",
    METADATA,
    reference("opening_id", "bench_openings.id", primary_key=True),
    kept("at"),
    kept("by"),
    kept("note"),
)
"""The check at the end of that day."""

METER_PROOFS = Table(
    "meter_proofs",
    METADATA,
    reference("opening_id", "bench_openings.id", primary_key=True),
    kept("moment", primary_key=True),
    kept("meter", primary_key=True),
    kept("proved", Boolean),
    kept("lead_resistance", Double, nullable=True),
    kept("nulled", Boolean),
    one_of("moment", MOMENTS),
)
"""A meter proved, or found wanting, when the bench was opened or closed."""

TAGS_PRINTED = Table(
    "tags_printed",
    METADATA,
    identity(),
    reference("unit_id", "units.id", index=True),
    kept("at"),
    kept("by"),
    kept("disposition"),
    kept("record_hash"),
)
"""That a tag was put on paper: what it said and on which record."""
