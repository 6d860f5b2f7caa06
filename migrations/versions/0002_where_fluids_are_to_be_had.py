"""Where fluids are to be had."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade():
    op.create_table(
        "stock",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("fluid_id", sa.String(length=80), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("since", sa.DateTime(timezone=True), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("by", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stock")),
    )
    with op.batch_alter_table("stock", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_stock_fluid_id"), ["fluid_id"], unique=False)


def downgrade():
    with op.batch_alter_table("stock", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_stock_fluid_id"))

    op.drop_table("stock")
