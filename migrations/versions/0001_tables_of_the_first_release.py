"""Tables of the first release."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade():
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
    with op.batch_alter_table("limit_change", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_limit_change_rule_id"), ["rule_id"], unique=False)

    op.create_table(
        "seed_run",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("told", sa.JSON(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_seed_run")),
    )
    op.create_table(
        "unit",
        sa.Column("id", sa.String(length=80), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("zone", sa.Text(), nullable=False),
        sa.Column("fixed_now", sa.DateTime(timezone=True), nullable=True),
        sa.Column("sha256", sa.String(length=64), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_unit")),
    )
    op.create_table(
        "patient",
        sa.Column("id", sa.String(length=80), nullable=False),
        sa.Column("unit_id", sa.String(length=80), nullable=False),
        sa.Column("bed", sa.Text(), nullable=False),
        sa.Column("initials", sa.Text(), nullable=False),
        sa.Column("setting", sa.Text(), nullable=True),
        sa.Column("age_years", sa.Double(), nullable=True),
        sa.Column("sex", sa.Text(), nullable=True),
        sa.Column("weight_kg", sa.Double(), nullable=True),
        sa.Column("weight_taken_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("height_cm", sa.Double(), nullable=True),
        sa.Column("urine_ml_h", sa.Double(), nullable=True),
        sa.Column("balance_24h_ml", sa.Double(), nullable=True),
        sa.Column("conditions", sa.JSON(), nullable=False),
        sa.Column("medications", sa.JSON(), nullable=False),
        sa.Column("sha256", sa.String(length=64), nullable=False),
        sa.ForeignKeyConstraint(
            ["unit_id"], ["unit.id"], name=op.f("fk_patient_unit_id_unit"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_patient")),
    )
    with op.batch_alter_table("patient", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_patient_unit_id"), ["unit_id"], unique=False)

    op.create_table(
        "co_infusion",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("patient_id", sa.String(length=80), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=True),
        sa.Column("lumen", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(
            ["patient_id"],
            ["patient.id"],
            name=op.f("fk_co_infusion_patient_id_patient"),
            ondelete="CASCADE",
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_co_infusion")),
    )
    with op.batch_alter_table("co_infusion", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_co_infusion_patient_id"), ["patient_id"], unique=False)

    op.create_table(
        "infusion_order",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("patient_id", sa.String(length=80), nullable=False),
        sa.Column("name", sa.String(length=80), nullable=False),
        sa.Column("fluid", sa.Text(), nullable=True),
        sa.Column("additives", sa.JSON(), nullable=False),
        sa.Column("volume_ml", sa.Double(), nullable=True),
        sa.Column("rate_ml_h", sa.Double(), nullable=True),
        sa.Column("duration_h", sa.Double(), nullable=True),
        sa.Column("rate_text", sa.Text(), nullable=True),
        sa.Column("order_text", sa.Text(), nullable=True),
        sa.Column("starts_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("review_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("lumen", sa.Text(), nullable=True),
        sa.Column("purpose", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(
            ["patient_id"],
            ["patient.id"],
            name=op.f("fk_infusion_order_patient_id_patient"),
            ondelete="CASCADE",
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_infusion_order")),
        sa.UniqueConstraint("patient_id", "name", name=op.f("uq_infusion_order_patient_id")),
    )
    with op.batch_alter_table("infusion_order", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_infusion_order_patient_id"), ["patient_id"], unique=False
        )

    op.create_table(
        "lumen",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("patient_id", sa.String(length=80), nullable=False),
        sa.Column("name", sa.String(length=80), nullable=False),
        sa.Column("site", sa.Text(), nullable=True),
        sa.Column("role", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(
            ["patient_id"],
            ["patient.id"],
            name=op.f("fk_lumen_patient_id_patient"),
            ondelete="CASCADE",
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_lumen")),
        sa.UniqueConstraint("patient_id", "name", name=op.f("uq_lumen_patient_id")),
    )
    with op.batch_alter_table("lumen", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_lumen_patient_id"), ["patient_id"], unique=False)

    op.create_table(
        "observation",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("patient_id", sa.String(length=80), nullable=False),
        sa.Column("name", sa.Text(), nullable=True),
        sa.Column("loinc", sa.Text(), nullable=True),
        sa.Column("value", sa.JSON(none_as_null=True), nullable=True),
        sa.Column("unit", sa.Text(), nullable=True),
        sa.Column("taken_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("note", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(
            ["patient_id"],
            ["patient.id"],
            name=op.f("fk_observation_patient_id_patient"),
            ondelete="CASCADE",
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_observation")),
    )
    with op.batch_alter_table("observation", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_observation_patient_id"), ["patient_id"], unique=False)


def downgrade():
    with op.batch_alter_table("observation", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_observation_patient_id"))

    op.drop_table("observation")
    with op.batch_alter_table("lumen", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_lumen_patient_id"))

    op.drop_table("lumen")
    with op.batch_alter_table("infusion_order", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_infusion_order_patient_id"))

    op.drop_table("infusion_order")
    with op.batch_alter_table("co_infusion", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_co_infusion_patient_id"))

    op.drop_table("co_infusion")
    with op.batch_alter_table("patient", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_patient_unit_id"))

    op.drop_table("patient")
    op.drop_table("unit")
    op.drop_table("seed_run")
    with op.batch_alter_table("limit_change", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_limit_change_rule_id"))

    op.drop_table("limit_change")
    op.drop_table("fluid")
