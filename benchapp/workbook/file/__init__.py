"""The file on the disk: SQLite, its log, its place, its schema."""
