"""Accounts, sessions, tokens of machines."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None


def upgrade():
    op.create_table(
        "account",
        sa.Column("id", sa.String(length=80), nullable=False),
        sa.Column("sign_in", sa.String(length=80), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("roles", sa.JSON(), nullable=False),
        sa.Column("how", sa.Text(), nullable=False),
        sa.Column("subject", sa.String(length=512), nullable=True),
        sa.Column("password_hash", sa.Text(), nullable=True),
        sa.Column("must_change", sa.Boolean(), nullable=False),
        sa.Column("demo", sa.Boolean(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("ended_at", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_account")),
        sa.UniqueConstraint("sign_in", name=op.f("uq_account_sign_in")),
        sa.UniqueConstraint("subject", name=op.f("uq_account_subject")),
    )
    op.create_table(
        "signed_in",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("key_hash", sa.String(length=64), nullable=False),
        sa.Column("account_id", sa.String(length=80), nullable=False),
        sa.Column("via", sa.Text(), nullable=False),
        sa.Column("roles", sa.JSON(), nullable=False),
        sa.Column("begun_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("seen_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("locked_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("ended_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("ended_why", sa.Text(), nullable=True),
        sa.Column("confirmed_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("granted", sa.JSON(), nullable=True),
        sa.ForeignKeyConstraint(
            ["account_id"], ["account.id"], name=op.f("fk_signed_in_account_id_account")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_signed_in")),
        sa.UniqueConstraint("key_hash", name=op.f("uq_signed_in_key_hash")),
    )
    op.create_index(op.f("ix_signed_in_account_id"), "signed_in", ["account_id"])
    op.create_table(
        "machine_token",
        sa.Column("id", sa.String(length=80), nullable=False),
        sa.Column("key_hash", sa.String(length=64), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("scopes", sa.JSON(), nullable=False),
        sa.Column("made_by", sa.Text(), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("expires_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("used_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("ended_at", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_machine_token")),
        sa.UniqueConstraint("key_hash", name=op.f("uq_machine_token_key_hash")),
    )
    op.create_table(
        "sign_in_attempt",
        sa.Column("key", sa.String(length=64), nullable=False),
        sa.Column("failures", sa.Integer(), nullable=False),
        sa.Column("last_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("wait_until", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("key", name=op.f("pk_sign_in_attempt")),
    )


def downgrade():
    op.drop_table("sign_in_attempt")
    op.drop_table("machine_token")
    op.drop_table("signed_in")
    op.drop_table("account")
