"""how far each device has read each boat, so that others know of a second copy"""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "reading_mark",
        sa.Column("device", sa.String(length=36), nullable=False),
        sa.Column("boat", sa.String(length=36), nullable=False),
        sa.Column("epoch", sa.String(length=36), nullable=False),
        sa.Column("cursor", sa.BigInteger(), nullable=False),
        sa.Column("noted_ms", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["boat"], ["boat_counter.boat"], name=op.f("fk_reading_mark_boat")),
        sa.PrimaryKeyConstraint("device", "boat", name=op.f("pk_reading_mark")),
    )


def downgrade() -> None:
    op.drop_table("reading_mark")
