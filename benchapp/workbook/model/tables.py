"""What is kept, table by table.

The record is `entries`, `revisions` and `photos`; all else is made from it and can be made again. What is recorded is
only ever added: guards refuse UPDATE and DELETE there (`guards.py`). Times are ISO 8601 texts in UTC. Nothing maps rows
to objects, so these are plain tables: the mapper's library would cost an eighth of the window's start.
"""

from typing import Any

from sqlalchemy import (
    Boolean,
    CheckConstraint,
    Column,
    Double,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    Table,
    Text,
    UniqueConstraint,
    text,
)
from sqlalchemy.types import TypeEngine

NAMING = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}
METADATA = MetaData(naming_convention=NAMING)
"""The constraint names are stable, so that migrations can name them."""


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
    kept("settings"),
    kept("settings_entry", Integer),
    kept("settings_sha256"),
    CheckConstraint("id = 1", name="single"),
)
"""The workbook itself: the UUID of its workshop's chain, and the settings of that chain's newest settings entry."""

CHAINS = Table(
    "chains",
    METADATA,
    identity(),
    kept("uuid", unique=True),
    kept("kind"),
    kept("last_entry", Integer),
    kept("last_at"),
    kept("last_sha256"),
    kept("anchored", Integer),
    kept("forked_at", Integer, nullable=True),
)
"""One chain of entries (of the workshop, a bench or a unit) and its newest entry; `anchored` is the highest number of
it that an anchor names, `forked_at` the first number that two entries claim."""

_REPAIRS = text("kind = 'repair'")

ENTRIES = Table(
    "entries",
    METADATA,
    identity(),
    kept("uuid", unique=True),
    reference("chain_id", "chains.id"),
    kept("number", Integer),
    kept("kind"),
    kept("at"),
    kept("by"),
    kept("bench"),
    kept("address"),
    kept("run"),
    kept("rules"),
    kept("value", Double, nullable=True),
    kept("bound", nullable=True),
    kept("lower", Double, nullable=True),
    kept("upper", Double, nullable=True),
    kept("standard_uncertainty", Double, nullable=True),
    kept("expanded_uncertainty", Double, nullable=True),
    kept("coverage", Double, nullable=True),
    kept("dominant_half_width", Double, nullable=True),
    kept("others_standard_uncertainty", Double, nullable=True),
    kept("over_range_at", Double, nullable=True),
    kept("mains", Double, nullable=True),
    kept("flickers", Boolean),
    kept("rule", nullable=True),
    kept("judgement", nullable=True),
    kept("withdraws", Integer, nullable=True),
    kept("states_facts", Boolean),
    kept("sealed"),
    kept("sha256"),
    UniqueConstraint("chain_id", "number", "sha256"),
    Index(None, "address", "chain_id"),
    Index("ix_entries_repairs", "chain_id", sqlite_where=_REPAIRS, postgresql_where=_REPAIRS),
    CheckConstraint("number >= 0", name="number"),
)
"""One entry. `sealed` is its text as it was hashed; every other column says again what stands in that text."""

REVISIONS = Table("revisions", METADATA, identity(), kept("sha256", unique=True), kept("text"))
"""A text that runs pin, kept once: the exact text of a file, or the list of a run's files with their hashes."""

PHOTOS = Table(
    "photos", METADATA, identity(), kept("sha256", unique=True), kept("media_type"), kept("image", LargeBinary)
)
"""A photo that an entry names by its hash."""

BENCHES = Table(
    "benches",
    METADATA,
    reference("chain_id", "chains.id", primary_key=True),
    kept("name"),
    kept("day", Integer, nullable=True),
    kept("day_sha256"),
)
"""A bench: its name, and the number and hash of its last opening or closing."""

LOTS = Table(
    "lots",
    METADATA,
    identity(),
    kept("uuid", unique=True),
    kept("name", unique=True),
    kept("given_name", index=True),
    kept("equipment"),
    kept("route"),
    kept("title"),
    kept("taken_in"),
    kept("by"),
    kept("note"),
    kept("units", Integer),
)
"""Units taken in together. `name` is what the lot is called by: the name given, where no other lot has the same.
`units` is how many of its units are here."""

UNITS = Table(
    "units",
    METADATA,
    reference("chain_id", "chains.id", primary_key=True),
    reference("lot_id", "lots.id", index=True),
    kept("mark", unique=True),
    kept("shelf_mark", index=True),
    kept("held", index=True),
    kept("lent_to"),
    kept("route"),
    kept("disposition", index=True),
    kept("grade"),
    kept("price"),
    kept("due"),
    kept("live"),
    kept("shown_at"),
    kept("moves_at", index=True),
    kept("run_id", Integer, nullable=True),
)
"""One physical item. `mark` is the name it is called by: its shelf mark, where no other unit bears the same; `held`
says why it is on hold whatever its entries say, `lent_to` which bench alone may record on it (empty: any). Disposition,
grade, price, due, live ("mains", "charge" or empty) and stages stand as at `shown_at`, and time alone changes nothing
before `moves_at` (empty: never)."""

RUNS = Table(
    "runs",
    METADATA,
    identity(),
    kept("uuid", unique=True),
    reference("unit_id", "units.chain_id"),
    kept("number", Integer),
    kept("started"),
    kept("by"),
    kept("route"),
    kept("equipment"),
    kept("settings"),
    kept("pins"),
    UniqueConstraint("unit_id", "number"),
)
"""One pass of pinned texts over one unit; `pins` is the hash of the list of them, `settings` those that it cites."""

UNIT_STAGES = Table(
    "unit_stages",
    METADATA,
    reference("unit_id", "units.chain_id", primary_key=True),
    kept("stage", primary_key=True),
    kept("position", Integer),
    kept("title"),
    kept("status"),
    kept("done", Integer),
    kept("steps", Integer),
    kept("why"),
)
"""How far a unit is in a stage, so that the board opens without folding."""

TAGS_PRINTED = Table(
    "tags_printed",
    METADATA,
    reference("entry_id", "entries.id", primary_key=True),
    reference("unit_id", "units.chain_id", primary_key=True, index=True),
    kept("at"),
    kept("by"),
    kept("disposition"),
    kept("record_hash"),
)
"""That a tag was put on paper: what it said and on which record."""
