"""Drafts, decisions, and every version of a fluid: nothing of the content is overwritten any more.

Fluids loaded before are brought over as the first version, and the limits a hospital had changed
as changes that were approved by whoever wrote them down.
"""

import json
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None

TABLES = ("fluid_version", "content_change", "content_decision")
REFUSAL = "changes of content are only ever added to"
BROUGHT_OVER = "brought over from an earlier release"
# What was written down before anybody had to say when to look at it again.
LOOKED_AT_WITHIN = timedelta(days=366)


def upgrade():
    _make()
    connection = op.get_bind()
    _bring_fluids(connection)
    _bring_limits(connection)
    for trigger in _triggers(op.get_context().dialect.name):
        op.execute(trigger)
    with op.batch_alter_table("limit_change", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_limit_change_rule_id"))
    op.drop_table("limit_change")
    op.drop_table("fluid")


def _make():
    op.create_table(
        "fluid_version",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("fluid_id", sa.String(length=80), nullable=False),
        sa.Column("document", sa.JSON(), nullable=False),
        sa.Column("sha256", sa.String(length=64), nullable=False),
        sa.Column("from_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("release", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_fluid_version")),
    )
    op.create_index(op.f("ix_fluid_version_fluid_id"), "fluid_version", ["fluid_id"], unique=False)
    op.create_table(
        "content_change",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("subject", sa.Text(), nullable=False),
        sa.Column("content", sa.JSON(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("effective_from", sa.DateTime(timezone=True), nullable=False),
        sa.Column("review_on", sa.Date(), nullable=False),
        sa.Column("based_on", sa.Text(), nullable=False),
        sa.Column("revises", sa.Integer(), nullable=True),
        sa.Column("drafted_by", sa.Text(), nullable=False),
        sa.Column("drafted_by_id", sa.String(length=80), nullable=False),
        sa.Column("drafted_as_pharmacist", sa.Boolean(), nullable=False),
        sa.Column("drafted_at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(
            ["revises"],
            ["content_change.id"],
            name=op.f("fk_content_change_revises_content_change"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_content_change")),
    )
    op.create_index(op.f("ix_content_change_subject"), "content_change", ["subject"], unique=False)
    op.create_table(
        "content_decision",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("change_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("verdict", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("replay", sa.Text(), nullable=False),
        sa.Column("by", sa.Text(), nullable=False),
        sa.Column("by_id", sa.String(length=80), nullable=False),
        sa.Column("as_pharmacist", sa.Boolean(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(
            ["change_id"],
            ["content_change.id"],
            name=op.f("fk_content_decision_change_id_content_change"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_content_decision")),
        sa.UniqueConstraint("change_id", "number", name=op.f("uq_content_decision_change_id")),
    )
    op.create_index(
        op.f("ix_content_decision_change_id"), "content_decision", ["change_id"], unique=False
    )


def _bring_fluids(connection):
    connection.execute(
        sa.text(
            "INSERT INTO fluid_version (fluid_id, document, sha256, from_at, release) "
            "SELECT id, document, sha256, loaded_at, '' FROM fluid ORDER BY id"
        )
    )


def _bring_limits(connection):
    """Each limit a hospital had changed, as a change approved at midnight of its day."""
    zone = connection.execute(sa.text("SELECT zone FROM unit ORDER BY id")).scalar()
    meta = sa.MetaData()
    old = sa.Table("limit_change", meta, autoload_with=connection)
    change = sa.Table("content_change", meta, autoload_with=connection)
    decision = sa.Table("content_decision", meta, autoload_with=connection)
    for row in connection.execute(sa.select(old).order_by(old.c.from_day, old.c.id)).all():
        at = datetime.combine(row.from_day, datetime.min.time(), ZoneInfo(zone or "UTC"))
        at = at.astimezone(UTC)
        made = connection.execute(
            change.insert().values(
                subject=f"limit:{row.rule_id}/{row.name}",
                content={"value": row.value},
                reason=row.reason or BROUGHT_OVER,
                effective_from=at,
                review_on=row.from_day + LOOKED_AT_WITHIN,
                based_on="",
                drafted_by=row.by,
                drafted_by_id="",
                drafted_as_pharmacist=False,
                drafted_at=at,
            )
        )
        connection.execute(
            decision.insert().values(
                change_id=made.inserted_primary_key[0],
                number=0,
                verdict="approved",
                reason=BROUGHT_OVER,
                replay="",
                by=row.by,
                by_id="",
                as_pharmacist=False,
                at=at,
            )
        )


def _triggers(dialect):
    if dialect == "sqlite":
        return [
            f"CREATE TRIGGER {table}_is_not_{word} BEFORE {act} ON {table} "
            f"BEGIN SELECT RAISE(ABORT, '{REFUSAL}'); END"
            for table in TABLES
            for act, word in (("UPDATE", "changed"), ("DELETE", "deleted"))
        ]
    function = (
        "CREATE FUNCTION content_refuses() RETURNS trigger LANGUAGE plpgsql AS "
        f"$$ BEGIN RAISE EXCEPTION '{REFUSAL}'; END $$"
    )
    return [
        function,
        *(
            f"CREATE TRIGGER {table}_is_only_added_to BEFORE UPDATE OR DELETE OR TRUNCATE "
            f"ON {table} FOR EACH STATEMENT EXECUTE FUNCTION content_refuses()"
            for table in TABLES
        ),
    ]


def downgrade():
    """Back to what counts now: history is lost, which is why nobody does this on a ward."""
    op.create_table(
        "fluid",
        sa.Column("id", sa.String(length=80), nullable=False),
        sa.Column("document", sa.JSON(), nullable=False),
        sa.Column("sha256", sa.String(length=64), nullable=False),
        sa.Column("loaded_at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_fluid")),
    )
    op.create_table(
        "limit_change",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("rule_id", sa.String(length=80), nullable=False),
        sa.Column("name", sa.String(length=80), nullable=False),
        sa.Column("value", sa.Double(), nullable=False),
        sa.Column("from_day", sa.Date(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("by", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_limit_change")),
    )
    op.create_index(op.f("ix_limit_change_rule_id"), "limit_change", ["rule_id"], unique=False)
    connection = op.get_bind()
    connection.execute(
        sa.text(
            "INSERT INTO fluid (id, document, sha256, loaded_at) "
            "SELECT v.fluid_id, v.document, v.sha256, v.from_at FROM fluid_version v WHERE v.id IN "
            "(SELECT MAX(id) FROM fluid_version GROUP BY fluid_id)"
        )
    )
    _limits_back(connection)
    for table in reversed(TABLES):
        op.drop_table(table)
    if op.get_context().dialect.name == "postgresql":
        op.execute("DROP FUNCTION content_refuses()")


def _limits_back(connection):
    found = connection.execute(
        sa.text(
            "SELECT c.subject, c.content, c.effective_from, c.reason, c.drafted_by "
            "FROM content_change c JOIN content_decision d ON d.change_id = c.id "
            "WHERE d.verdict = 'approved' AND c.subject LIKE 'limit:%' ORDER BY c.id"
        )
    ).all()
    for subject, content, effective_from, reason, by in found:
        rule_id, _, name = subject.removeprefix("limit:").partition("/")
        held = json.loads(content) if isinstance(content, str) else content
        if held["value"] is None:
            continue
        connection.execute(
            sa.text(
                "INSERT INTO limit_change (rule_id, name, value, from_day, reason, by) "
                "VALUES (:rule_id, :name, :value, :from_day, :reason, :by)"
            ),
            {
                "rule_id": rule_id, "name": name, "value": held["value"],
                "from_day": str(effective_from)[:10], "reason": reason, "by": by,
            },
        )  # fmt: skip
