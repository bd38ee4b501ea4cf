"""Benches that work apart: workbooks of a hub, of copies taken along, and of another workshop."""

import os
import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.days import open_bench
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.exchange.exporting import export_day_file
from benchapp.actions.exchange.importing import import_day_file
from benchapp.actions.workbench.bench import Bench
from benchapp.workbook.model.values import BenchIdentity, MeterProof
from tests.actions.conftest import SMALL, Clock
from tests.people import OPENED, staffed

HUB = BenchIdentity(uuid="11111111-0000-4000-8000-000000000001", name="Hub")
HALL = BenchIdentity(uuid="22222222-0000-4000-8000-000000000002", name="Hall")
YARD = BenchIdentity(uuid="33333333-0000-4000-8000-000000000003", name="Yard")
PROVED = (MeterProof(meter="tb-m1", proved=True, lead_resistance=0.1),)


def on_its_computer(path: Path) -> Path:
    """From here on at the computer where that workbook is: it remembers what it has seen in it. The path again."""
    os.environ["BENCHAPP_DATA"] = str(path.with_suffix(".computer"))
    return path


def verified(path: Path) -> tuple:
    """What verifying the workbook finds, at its own computer."""
    return verify_workbook(on_its_computer(path))


def make(path: Path, *, marks=("TB-001", "TB-002", "TB-014"), lot="Tarnbeck hall", at=HUB, hour=0) -> Path:
    """A workbook with a lot, its bench open."""
    with Bench.create(
        on_its_computer(path), folders=(SMALL,), clock=_clock(hour), at_bench=at, workshop=staffed()
    ) as bench:
        open_bench(bench, by="AB", meters=PROVED, rcd_button_tested=True, **OPENED)
        take_in_lot(bench, name=lot, equipment="tb-ls1", route="small-check", marks=marks, by="AB")
    return path


def copy(path: Path, to: Path) -> Path:
    """A closed workbook, copied."""
    return Path(shutil.copy(path, to))


def at(path: Path, bench: BenchIdentity, *, hour=1) -> Bench:
    """The workbook open at a bench, so many hours after it was made."""
    return Bench.open(on_its_computer(path), folders=(SMALL,), clock=_clock(hour), at_bench=bench)


def export(path: Path, bench: BenchIdentity, out: Path, **asked) -> Path:
    """A day file of the workbook."""
    with at(path, bench, hour=9) as opened:
        export_day_file(opened, out=out, by="AB", **asked)
    return out


def bring(path: Path, *files: Path, bench=HUB) -> list[str]:
    """The files brought into the workbook, and what was said."""
    with at(path, bench, hour=10) as opened:
        return [import_day_file(opened, file, by="AB").words for file in files]


def _clock(hour):
    clock = Clock()
    clock.pass_days(hour / 24)
    return clock


def held(path: Path, *, but: BenchIdentity) -> dict[str, list]:
    """All rows of all tables with other rows named by what is the same everywhere, but for one bench's own chain."""
    with closing(sqlite3.connect(path)) as connection:
        names = {
            "chain_id": dict(connection.execute("SELECT id, uuid FROM chains")),
            "unit_id": dict(connection.execute("SELECT id, uuid FROM chains")),
            "lot_id": dict(connection.execute("SELECT id, uuid FROM lots")),
            "run_id": dict(connection.execute("SELECT id, uuid FROM runs")),
            "entry_id": dict(connection.execute("SELECT id, sha256 FROM entries")),
        }
        tables = [row[0] for row in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        found = {}
        for table in tables:
            rows = connection.execute(f'SELECT * FROM "{table}"')
            columns = [column[0] for column in rows.description]
            named = [
                {one: names.get(one, {}).get(value, value) for one, value in zip(columns, row, strict=True)}
                for row in rows
            ]
            kept = [row | {"id": 0} for row in named if not _own(table, row, but.uuid)]
            found[table] = sorted(repr(sorted(row.items())) for row in kept)
        return found


def _own(table, row, bench):
    return bench in (row.get("chain_id"), row.get("uuid")) and table in ("entries", "chains", "benches")
