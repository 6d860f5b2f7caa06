"""How many bags there are."""

revision = "0010"
down_revision = "0009"
branch_labels = None
depends_on = None


def upgrade():
    pass


def downgrade():
    pass
