"""Signed local notes on pairs of which there is no data, and notes taken back."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade():
    op.create_table(
        "pair_note",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("a", sa.String(length=80), nullable=False),
        sa.Column("b", sa.String(length=80), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("conditions", sa.Text(), nullable=False),
        sa.Column("by", sa.Text(), nullable=False),
        sa.Column("role", sa.Text(), nullable=False),
        sa.Column("signed_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("review_on", sa.Date(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_pair_note")),
    )
    with op.batch_alter_table("pair_note", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_pair_note_a"), ["a"], unique=False)
        batch_op.create_index(batch_op.f("ix_pair_note_b"), ["b"], unique=False)
    op.create_table(
        "pair_note_withdrawal",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("note_id", sa.Integer(), nullable=False),
        sa.Column("by", sa.Text(), nullable=False),
        sa.Column("role", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["note_id"], ["pair_note.id"], name=op.f("fk_pair_note_withdrawal_note_id_pair_note")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_pair_note_withdrawal")),
        sa.UniqueConstraint("note_id", name=op.f("uq_pair_note_withdrawal_note_id")),
    )


def downgrade():
    op.drop_table("pair_note_withdrawal")
    with op.batch_alter_table("pair_note", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_pair_note_b"))
        batch_op.drop_index(batch_op.f("ix_pair_note_a"))

    op.drop_table("pair_note")
