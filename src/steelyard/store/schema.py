"""The tables of a ledger: the chain of entries, and what is kept beside it.

Only `entry`, `submission`, `name` and `file` hold anything of their own; `document` is made from the entries.
"""

import sqlalchemy as sa

NAMING = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}
"""Every constraint has a name, so that a later migration can drop it."""

METADATA = sa.MetaData(naming_convention=NAMING)

ENTRY = sa.Table(
    "entry",
    METADATA,
    sa.Column("number", sa.Integer, primary_key=True),
    sa.Column("kind", sa.Text, nullable=False),
    sa.Column("subject", sa.Text, nullable=False),
    sa.Column("at", sa.Text, nullable=False),
    sa.Column("who", sa.Text, nullable=False),
    sa.Column("digest", sa.Text, nullable=False),
    sa.Column("body", sa.Text, nullable=False),
    sa.Index(None, "subject", "number"),
)
"""The chain. `kind`, `subject`, `at` and `who` repeat what the body says, to be looked up by."""

DOCUMENT = sa.Table(
    "document",
    METADATA,
    sa.Column("subject", sa.Text, primary_key=True),
    sa.Column("sort", sa.Text, nullable=False),
    sa.Column("key", sa.Text, nullable=False),
    sa.Column("state", sa.Text, nullable=False),
    sa.Column("day", sa.Text),
    sa.Column("due", sa.Text),
    sa.Column("owner", sa.Text),
    sa.Column("who", sa.Text),
    sa.Column("words", sa.Text, nullable=False),
    sa.Column("last", sa.Integer, nullable=False),
    sa.Column("body", sa.Text, nullable=False),
    sa.Index(None, "sort", "key"),
    sa.Index(None, "sort", "state", "key", "day"),
    sa.Index(None, "sort", "state", "due", "key"),
    sa.Index(None, "sort", "who", "key"),
    sa.Index(None, "sort", "due"),
    sa.Index(None, "owner", "key"),
    sa.Index(None, "owner", "sort", "state", "key"),
)
"""What is folded of each subject, and how it is found. The body stands last: a search never reads past it."""

SUBMISSION = sa.Table(
    "submission",
    METADATA,
    sa.Column("token", sa.Text, primary_key=True),
    sa.Column("first", sa.Integer, nullable=False),
    sa.Column("count", sa.Integer, nullable=False),
)
"""Which entries a token has written: `count` of them from number `first`."""

NAME = sa.Table(
    "name",
    METADATA,
    sa.Column("key", sa.Text, primary_key=True),
    sa.Column("text", sa.Text),
    sa.Column("salt", sa.Text),
)
"""Names of people by their key; both columns are empty once a name is forgotten."""

FILE = sa.Table(
    "file",
    METADATA,
    sa.Column("digest", sa.Text, primary_key=True),
    sa.Column("media_type", sa.Text, nullable=False),
    sa.Column("size", sa.Integer, nullable=False),
    sa.Column("content", sa.LargeBinary, nullable=False),
)
"""Files kept, by the SHA-256 of their content; size in bytes."""
