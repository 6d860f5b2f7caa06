"""Past orders without their people, replays over them, samples looked at by two."""

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None


def upgrade():
    pass


def downgrade():
    pass
