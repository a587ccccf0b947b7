"""Run by Alembic: migrations happen on the connection that the caller opened, within its transaction."""

from alembic import context

from lengthwise.storage.tables import metadata

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=metadata,
    transactional_ddl=True,
    render_as_batch=True,
    compare_type=False,
)
context.run_migrations()
