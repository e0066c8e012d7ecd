"""Bringing the file of a ledger to the form of this program, in one transaction.

In: a connection. Out: nothing; the tables are as `schema.py` says. Refuses: nothing itself; what the database
refuses leaves the file as it was.
"""

from dataclasses import dataclass
from pathlib import Path

import sqlalchemy as sa


@dataclass(frozen=True)
class Migrations:
    """A row of migrations. folder: where they stand. latest: the last revision among them."""

    folder: Path
    latest: str


OWN = Migrations(Path(__file__).parent, "0001")


def is_known(revision: str | None, migrations: Migrations) -> bool:
    """Whether one of these migrations made it."""
    from alembic.script import ScriptDirectory

    scripts = ScriptDirectory(str(migrations.folder))
    return revision in {script.revision for script in scripts.walk_revisions()}


def upgrade(connection: sa.Connection, migrations: Migrations) -> None:
    """Run what is missing. connection: with a transaction open, which the caller commits."""
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(migrations.folder).replace("%", "%%"))
    config.attributes["connection"] = connection
    command.upgrade(config, "head")
