"""Who did what to the content, in one chain."""

revision = "0006"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade():
    pass


def downgrade():
    pass
