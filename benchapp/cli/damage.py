"""A damaged workbook on the console: what is known of it on stderr, and what can be read of it for the command."""

import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from benchapp.cli.shape import say
from benchapp.errors import BenchError


@contextmanager
def looking_at_damage(path: Path, problem: BenchError) -> Iterator[Path | None]:
    """Say what is known of the damage; a workbook of what can be read, None where nothing can.

    Raises the problem again where it is another one than damage.
    """
    from benchapp.actions.backups.damage import damage_of

    with TemporaryDirectory() as folder:
        damage = damage_of(path, problem, Path(folder))
        if damage is None:
            raise problem
        _tell(damage.sentences)
        yield damage.readable


def tell_of_damage(path: Path, backup: Path) -> None:
    """Say what a damaged file has that the backup has not; nothing where the file is whole, or none of ours."""
    from benchapp.actions.backups.damage import damage_beside

    with TemporaryDirectory() as folder:
        _tell(damage_beside(path, backup, Path(folder)))


def _tell(sentences: Sequence[str]) -> None:
    for sentence in sentences:
        say(f"benchapp: {sentence}", to=sys.stderr)
