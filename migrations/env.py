"""Run migrations on the connection that app/storage/database.py hands over."""

from alembic import context

from app.storage.all_tables import Base
from app.storage.tables import UtcTime


def as_plain_type(kind, thing, _context):
    """Our own time type as the column type it is: a migration imports nothing of ours."""
    return "sa.DateTime(timezone=True)" if kind == "type" and isinstance(thing, UtcTime) else False


connection = context.config.attributes.get("connection")
if connection is None:
    raise SystemExit("Migrations run through `ringside migrate`, which opens the database.")

context.configure(
    connection=connection,
    target_metadata=Base.metadata,
    render_item=as_plain_type,
    render_as_batch=True,  # SQLite alters a table by rebuilding it
)
with context.begin_transaction():
    context.run_migrations()
