"""What is kept, table by table.

Choices are stored as text with a check, times as ISO 8601 texts in UTC, what has no columns of its own as canonical
JSON. Entries, runs, revisions and anchors are only ever added: triggers refuse UPDATE and DELETE on them.
"""

from collections.abc import Sequence

from sqlalchemy import CheckConstraint, ForeignKey, Index, MetaData, Text, UniqueConstraint
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column

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


def one_of(column: str, words: Sequence[str]) -> CheckConstraint:
    """A check that a text column holds one of these words (or NULL, where the column allows it)."""
    return CheckConstraint(f"{column} IN ({', '.join(repr(str(word)) for word in words)})", name=column)


class Base(DeclarativeBase):
    """The one declarative base; its constraint names are stable, so that migrations can name them."""

    metadata = MetaData(naming_convention=NAMING)
    type_annotation_map = {str: Text()}  # noqa: RUF012


class WorkbookRow(Base):
    """The workbook itself: who it is, and the workshop's settings as JSON."""

    __tablename__ = "workbook"
    __table_args__ = (CheckConstraint("id = 1", name="single"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    uuid: Mapped[str] = mapped_column(unique=True)
    made: Mapped[str]
    workshop: Mapped[str]


class LotRow(Base):
    """Units taken in together."""

    __tablename__ = "lots"

    id: Mapped[int] = mapped_column(primary_key=True)
    name: Mapped[str] = mapped_column(unique=True)
    equipment: Mapped[str]
    title: Mapped[str]
    taken_in: Mapped[str]
    by: Mapped[str]
    note: Mapped[str]


class UnitRow(Base):
    """One physical item. All but its mark and lot is a projection of its entries, kept for the board."""

    __tablename__ = "units"
    __table_args__ = (one_of("disposition", DISPOSITIONS),)

    id: Mapped[int] = mapped_column(primary_key=True)
    lot_id: Mapped[int] = mapped_column(ForeignKey("lots.id"), index=True)
    mark: Mapped[str] = mapped_column(unique=True)
    genesis: Mapped[str]
    route: Mapped[str]
    disposition: Mapped[str]
    grade: Mapped[str]
    price: Mapped[str]
    due: Mapped[str]
    run_id: Mapped[int | None]
    last_entry: Mapped[int]
    last_at: Mapped[str]
    last_sha256: Mapped[str]


class RevisionRow(Base):
    """The exact text of a file that a run pinned, kept once however many runs pin it."""

    __tablename__ = "revisions"

    id: Mapped[int] = mapped_column(primary_key=True)
    sha256: Mapped[str] = mapped_column(unique=True)
    text: Mapped[str]
    kept: Mapped[str]


class RunRow(Base):
    """One pass of pinned texts over one unit, with the workshop's settings of that moment."""

    __tablename__ = "runs"
    __table_args__ = (UniqueConstraint("unit_id", "number"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    uuid: Mapped[str] = mapped_column(unique=True)
    unit_id: Mapped[int] = mapped_column(ForeignKey("units.id"))
    number: Mapped[int]
    started: Mapped[str]
    by: Mapped[str]
    route: Mapped[str]
    equipment: Mapped[str]
    workshop: Mapped[str]
    sha256: Mapped[str]


class RunRevisionRow(Base):
    """Which text a run pinned under which file name."""

    __tablename__ = "run_revisions"

    run_id: Mapped[int] = mapped_column(ForeignKey("runs.id"), primary_key=True)
    name: Mapped[str] = mapped_column(primary_key=True)
    revision_id: Mapped[int] = mapped_column(ForeignKey("revisions.id"))


class EntryRow(Base):
    """One accepted entry, as it was given. What its judgement rests on stands in columns, in SI units."""

    __tablename__ = "entries"
    __table_args__ = (
        UniqueConstraint("unit_id", "number"),
        Index(None, "address", "unit_id"),
        one_of("kind", ENTRY_KINDS),
        one_of("judgement", JUDGEMENTS),
        one_of("rule", RULES),
        one_of("bound", BOUNDS),
        CheckConstraint("number >= 1", name="number"),
    )

    id: Mapped[int] = mapped_column(primary_key=True)
    uuid: Mapped[str] = mapped_column(unique=True)
    unit_id: Mapped[int] = mapped_column(ForeignKey("units.id"))
    number: Mapped[int]
    run_id: Mapped[int] = mapped_column(ForeignKey("runs.id"))
    kind: Mapped[str]
    at: Mapped[str]
    by: Mapped[str]
    address: Mapped[str]
    value: Mapped[float | None]
    bound: Mapped[str | None]
    lower: Mapped[float | None]
    upper: Mapped[float | None]
    standard_uncertainty: Mapped[float | None]
    rule: Mapped[str | None]
    judgement: Mapped[str | None]
    rules_version: Mapped[str | None]
    content: Mapped[str]
    sha256: Mapped[str]


class AnchorRow(Base):
    """A seal over the last entry of every unit, chained to the seal before it."""

    __tablename__ = "anchors"

    id: Mapped[int] = mapped_column(primary_key=True)
    at: Mapped[str]
    reason: Mapped[str]
    entries: Mapped[int]
    heads: Mapped[str]
    sha256: Mapped[str]


class UnitStageRow(Base):
    """How far a unit is in a stage: a projection of its entries, so that the board opens without folding."""

    __tablename__ = "unit_stages"
    __table_args__ = (one_of("status", STATUSES),)

    unit_id: Mapped[int] = mapped_column(ForeignKey("units.id"), primary_key=True)
    stage: Mapped[str] = mapped_column(primary_key=True)
    position: Mapped[int]
    title: Mapped[str]
    status: Mapped[str]
    done: Mapped[int]
    steps: Mapped[int]
    why: Mapped[str]


class BenchOpeningRow(Base):
    """The check at the start of a day at the bench."""

    __tablename__ = "bench_openings"

    id: Mapped[int] = mapped_column(primary_key=True)
    uuid: Mapped[str] = mapped_column(unique=True)
    at: Mapped[str]
    by: Mapped[str]
    rcd_button_tested: Mapped[bool]
    note: Mapped[str]


class BenchClosingRow(Base):
    """The check at the end of that day."""

    __tablename__ = "bench_closings"

    opening_id: Mapped[int] = mapped_column(ForeignKey("bench_openings.id"), primary_key=True)
    at: Mapped[str]
    by: Mapped[str]
    note: Mapped[str]


class MeterProofRow(Base):
    """A meter proved, or found wanting, when the bench was opened or closed."""

    __tablename__ = "meter_proofs"
    __table_args__ = (one_of("moment", MOMENTS),)

    opening_id: Mapped[int] = mapped_column(ForeignKey("bench_openings.id"), primary_key=True)
    moment: Mapped[str] = mapped_column(primary_key=True)
    meter: Mapped[str] = mapped_column(primary_key=True)
    proved: Mapped[bool]
    lead_resistance: Mapped[float | None]
    nulled: Mapped[bool]


class TagPrintedRow(Base):
    """That a tag was put on paper: what it said and on which record."""

    __tablename__ = "tags_printed"

    id: Mapped[int] = mapped_column(primary_key=True)
    unit_id: Mapped[int] = mapped_column(ForeignKey("units.id"), index=True)
    at: Mapped[str]
    by: Mapped[str]
    disposition: Mapped[str]
    record_hash: Mapped[str]
