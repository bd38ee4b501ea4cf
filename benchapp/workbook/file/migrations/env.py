"""alembic's entry: runs the revisions on the connection that `migrating` hands over."""

from alembic import context

from benchapp.workbook.model.tables import METADATA

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=METADATA,
    transactional_ddl=True,
    render_as_batch=True,
)
with context.begin_transaction():
    context.run_migrations()
