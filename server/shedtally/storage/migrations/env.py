"""Alembic's entry: runs the migrations on the connection that `storage/migrate.py` hands over."""

from alembic import context

from shedtally.storage.tables import db

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=db.metadata,
    render_as_batch=True,
)
with context.begin_transaction():
    context.run_migrations()
