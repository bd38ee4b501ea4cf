"""A real workbook file with one lot, and drafts to record in it."""

import sqlite3
from uuid import uuid4

import pytest

from benchapp.judgement.statements.band import DerivationStep
from benchapp.judgement.statements.statements import RULES_VERSION, Judgement, Rule
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.quantity import Bound
from benchapp.sequences.planning.answer_content import ReadingContent
from benchapp.sequences.planning.entries import Entry, EntryKind
from benchapp.workbook.model.values import Lot, StageRow, UnitSummary
from benchapp.workbook.opened.workbook import Workbook
from benchapp.workbook.record.intake import NewUnits, Pins

TAKEN_IN = "2026-05-04T08:00:00Z"
READING = ReadingContent(
    step="measure",
    judgement=Judgement.passed,
    sentence="9.12 V is inside 8.1 V to 9.9 V.",
    typed="9.12 V",
    value=9.12,
    bound=Bound.exact,
    kind=Kind.voltage,
    unit="V",
    rules_version=RULES_VERSION,
    lower=8.1,
    upper=9.9,
    rule=Rule.guarded,
    standard_uncertainty=0.031,
    derivation=(DerivationStep(what="rated output", value="9 V", source="rating plate"),),
)


@pytest.fixture
def path(tmp_path):
    return tmp_path / "tarnbeck.workbook"


@pytest.fixture
def workbook(path):
    book = Workbook.create(path, made=TAKEN_IN)
    lot = Lot(
        name="Tarnbeck shelf 3",
        equipment="tb-mu1",
        route="tb-mu1-check",
        title="Mains unit, two AC outputs",
        taken_in=TAKEN_IN,
        by="AB",
    )
    texts = {"equipment/tb-mu1.yaml": "equipment: tb-mu1\n", "sequences/continuity.yaml": "sequence: continuity\n"}
    pins = Pins(route="tb-mu1-check", equipment="tb-mu1", texts=texts)
    book.add_lot(lot, [NewUnits(units=[("TB-001", {}), ("TB-002", {})], pins=pins)])
    yield book
    book.close()


@pytest.fixture
def proposed(workbook):
    """A reading as a unit's entry of that number, and what is shown of the unit then: what append is called with."""

    def make(number=1, *, unit="TB-001", content=READING, uuid=None, cites=None, run=None, into=workbook, **shown):
        summary = {"disposition": "quarantine", "due": "Read the low output."} | shown
        entry = Entry(
            number=number,
            uuid=uuid or str(uuid4()),
            kind=EntryKind.answer,
            at=f"2026-05-04T09:{number % 60:02d}:00Z",
            by="AB",
            address="live-voltage.low",
            content=content,
            run=run or into.current_run(unit).uuid,
            cites=cites or into.grounds().cites,
        )
        return unit, entry, UnitSummary(**summary)

    return make


@pytest.fixture
def record(workbook, proposed):
    """Record a reading."""

    def make(number=1, *, into=workbook, **given):
        return into.append(*proposed(number, into=into, **given))

    return make


@pytest.fixture
def stage():
    def make(status="in progress", **fields):
        shown = {"unit": "TB-001", "position": 0, "stage": "continuity", "title": "Continuity", "done": 1, "of": 3}
        return StageRow(**(shown | {"status": status} | fields))

    return make


@pytest.fixture
def tamper(path):
    """Change the file as somebody with a database browser would, the guards taken off first and put back after."""

    def change(statement, *values, put_guards_back=True):
        connection = sqlite3.connect(path, isolation_level=None)
        triggers = connection.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
        for name, _ in triggers:
            connection.execute(f"DROP TRIGGER {name}")
        changed = connection.execute(statement, values).rowcount
        for _, sql in triggers if put_guards_back else ():
            connection.execute(sql)
        connection.close()
        assert changed > 0
        return changed

    return change
