"""The first tables, and the triggers that keep what was recorded as it was recorded."""

from pathlib import Path

from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

ONLY_ADDED = ("entries", "runs", "run_revisions", "revisions", "anchors")
STATEMENTS = Path(__file__).with_suffix(".sql")


def upgrade() -> None:
    """Forward."""
    run = op.get_bind().exec_driver_sql
    for statement in STATEMENTS.read_text(encoding="utf-8").split(";\n"):
        if statement.strip():
            run(statement)
    for table in ONLY_ADDED:
        for verb in ("update", "delete"):
            run(
                f"CREATE TRIGGER {table}_refuse_{verb} BEFORE {verb.upper()} ON {table} "
                f"BEGIN SELECT RAISE(ABORT, '{table} are only ever added'); END"
            )


def downgrade() -> None:
    """Back: tables that refer to others go first."""
    for table in ("run_revisions", "entries", "unit_stages", "tags_printed", "runs", "units"):
        op.drop_table(table)
    for table in ("meter_proofs", "bench_closings", "workbook", "revisions", "lots", "bench_openings", "anchors"):
        op.drop_table(table)
