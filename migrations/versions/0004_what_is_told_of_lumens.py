"""What people tell of lumens: that one failed, that it works, and what was taken back."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade():
    op.create_table(
        "lumen_told",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("patient_id", sa.String(length=80), nullable=False),
        sa.Column("lumen", sa.String(length=80), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("by", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_lumen_told")),
    )
    with op.batch_alter_table("lumen_told", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_lumen_told_patient_id"), ["patient_id"], unique=False)


def downgrade():
    with op.batch_alter_table("lumen_told", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_lumen_told_patient_id"))

    op.drop_table("lumen_told")
