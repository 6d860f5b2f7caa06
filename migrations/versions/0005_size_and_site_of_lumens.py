"""The size of a lumen as the nurse writes it, and the site of one that was placed meanwhile."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade():
    with op.batch_alter_table("lumen_told", schema=None) as batch_op:
        batch_op.add_column(sa.Column("size", sa.Text(), server_default="", nullable=False))
        batch_op.add_column(sa.Column("site", sa.Text(), server_default="", nullable=False))


def downgrade():
    with op.batch_alter_table("lumen_told", schema=None) as batch_op:
        batch_op.drop_column("site")
        batch_op.drop_column("size")
