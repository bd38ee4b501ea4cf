"""Which bench this computer stands at: made at first use, kept outside of every workbook.

A copied workbook therefore never takes the bench's identity with it.
"""

import json
import os
from dataclasses import asdict
from pathlib import Path
from uuid import uuid4

from benchapp.operating_system import data_folder
from benchapp.words import say
from benchapp.workbook.file.whole_files import read_json
from benchapp.workbook.model.problems import WorkbookProblem
from benchapp.workbook.model.values import BenchIdentity

FILE = "bench.json"


class NoIdentity(WorkbookProblem):
    """The bench's own file cannot be read or made."""

    def __init__(self, path: Path, why: str) -> None:
        super().__init__(
            say(
                "This bench's own file {path} cannot be used ({why}). Mend or remove it: a new one makes "
                "a new bench, which has to be opened before work.",
                path=path,
                why=why,
            )
        )


def this_bench(folder: Path | None = None) -> BenchIdentity:
    """The bench of this computer's user, made if there is none yet; raises NoIdentity."""
    path = (folder or data_folder()) / FILE
    try:
        if not path.exists():
            _make(path)
        said = read_json(path)
        return BenchIdentity(uuid=str(said["uuid"]), name=str(said["name"]))
    except (OSError, ValueError, KeyError, TypeError) as error:
        raise NoIdentity(path, str(error)) from error


def own_bench() -> str:
    """The UUID of the bench of this computer's user; empty where there is none yet, or none that can be read."""
    try:
        return this_bench().uuid if (data_folder() / FILE).exists() else ""
    except NoIdentity:
        return ""


def call_this_bench(uuid: str, name: str) -> None:
    """Keep another name of this computer's bench, for workbooks that have not met it; raises NoIdentity.

    Where `uuid` is another bench's, nothing is kept.
    """
    path = data_folder() / FILE
    if this_bench().uuid != uuid:
        return
    draft = path.with_name(f"{path.name}.{uuid4()}")
    try:
        draft.write_text(json.dumps(asdict(BenchIdentity(uuid=uuid, name=name))), encoding="utf-8")
        draft.replace(path)
    except OSError as error:
        raise NoIdentity(path, str(error)) from error


def _make(path: Path) -> None:
    """Write a new identity whole, unless another window was first."""
    path.parent.mkdir(parents=True, exist_ok=True)
    uuid = str(uuid4())
    draft = path.with_name(f"{path.name}.{uuid}")
    draft.write_text(json.dumps(asdict(BenchIdentity(uuid=uuid, name=f"Bench {uuid[:4]}"))), encoding="utf-8")
    try:
        os.link(draft, path)
    except FileExistsError:
        pass
    except OSError:  # a file system without links: the last to come wins
        draft.replace(path)
        return
    draft.unlink()
