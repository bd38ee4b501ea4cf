"""Backups of a workbook on the console: make one, list what there is, and the way back."""

import argparse
from pathlib import Path
from typing import TYPE_CHECKING, Any

from benchapp.cli.damage import tell_of_damage
from benchapp.cli.shape import Command, add_json, path_named, print_json, print_table, progress_of, say
from benchapp.errors import BenchError

if TYPE_CHECKING:
    from benchapp.workbook.backup.values import Backup


def _backup_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("workbook", metavar="WORKBOOK", type=path_named)
    parser.add_argument(
        "--to", metavar="FOLDER", type=path_named, help="another folder than the one that was named for backups"
    )
    parser.add_argument(
        "--keep-to", metavar="FOLDER", type=path_named, help="name this folder for the backups of this computer"
    )


def _backup(asked: argparse.Namespace) -> int:
    from benchapp.actions.backups.keeping import back_up
    from benchapp.actions.backups.settings import name_folder
    from benchapp.actions.workbench.bench import utc_now

    if asked.keep_to is not None:
        say(name_folder(asked.keep_to, workbook=asked.workbook))
    done = back_up(asked.workbook, at=utc_now(), to=asked.to, progress=progress_of("pages"))
    say(done.words)
    return 0 if done.sound else 1


def _backups_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("workbook", metavar="WORKBOOK", type=path_named)
    parser.add_argument(
        "--in", dest="folder", metavar="FOLDER", type=path_named, help="another folder than the one that was named"
    )
    add_json(parser)


def _backups(asked: argparse.Namespace) -> int:
    from benchapp.actions.backups.listing import backups_of, examine

    found, show = backups_of(asked.workbook, folder=asked.folder), progress_of("backups")
    rows = []
    for number, backup in enumerate(map(examine, found), 1):
        rows.append(backup)
        if show is not None:
            show(number, len(found))
    if asked.json:
        print_json([_as_json(backup) for backup in rows])
    elif rows:
        print_table(map(_row, rows), head=("backup", "made (UTC)", "entries", "units", "last entry (UTC)", "stands"))
    else:
        say(f"There is no backup of {asked.workbook.name}.")
    return 0 if any(backup.sound for backup in rows) else 1


def _row(backup: "Backup") -> tuple[str, ...]:
    held = backup.receipt
    counts = (str(held.entries), str(held.units), _minute(held.last_at)) if held else ("", "", "")
    stands = f"{backup.state}: {backup.words}" if backup.words else backup.state
    return backup.path.name, f"{backup.at:%Y-%m-%d %H:%M}", *counts, stands


def _as_json(backup: "Backup") -> dict[str, Any]:
    held = backup.receipt
    return {
        "path": str(backup.path),
        "made": held.made if held else backup.at.isoformat(),
        "entries": held.entries if held else None,
        "units": held.units if held else None,
        "last entry": held.last_at if held else None,
        "state": backup.state,
        "sound": backup.sound,
        "words": backup.words,
        "faults": list(held.faults) if held else [],
    }


def _minute(at: str) -> str:
    return at[:16].replace("T", " ")


def _restore_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("backup", metavar="BACKUP", type=path_named)
    parser.add_argument(
        "--to", required=True, metavar="FILE", type=path_named, help="the workbook to make; never over one"
    )


def _restore(asked: argparse.Namespace) -> int:
    from benchapp.actions.backups.restoring import restore
    from benchapp.actions.workbench.bench import utc_now

    to: Path = asked.to
    try:
        done = restore(asked.backup, to, at=utc_now())
    except BenchError:
        tell_of_damage(to, asked.backup)
        raise
    say(done.words)
    return 0


COMMANDS = (
    Command(
        name="backup",
        says="copy a workbook to the folder for backups and verify the copy; exit 1 when it does not hold",
        arguments=_backup_arguments,
        run=_backup,
    ),
    Command(
        name="backups",
        says="list the backups of a workbook with what each holds; exit 1 when none is sound",
        arguments=_backups_arguments,
        run=_backups,
    ),
    Command(
        name="restore",
        says="make a workbook of a backup under a new name, verified first",
        arguments=_restore_arguments,
        run=_restore,
    ),
)
