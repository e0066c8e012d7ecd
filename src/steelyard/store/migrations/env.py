"""Run by Alembic: migrates the connection it is handed, inside the transaction that is open on it."""

from alembic import context

from steelyard.store.schema import METADATA

context.configure(
    connection=context.config.attributes["connection"], target_metadata=METADATA, render_as_batch=True
)
with context.begin_transaction():
    context.run_migrations()
