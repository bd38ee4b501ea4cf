"""What is kept: SQLAlchemy tables, the journal, revisions, migrations, backup."""
