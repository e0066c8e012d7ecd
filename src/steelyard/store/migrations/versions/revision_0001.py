"""The first form of a ledger's file."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision: str | None = None


def upgrade() -> None:
    """Make every table."""
    _chain()
    _documents()
    _beside()


def _chain() -> None:
    op.create_table(
        "entry",
        sa.Column("number", sa.Integer, nullable=False),
        *(
            sa.Column(name, sa.Text, nullable=False)
            for name in ("kind", "subject", "at", "who", "digest", "body")
        ),
        sa.PrimaryKeyConstraint("number", name="pk_entry"),
    )
    op.create_index("ix_entry_subject_number", "entry", ["subject", "number"])


def _documents() -> None:
    op.create_table(
        "document",
        *(sa.Column(name, sa.Text, nullable=False) for name in ("subject", "sort", "key", "state")),
        *(sa.Column(name, sa.Text) for name in ("day", "due", "owner", "who")),
        sa.Column("words", sa.Text, nullable=False),
        sa.Column("last", sa.Integer, nullable=False),
        sa.Column("body", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("subject", name="pk_document"),
    )
    for columns in (
        ["sort", "key"],
        ["sort", "state", "key", "day"],
        ["sort", "state", "due", "key"],
        ["sort", "who", "key"],
        ["sort", "due"],
        ["owner", "key"],
        ["owner", "sort", "state", "key"],
    ):
        op.create_index("_".join(["ix_document", *columns]), "document", columns)


def _beside() -> None:
    op.create_table(
        "submission",
        sa.Column("token", sa.Text, nullable=False),
        sa.Column("first", sa.Integer, nullable=False),
        sa.Column("count", sa.Integer, nullable=False),
        sa.PrimaryKeyConstraint("token", name="pk_submission"),
    )
    op.create_table(
        "name",
        sa.Column("key", sa.Text, nullable=False),
        sa.Column("text", sa.Text),
        sa.Column("salt", sa.Text),
        sa.PrimaryKeyConstraint("key", name="pk_name"),
    )
    op.create_table(
        "file",
        sa.Column("digest", sa.Text, nullable=False),
        sa.Column("media_type", sa.Text, nullable=False),
        sa.Column("size", sa.Integer, nullable=False),
        sa.Column("content", sa.LargeBinary, nullable=False),
        sa.PrimaryKeyConstraint("digest", name="pk_file"),
    )
