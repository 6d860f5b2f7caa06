"""Who did what to the content, in one chain that the database itself lets only grow.

A later migration that rebuilds one of these tables on SQLite must make its triggers again.
"""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None

ROWS = "trail_row"
HEAD = "trail_head"
REFUSAL = "the trail of acts is only ever added to"

ON_SQLITE = (
    f"CREATE TRIGGER trail_row_is_not_changed BEFORE UPDATE ON {ROWS} "
    f"BEGIN SELECT RAISE(ABORT, '{REFUSAL}'); END",
    f"CREATE TRIGGER trail_row_is_not_deleted BEFORE DELETE ON {ROWS} "
    f"BEGIN SELECT RAISE(ABORT, '{REFUSAL}'); END",
    f"CREATE TRIGGER trail_head_only_moves_on BEFORE UPDATE ON {HEAD} "
    "WHEN NEW.id <> OLD.id OR NEW.count <> OLD.count + 1 "
    f"BEGIN SELECT RAISE(ABORT, '{REFUSAL}'); END",
    f"CREATE TRIGGER trail_head_is_not_deleted BEFORE DELETE ON {HEAD} "
    f"BEGIN SELECT RAISE(ABORT, '{REFUSAL}'); END",
)
ON_POSTGRESQL = (
    "CREATE FUNCTION trail_refuses() RETURNS trigger LANGUAGE plpgsql AS "
    f"$$ BEGIN RAISE EXCEPTION '{REFUSAL}'; END $$",
    f"CREATE TRIGGER trail_row_is_only_added_to BEFORE UPDATE OR DELETE OR TRUNCATE ON {ROWS} "
    "FOR EACH STATEMENT EXECUTE FUNCTION trail_refuses()",
    f"CREATE TRIGGER trail_head_only_moves_on BEFORE UPDATE ON {HEAD} FOR EACH ROW "
    "WHEN (NEW.id <> OLD.id OR NEW.count <> OLD.count + 1) EXECUTE FUNCTION trail_refuses()",
    f"CREATE TRIGGER trail_head_is_not_deleted BEFORE DELETE OR TRUNCATE ON {HEAD} "
    "FOR EACH STATEMENT EXECUTE FUNCTION trail_refuses()",
)
TRIGGERS = {"sqlite": ON_SQLITE, "postgresql": ON_POSTGRESQL}


def upgrade():
    op.create_table(
        ROWS,
        sa.Column("seq", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("account_id", sa.String(length=80), nullable=False),
        sa.Column("act", sa.String(length=80), nullable=False),
        sa.Column("subject", sa.Text(), nullable=False),
        sa.Column("before", sa.Text(), nullable=True),
        sa.Column("after", sa.Text(), nullable=True),
        sa.Column("previous", sa.String(length=64), nullable=False),
        sa.Column("sha256", sa.String(length=64), nullable=False),
        sa.PrimaryKeyConstraint("seq", name=op.f("pk_trail_row")),
    )
    for column in ("account_id", "act", "subject"):
        op.create_index(op.f(f"ix_trail_row_{column}"), ROWS, [column], unique=False)
    head = op.create_table(
        HEAD,
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("count", sa.Integer(), nullable=False),
        sa.Column("last", sa.String(length=64), nullable=False),
        sa.Column("sealed", sa.Integer(), nullable=False),
        sa.Column("seal", sa.String(length=64), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_trail_head")),
    )
    op.bulk_insert(head, [{"id": 1, "count": 0, "last": "", "sealed": 0, "seal": ""}])
    for trigger in TRIGGERS[op.get_context().dialect.name]:
        op.execute(trigger)


def downgrade():
    op.drop_table(HEAD)
    op.drop_table(ROWS)
    if op.get_context().dialect.name == "postgresql":
        op.execute("DROP FUNCTION trail_refuses()")
