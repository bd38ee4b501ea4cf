"""Tables by the models and tables by the migrations are the same tables."""

import sqlite3

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import create_engine, inspect

from benchapp.workbook.file.guards import ONLY_ADDED
from benchapp.workbook.file.migrating import configuration, run_migrations
from benchapp.workbook.model.tables import METADATA
from benchapp.workbook.opened.opening import HEAD, bring_up_to_date, revision_of
from benchapp.workbook.opened.workbook import Workbook

NEXT_REVISION = '''
"""A column more, as a later version would add it."""
import sqlalchemy as sa
from alembic import op
revision = "9001"
down_revision = "{head}"
branch_labels = None
depends_on = None
def upgrade():
    op.add_column("lots", sa.Column("shelf", sa.Text(), server_default="", nullable=False))
def downgrade():
    op.drop_column("lots", "shelf")
'''


ANOTHER_KIND = '''
"""A kind of entry more, with a column of its own, as a later version would add it: the table is made anew."""
import sqlalchemy as sa
from alembic import op
revision = "9001"
down_revision = "{head}"
branch_labels = None
depends_on = None
def upgrade():
    with op.batch_alter_table("entries", recreate="always") as entries:
        entries.add_column(sa.Column("loudness", sa.Double(), nullable=True))
    op.execute(
        "INSERT INTO entries (uuid, chain_id, number, kind, at, \\"by\\", bench, address, run, rules, flickers, "
        "states_facts, sealed, sha256) SELECT 'x', id, last_entry + 1, 'listened', '', '', '', '', '', '1', 0, 0, '', "
        "'' FROM chains WHERE kind = 'unit' LIMIT 1"
    )
def downgrade():
    pass
'''


@pytest.fixture
def bare(tmp_path):
    path = tmp_path / "bare.db"
    run_migrations(path)
    return path


@pytest.fixture
def later_version(tmp_path):
    folder = tmp_path / "later"
    folder.mkdir()
    (folder / "9001_shelf.py").write_text(NEXT_REVISION.format(head=HEAD))
    return (folder,)


def _shape(engine):
    """Everything of every table that the inspector can tell."""
    look = inspect(engine)
    return {
        table: {
            "columns": {c["name"]: (str(c["type"]), c["nullable"]) for c in look.get_columns(table)},
            "primary key": look.get_pk_constraint(table),
            "checks": sorted((c["name"], c["sqltext"]) for c in look.get_check_constraints(table)),
            "unique": sorted((u["name"], tuple(u["column_names"])) for u in look.get_unique_constraints(table)),
            "foreign": sorted((f["name"], f["referred_table"]) for f in look.get_foreign_keys(table)),
            "indexes": sorted(i["name"] for i in look.get_indexes(table)),
        }
        for table in look.get_table_names()
        if table != "alembic_version"
    }


def test_models_and_the_newest_migration_agree(bare):
    by_migrations = create_engine(f"sqlite:///{bare}")
    by_models = create_engine("sqlite://")
    METADATA.create_all(by_models)
    assert _shape(by_migrations) == _shape(by_models)
    with by_migrations.connect() as connection:
        assert compare_metadata(MigrationContext.configure(connection), METADATA) == []
    by_migrations.dispose()
    by_models.dispose()


def test_the_revision_the_program_expects_is_the_newest_migration():
    assert ScriptDirectory.from_config(configuration()).get_current_head() == HEAD


def test_migrations_go_up_down_and_up_again(bare):
    before = create_engine(f"sqlite:///{bare}")
    shape = _shape(before)
    run_migrations(bare, to="base")
    assert inspect(before).get_table_names() == ["alembic_version"]
    run_migrations(bare)
    assert _shape(before) == shape
    before.dispose()


def test_an_older_workbook_is_copied_then_migrated_and_its_records_stay(workbook, record, path, later_version):
    kept = record()
    workbook.close()
    copy = bring_up_to_date(path, head="9001", further=later_version)
    assert copy.name == "tarnbeck before format 9001.workbook"
    assert revision_of(copy) == HEAD
    assert sqlite3.connect(path).execute("SELECT shelf FROM lots").fetchone() == ("",)
    earlier = Workbook.open(copy)
    assert earlier.entries("TB-001") == (kept,)
    earlier.close()


def test_an_older_workbook_is_handed_over_before_it_is_migrated(workbook, path, later_version):
    workbook.close()
    seen = []
    bring_up_to_date(path, before=seen.append)
    assert seen == []  # nothing was to do
    bring_up_to_date(path, head="9001", further=later_version, before=lambda file: seen.append(revision_of(file)))
    assert seen == [HEAD]


def test_a_copy_never_takes_the_place_of_an_earlier_copy(workbook, path, later_version):
    workbook.close()
    taken = path.with_name("tarnbeck before format 9001.workbook")
    taken.write_text("mine")
    copy = bring_up_to_date(path, head="9001", further=later_version)
    assert copy.name == "tarnbeck before format 9001 2.workbook"
    assert taken.read_text() == "mine"


def test_a_migration_that_fails_leaves_the_file_as_it_was(workbook, path, tmp_path):
    workbook.close()
    folder = tmp_path / "broken"
    folder.mkdir()
    broken = NEXT_REVISION.format(head=HEAD).replace("def downgrade", "    op.execute('no such thing')\ndef downgrade")
    (folder / "9001_shelf.py").write_text(broken)
    with pytest.raises(Exception, match="no such thing"):
        run_migrations(path, further=(folder,))
    columns = [row[1] for row in sqlite3.connect(path).execute("PRAGMA table_info(lots)")]
    assert "shelf" not in columns
    assert revision_of(path) == HEAD


def test_a_workbook_is_brought_up_to_date_only_once(workbook, path):
    workbook.close()
    assert bring_up_to_date(path) is None


def test_a_migration_that_adds_a_kind_of_entry_finds_every_guard_again(workbook, record, path, tmp_path):
    """Making a table anew drops the guards of the old one without a word (SQLite documentation, ALTER TABLE)."""
    record()
    workbook.close()
    folder = tmp_path / "later"
    folder.mkdir()
    (folder / "9001_listened.py").write_text(ANOTHER_KIND.format(head=HEAD))
    bring_up_to_date(path, head="9001", further=(folder,))
    connection = sqlite3.connect(path)
    assert connection.execute("SELECT kind FROM entries ORDER BY id DESC LIMIT 1").fetchone() == ("listened",)
    for table in ONLY_ADDED:
        made = dict(connection.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'"))
        assert {f"{table}_refuse_update", f"{table}_refuse_delete"} <= made.keys()
    for statement in ("UPDATE entries SET at = 'x'", "DELETE FROM entries"):
        with pytest.raises(sqlite3.IntegrityError, match="entries are only ever added"):
            connection.execute(statement)
    connection.close()
