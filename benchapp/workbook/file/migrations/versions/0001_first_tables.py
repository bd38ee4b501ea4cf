"""The first tables."""

from pathlib import Path

from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

STATEMENTS = Path(__file__).with_suffix(".sql")
CHILDREN_FIRST = (
    ("tags_printed", "unit_stages", "runs", "units", "benches", "entries"),
    ("chains", "lots", "photos", "revisions", "workbook"),
)


def upgrade() -> None:
    """Forward."""
    run = op.get_bind().exec_driver_sql
    for statement in STATEMENTS.read_text(encoding="utf-8").split(";\n"):
        if statement.strip():
            run(statement)


def downgrade() -> None:
    """Back: tables that refer to others go first."""
    for tables in CHILDREN_FIRST:
        for table in tables:
            op.drop_table(table)
