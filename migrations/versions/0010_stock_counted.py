"""How many bags there are, and plans kept for a shortage.

Both tables only grow; a later migration that rebuilds one of them on SQLite must make its triggers
again.
"""

import sqlalchemy as sa
from alembic import op

revision = "0010"
down_revision = "0009"
branch_labels = None
depends_on = None

COUNTS = "bag_count"
PLANS = "shortage_plan"
REFUSAL = "what is counted and what is planned is only ever added to"

ON_SQLITE = tuple(
    f"CREATE TRIGGER {table}_is_not_{done} BEFORE {act} ON {table} "
    f"BEGIN SELECT RAISE(ABORT, '{REFUSAL}'); END"
    for table in (COUNTS, PLANS)
    for act, done in (("UPDATE", "changed"), ("DELETE", "deleted"))
)
ON_POSTGRESQL = (
    "CREATE FUNCTION shortage_refuses() RETURNS trigger LANGUAGE plpgsql AS "
    f"$$ BEGIN RAISE EXCEPTION '{REFUSAL}'; END $$",
    *(
        f"CREATE TRIGGER {table}_is_only_added_to BEFORE UPDATE OR DELETE OR TRUNCATE ON {table} "
        "FOR EACH STATEMENT EXECUTE FUNCTION shortage_refuses()"
        for table in (COUNTS, PLANS)
    ),
)
TRIGGERS = {"sqlite": ON_SQLITE, "postgresql": ON_POSTGRESQL}


def upgrade():
    op.create_table(
        COUNTS,
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("fluid_id", sa.String(length=80), nullable=False),
        sa.Column("size_ml", sa.Integer(), nullable=False),
        sa.Column("place", sa.String(length=80), nullable=False),
        sa.Column("bags", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("by", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_bag_count")),
    )
    op.create_index(op.f("ix_bag_count_fluid_id"), COUNTS, ["fluid_id"], unique=False)
    op.create_table(
        PLANS,
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("by", sa.Text(), nullable=False),
        sa.Column("account_id", sa.String(length=80), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("document", sa.JSON(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_shortage_plan")),
    )
    for trigger in TRIGGERS[op.get_context().dialect.name]:
        op.execute(trigger)


def downgrade():
    op.drop_table(PLANS)
    op.drop_table(COUNTS)
    if op.get_context().dialect.name == "postgresql":
        op.execute("DROP FUNCTION shortage_refuses()")
