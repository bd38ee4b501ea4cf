"""The guards of the file: what is recorded is only ever added.

They are put on after every migration, since one that makes a table anew drops the guards of the old one unseen.
"""

from collections.abc import Callable, Iterator

ONLY_ADDED = ("entries", "revisions", "photos")
"""tables of which no row is ever changed or taken out"""


def guards() -> dict[str, str]:
    """Each guard by its name, as the statement that makes it."""
    return {
        f"{table}_refuse_{verb}": (
            f"CREATE TRIGGER {table}_refuse_{verb} BEFORE {verb.upper()} ON {table} "
            f"BEGIN SELECT RAISE(ABORT, '{table} are only ever added'); END"
        )
        for table in ONLY_ADDED
        for verb in ("update", "delete")
    }


def put_guards(run: Callable[[str], object]) -> None:
    """Put every guard on the file anew; `run` executes one statement."""
    for name, statement in guards().items():
        run(f"DROP TRIGGER IF EXISTS {name}")
        run(statement)


def missing_guards(there: dict[str, str]) -> Iterator[tuple[str, str]]:
    """(verb, table) of the guards that are not there, or say something else; `there` is name and statement of each."""
    for name, statement in guards().items():
        if there.get(name) != statement:
            table, _, verb = name.partition("_refuse_")
            yield verb, table
