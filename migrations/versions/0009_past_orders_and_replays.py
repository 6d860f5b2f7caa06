"""Past orders without their people, replays over them, samples looked at by two.

A later migration that rebuilds one of these tables on SQLite must make its triggers again.
"""

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None

PAST = "past orders are only ever added to, and taken away by retention"
MARK = "what a person said of a finding stands"

ON_SQLITE = (
    "CREATE TRIGGER past_order_is_not_changed BEFORE UPDATE ON past_order "
    f"BEGIN SELECT RAISE(ABORT, '{PAST}'); END",
    "CREATE TRIGGER sample_mark_is_not_changed BEFORE UPDATE ON sample_mark "
    f"BEGIN SELECT RAISE(ABORT, '{MARK}'); END",
    "CREATE TRIGGER sample_mark_is_not_deleted BEFORE DELETE ON sample_mark "
    f"BEGIN SELECT RAISE(ABORT, '{MARK}'); END",
)
ON_POSTGRESQL = (
    "CREATE FUNCTION past_order_refuses() RETURNS trigger LANGUAGE plpgsql AS "
    f"$$ BEGIN RAISE EXCEPTION '{PAST}'; END $$",
    "CREATE TRIGGER past_order_is_not_changed BEFORE UPDATE ON past_order "
    "FOR EACH STATEMENT EXECUTE FUNCTION past_order_refuses()",
    "CREATE FUNCTION sample_mark_refuses() RETURNS trigger LANGUAGE plpgsql AS "
    f"$$ BEGIN RAISE EXCEPTION '{MARK}'; END $$",
    "CREATE TRIGGER sample_mark_stands BEFORE UPDATE OR DELETE OR TRUNCATE ON sample_mark "
    "FOR EACH STATEMENT EXECUTE FUNCTION sample_mark_refuses()",
)
TRIGGERS = {"sqlite": ON_SQLITE, "postgresql": ON_POSTGRESQL}


def upgrade():
    _past()
    _replays()
    _samples()
    for trigger in TRIGGERS[op.get_context().dialect.name]:
        op.execute(trigger)


def downgrade():
    for table in ("sample_mark", "sample_item", "sample", "replay", "past_order"):
        op.drop_table(table)
    if op.get_context().dialect.name == "postgresql":
        op.execute("DROP FUNCTION past_order_refuses()")
        op.execute("DROP FUNCTION sample_mark_refuses()")


def _past():
    op.create_table(
        "past_order",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("sha256", sa.String(length=64), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("setting", sa.String(length=80), nullable=False),
        sa.Column("orders", sa.Integer(), nullable=False),
        sa.Column("invented", sa.Boolean(), nullable=False),
        sa.Column("request", sa.JSON(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_past_order")),
        sa.UniqueConstraint("sha256", name=op.f("uq_past_order_sha256")),
        sqlite_autoincrement=True,
    )
    op.create_index(op.f("ix_past_order_at"), "past_order", ["at"], unique=False)


def _replays():
    op.create_table(
        "replay",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("change_id", sa.Integer(), nullable=False),
        sa.Column("state", sa.String(length=80), nullable=False),
        sa.Column("done", sa.Integer(), nullable=False),
        sa.Column("total", sa.Integer(), nullable=False),
        sa.Column("asked_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("beat_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("finished_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("by", sa.Text(), nullable=False),
        sa.Column("account_id", sa.String(length=80), nullable=False),
        sa.Column("stop_asked", sa.Boolean(), nullable=False),
        sa.Column("seed", sa.String(length=80), nullable=False),
        sa.Column("message", sa.Text(), nullable=False),
        sa.Column("versions", sa.JSON(), nullable=False),
        sa.Column("numbers", sa.JSON(), nullable=False),
        sa.Column("result", sa.JSON(), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_replay")),
    )
    op.create_index(op.f("ix_replay_change_id"), "replay", ["change_id"], unique=False)


def _samples():
    op.create_table(
        "sample",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("count_id", sa.Integer(), nullable=False),
        sa.Column("seed", sa.String(length=80), nullable=False),
        sa.Column("rule_id", sa.String(length=80), nullable=False),
        sa.Column("drawn_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("by", sa.Text(), nullable=False),
        sa.Column("account_id", sa.String(length=80), nullable=False),
        sa.ForeignKeyConstraint(
            ["count_id"], ["replay.id"], name=op.f("fk_sample_count_id_replay")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sample")),
    )
    op.create_table(
        "sample_item",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("sample_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("past_id", sa.Integer(), nullable=False),
        sa.Column("rule_id", sa.String(length=80), nullable=False),
        sa.Column("order_ids", sa.JSON(), nullable=False),
        sa.Column("level", sa.String(length=80), nullable=False),
        sa.Column("told", sa.JSON(), nullable=False),
        sa.ForeignKeyConstraint(
            ["sample_id"], ["sample.id"], name=op.f("fk_sample_item_sample_id_sample")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sample_item")),
        sa.UniqueConstraint("sample_id", "number", name=op.f("uq_sample_item_sample_id")),
    )
    for column in ("sample_id", "rule_id"):
        op.create_index(op.f(f"ix_sample_item_{column}"), "sample_item", [column], unique=False)
    op.create_table(
        "sample_mark",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("item_id", sa.Integer(), nullable=False),
        sa.Column("verdict", sa.String(length=80), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("by", sa.Text(), nullable=False),
        sa.Column("account_id", sa.String(length=80), nullable=False),
        sa.ForeignKeyConstraint(
            ["item_id"], ["sample_item.id"], name=op.f("fk_sample_mark_item_id_sample_item")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sample_mark")),
        sa.UniqueConstraint("item_id", "account_id", name=op.f("uq_sample_mark_item_id")),
    )
    op.create_index(op.f("ix_sample_mark_item_id"), "sample_mark", ["item_id"], unique=False)
