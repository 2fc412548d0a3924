"""the list of a handover is kept as it was when the waste left"""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "frozen",
        sa.Column("boat", sa.String(length=36), nullable=False),
        sa.Column("handover", sa.String(length=64), nullable=False),
        sa.Column("digest", sa.String(length=64), nullable=False),
        sa.Column("body", sa.Text(), nullable=False),
        sa.Column("stamp", sa.String(length=16), nullable=False),
        sa.Column("cursor", sa.BigInteger(), nullable=False),
        sa.Column("frozen_ms", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["boat"], ["boat_counter.boat"], name=op.f("fk_frozen_boat")),
        sa.PrimaryKeyConstraint("boat", "handover", name=op.f("pk_frozen")),
    )


def downgrade() -> None:
    op.drop_table("frozen")
