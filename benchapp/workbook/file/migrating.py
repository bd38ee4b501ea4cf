"""Running alembic on a workbook file. Loaded only when a file is made or is older than the program."""

from functools import partial
from pathlib import Path

from alembic import command
from alembic.config import Config
from sqlalchemy import create_engine, event
from sqlalchemy.pool import NullPool

from benchapp.workbook.file import sqlite
from benchapp.workbook.file.guards import put_guards

FOLDER = Path(__file__).parent / "migrations"


def configuration(*, further: tuple[Path, ...] = ()) -> Config:
    """alembic's configuration without an ini file; `further` folders hold revisions beside the shipped ones."""
    config = Config()
    config.set_main_option("script_location", str(FOLDER))
    config.set_main_option("path_separator", "newline")
    folders = (FOLDER / "versions", *further)
    config.set_main_option("version_locations", "\n".join(str(folder) for folder in folders))
    return config


def run_migrations(path: Path, *, to: str = "head", further: tuple[Path, ...] = ()) -> None:
    """Bring the file to a revision in one transaction: wholly or not at all."""
    config = configuration(further=further)
    engine = create_engine(
        "sqlite://", creator=partial(sqlite.connect, path, make=True, references=False), poolclass=NullPool
    )
    event.listen(engine, "begin", lambda connection: connection.exec_driver_sql("BEGIN IMMEDIATE"))
    with engine.begin() as connection:
        config.attributes["connection"] = connection
        step = command.downgrade if to == "base" or to.startswith("-") else command.upgrade
        step(config, to)
        if step is command.upgrade:
            put_guards(connection.exec_driver_sql)
    engine.dispose()
