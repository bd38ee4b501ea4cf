"""The first tables, and the triggers that keep what was recorded as it was recorded."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

ONLY_ADDED = ("entries", "runs", "run_revisions", "revisions", "anchors")


def upgrade() -> None:
    """Forward."""
    op.create_table(
        "anchors",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("entries", sa.Integer(), nullable=False),
        sa.Column("heads", sa.Text(), nullable=False),
        sa.Column("sha256", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_anchors")),
    )
    op.create_table(
        "bench_openings",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("uuid", sa.Text(), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.Column("by", sa.Text(), nullable=False),
        sa.Column("rcd_button_tested", sa.Boolean(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_bench_openings")),
        sa.UniqueConstraint("uuid", name=op.f("uq_bench_openings_uuid")),
    )
    op.create_table(
        "lots",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("equipment", sa.Text(), nullable=False),
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("taken_in", sa.Text(), nullable=False),
        sa.Column("by", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_lots")),
        sa.UniqueConstraint("name", name=op.f("uq_lots_name")),
    )
    op.create_table(
        "revisions",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("sha256", sa.Text(), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("kept", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_revisions")),
        sa.UniqueConstraint("sha256", name=op.f("uq_revisions_sha256")),
    )
    op.create_table(
        "workbook",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("uuid", sa.Text(), nullable=False),
        sa.Column("made", sa.Text(), nullable=False),
        sa.Column("workshop", sa.Text(), nullable=False),
        sa.CheckConstraint("id = 1", name=op.f("ck_workbook_single")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_workbook")),
        sa.UniqueConstraint("uuid", name=op.f("uq_workbook_uuid")),
    )
    op.create_table(
        "bench_closings",
        sa.Column("opening_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.Column("by", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["opening_id"], ["bench_openings.id"], name=op.f("fk_bench_closings_opening_id_bench_openings")
        ),
        sa.PrimaryKeyConstraint("opening_id", name=op.f("pk_bench_closings")),
    )
    op.create_table(
        "meter_proofs",
        sa.Column("opening_id", sa.Integer(), nullable=False),
        sa.Column("moment", sa.Text(), nullable=False),
        sa.Column("meter", sa.Text(), nullable=False),
        sa.Column("proved", sa.Boolean(), nullable=False),
        sa.Column("lead_resistance", sa.Double(), nullable=True),
        sa.Column("nulled", sa.Boolean(), nullable=False),
        sa.CheckConstraint("moment IN ('opening', 'closing')", name=op.f("ck_meter_proofs_moment")),
        sa.ForeignKeyConstraint(
            ["opening_id"], ["bench_openings.id"], name=op.f("fk_meter_proofs_opening_id_bench_openings")
        ),
        sa.PrimaryKeyConstraint("opening_id", "moment", "meter", name=op.f("pk_meter_proofs")),
    )
    op.create_table(
        "units",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("lot_id", sa.Integer(), nullable=False),
        sa.Column("mark", sa.Text(), nullable=False),
        sa.Column("genesis", sa.Text(), nullable=False),
        sa.Column("route", sa.Text(), nullable=False),
        sa.Column("disposition", sa.Text(), nullable=False),
        sa.Column("grade", sa.Text(), nullable=False),
        sa.Column("price", sa.Text(), nullable=False),
        sa.Column("due", sa.Text(), nullable=False),
        sa.Column("run_id", sa.Integer(), nullable=True),
        sa.Column("last_entry", sa.Integer(), nullable=False),
        sa.Column("last_at", sa.Text(), nullable=False),
        sa.Column("last_sha256", sa.Text(), nullable=False),
        sa.CheckConstraint(
            "disposition IN ('quarantine', 'for sale', 'spares or repair', 'scrap', 'keep', 'hold')",
            name=op.f("ck_units_disposition"),
        ),
        sa.ForeignKeyConstraint(["lot_id"], ["lots.id"], name=op.f("fk_units_lot_id_lots")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_units")),
        sa.UniqueConstraint("mark", name=op.f("uq_units_mark")),
    )
    op.create_index(op.f("ix_units_lot_id"), "units", ["lot_id"], unique=False)
    op.create_table(
        "runs",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("uuid", sa.Text(), nullable=False),
        sa.Column("unit_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("started", sa.Text(), nullable=False),
        sa.Column("by", sa.Text(), nullable=False),
        sa.Column("route", sa.Text(), nullable=False),
        sa.Column("equipment", sa.Text(), nullable=False),
        sa.Column("workshop", sa.Text(), nullable=False),
        sa.Column("sha256", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["unit_id"], ["units.id"], name=op.f("fk_runs_unit_id_units")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_runs")),
        sa.UniqueConstraint("unit_id", "number", name=op.f("uq_runs_unit_id_number")),
        sa.UniqueConstraint("uuid", name=op.f("uq_runs_uuid")),
    )
    op.create_table(
        "tags_printed",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("unit_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.Column("by", sa.Text(), nullable=False),
        sa.Column("disposition", sa.Text(), nullable=False),
        sa.Column("record_hash", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["unit_id"], ["units.id"], name=op.f("fk_tags_printed_unit_id_units")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_tags_printed")),
    )
    op.create_index(op.f("ix_tags_printed_unit_id"), "tags_printed", ["unit_id"], unique=False)
    op.create_table(
        "unit_stages",
        sa.Column("unit_id", sa.Integer(), nullable=False),
        sa.Column("stage", sa.Text(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("status", sa.Text(), nullable=False),
        sa.Column("done", sa.Integer(), nullable=False),
        sa.Column("steps", sa.Integer(), nullable=False),
        sa.Column("why", sa.Text(), nullable=False),
        sa.CheckConstraint(
            "status IN ('not started', 'in progress', 'done', 'failed', 'shut', 'stale', 'skipped')",
            name=op.f("ck_unit_stages_status"),
        ),
        sa.ForeignKeyConstraint(["unit_id"], ["units.id"], name=op.f("fk_unit_stages_unit_id_units")),
        sa.PrimaryKeyConstraint("unit_id", "stage", name=op.f("pk_unit_stages")),
    )
    op.create_table(
        "entries",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("uuid", sa.Text(), nullable=False),
        sa.Column("unit_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("run_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.Column("by", sa.Text(), nullable=False),
        sa.Column("address", sa.Text(), nullable=False),
        sa.Column("value", sa.Double(), nullable=True),
        sa.Column("bound", sa.Text(), nullable=True),
        sa.Column("lower", sa.Double(), nullable=True),
        sa.Column("upper", sa.Double(), nullable=True),
        sa.Column("standard_uncertainty", sa.Double(), nullable=True),
        sa.Column("rule", sa.Text(), nullable=True),
        sa.Column("judgement", sa.Text(), nullable=True),
        sa.Column("rules_version", sa.Text(), nullable=True),
        sa.Column("content", sa.Text(), nullable=False),
        sa.Column("sha256", sa.Text(), nullable=False),
        sa.CheckConstraint("bound IN ('exact', 'above', 'below')", name=op.f("ck_entries_bound")),
        sa.CheckConstraint(
            "judgement IN ('pass', 'conditional pass', 'conditional fail', 'fail', 'not judged')",
            name=op.f("ck_entries_judgement"),
        ),
        sa.CheckConstraint(
            "kind IN ('answer', 'withdrawal', 'meter', 'caution', 'set-up', 'fault', 'repair', 'opened', 'event', "
            "'hazard', 'supervisor-opening', 'disposition', 'plug-destroyed', 'fact', 'note')",
            name=op.f("ck_entries_kind"),
        ),
        sa.CheckConstraint("rule IN ('simple', 'guarded')", name=op.f("ck_entries_rule")),
        sa.CheckConstraint("number >= 1", name=op.f("ck_entries_number")),
        sa.ForeignKeyConstraint(["run_id"], ["runs.id"], name=op.f("fk_entries_run_id_runs")),
        sa.ForeignKeyConstraint(["unit_id"], ["units.id"], name=op.f("fk_entries_unit_id_units")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_entries")),
        sa.UniqueConstraint("unit_id", "number", name=op.f("uq_entries_unit_id_number")),
        sa.UniqueConstraint("uuid", name=op.f("uq_entries_uuid")),
    )
    op.create_index(op.f("ix_entries_address_unit_id"), "entries", ["address", "unit_id"], unique=False)
    op.create_table(
        "run_revisions",
        sa.Column("run_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("revision_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["revision_id"], ["revisions.id"], name=op.f("fk_run_revisions_revision_id_revisions")),
        sa.ForeignKeyConstraint(["run_id"], ["runs.id"], name=op.f("fk_run_revisions_run_id_runs")),
        sa.PrimaryKeyConstraint("run_id", "name", name=op.f("pk_run_revisions")),
    )
    for table in ONLY_ADDED:
        for verb in ("update", "delete"):
            op.execute(
                f"CREATE TRIGGER {table}_refuse_{verb} BEFORE {verb.upper()} ON {table} "
                f"BEGIN SELECT RAISE(ABORT, '{table} are only ever added'); END"
            )


def downgrade() -> None:
    """Back."""

    op.drop_table("run_revisions")
    op.drop_index(op.f("ix_entries_address_unit_id"), table_name="entries")
    op.drop_table("entries")
    op.drop_table("unit_stages")
    op.drop_index(op.f("ix_tags_printed_unit_id"), table_name="tags_printed")
    op.drop_table("tags_printed")
    op.drop_table("runs")
    op.drop_index(op.f("ix_units_lot_id"), table_name="units")
    op.drop_table("units")
    op.drop_table("meter_proofs")
    op.drop_table("bench_closings")
    op.drop_table("workbook")
    op.drop_table("revisions")
    op.drop_table("lots")
    op.drop_table("bench_openings")
    op.drop_table("anchors")
