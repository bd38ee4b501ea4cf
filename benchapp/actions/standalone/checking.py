"""Files that people write: read them all, with their cross-references and worked cases."""

import os
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from benchapp.actions.standalone.schemas import models_elsewhere
from benchapp.errors import BenchError, Cancelled
from benchapp.files.beside import own_files, own_folder, said_in
from benchapp.files.document import Document
from benchapp.files.locations import AND_SO_ON, MOST_COMPLAINTS, Complaint, FileProblems
from benchapp.files.models import FileModel, read_model
from benchapp.files.reader import read_document
from benchapp.files.shipped import is_shipped, shipped_folder
from benchapp.sequences.checks.loading import read_own
from benchapp.sequences.checks.own_files import check_own
from benchapp.sequences.checks.references import check_references
from benchapp.sequences.checks.worked_cases import run_cases
from benchapp.sequences.planning.catalogue import (
    Catalogue,
    Documents,
    bears_shipped_name,
    kind_of_document,
    read_texts,
    texts_of,
)
from benchapp.sequences.planning.own_texts import own_texts
from benchapp.words import say

WITH_FIGURES = ("limits", "caution")
"""kinds of file whose own figures and words are named one by one"""


class NothingToCheck(BenchError):
    """A path that holds no file of ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FileReport:
    """One file: what it holds, its complaints (file:line:column ...), its worked cases and which came out wrong."""

    path: str
    kind: str
    complaints: tuple[str, ...] = ()
    cases: int = 0
    failed_cases: tuple[str, ...] = ()
    whole: bool = True
    """False where complaints elsewhere kept its names and worked cases from being checked"""
    remarks: tuple[str, ...] = ()
    """what its author should know though nothing is wrong: a shipped file whose place it takes, a file left out"""

    @property
    def good(self) -> bool:
        """Whether there is nothing to mend."""
        return self.whole and not (self.complaints or self.failed_cases)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Checked:
    """What came out for all files together: complaints and kinds by file, files left out; where all holds, the rest."""

    complaints: Mapping[str, Sequence[str]]
    kinds: Mapping[str, str]
    left_out: tuple[str, ...]
    catalogue: Catalogue | None
    documents: Documents
    shipped: Mapping[tuple[str, str], str]


def check_files(
    paths: Sequence[Path],
    *,
    progress: Callable[[int, int], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> tuple[FileReport, ...]:
    """Check files and folders against each other, their own folder and what is shipped (that alone without paths)."""
    asked = list(paths) or [shipped_folder("sequences"), shipped_folder("resources")]
    files = _files_of(asked)
    checked = _read_all(files)
    elsewhere = [name for name in checked.complaints if name not in files]
    reports = [_report(name, _shipped_place(name), checked) for name in elsewhere]
    for number, name in enumerate(files):
        if cancelled is not None and cancelled():
            raise Cancelled("Checking files")
        reports.append(_report(name, files[name], checked))
        if progress is not None:
            progress(number + 1, len(files))
    return tuple(reports)


def _files_of(paths: Iterable[Path]) -> dict[str, Path]:
    """The files asked for, by the name under which they are complained about, each once."""
    found: dict[str, Path] = {}
    for path in paths:
        if not path.exists():
            raise NothingToCheck(say("There is nothing at {path}. Check the path.", path=path))
        inside = sorted(_shown_below(path)) if path.is_dir() else [path]
        if not inside:
            raise NothingToCheck(say("There is no .yaml file in {path}. Name a file, or another folder.", path=path))
        for file in inside:
            found.setdefault(_real(file), file)
    return {_name_of(file): file for file in found.values()}


def _name_of(file: Path) -> str:
    """The name of a file in complaints: as it was asked for, never that of a shipped one which it is not."""
    name = str(file)
    return f"./{name}" if bears_shipped_name(name) and not is_shipped(file) else name


def _shown_below(folder: Path) -> Iterator[Path]:
    """The files in a folder and below; what is hidden (.git, .venv) is nobody's to check."""
    for file in (*folder.rglob("*.yaml"), *folder.rglob("*.yml")):
        if not any(part.startswith(".") for part in file.relative_to(folder).parts):
            yield file


def _read_all(files: Mapping[str, Path]) -> _Checked:
    """All complaints by file, and the catalogue when there are none about what the worked cases rest on."""
    shipped, complaints = _shipped_texts(files), defaultdict[str, list[str]](list)
    own, kinds = dict[str, str](), dict[str, str]()
    for name, file in files.items():
        try:
            document = read_document(file)
        except FileProblems as problems:
            _sort_in(complaints, problems.complaints)
        else:
            own[name], kinds[name] = document.text, _kind_of(document)
    beside, left_out = _beside(files, shipped)
    mine = {**beside, **own}
    catalogue, documents, found = read_texts(mine, mine)
    if not (found or complaints):  # else nothing is held against the others yet
        catalogue, documents, found = read_texts({**shipped, **mine}, mine)
        found = found or [*check_own(catalogue, documents), *check_references(catalogue, documents)]
    _sort_in(complaints, found)
    return _Checked(
        complaints=complaints,
        kinds=kinds,
        left_out=left_out,
        catalogue=None if complaints else catalogue,
        documents=documents,
        shipped={said: name for name, text in shipped.items() if (said := said_in(text)) is not None},
    )


def _beside(files: Mapping[str, Path], shipped: Mapping[str, str]) -> tuple[dict[str, str], tuple[str, ...]]:
    """The texts in the folders of the files asked for, and those of them left out for what is wrong with them."""
    known = {_real(file) for file in files.values()} | {_real(_shipped_place(name)) for name in shipped}
    folders = dict.fromkeys(own_folder(file) for file in files.values())
    paths = dict.fromkeys(path for folder in folders for path in own_files(folder) if _real(path) not in known)
    texts, complaints = read_own({str(path): path for path in paths})
    wrong = dict.fromkeys(one.location.file for one in (*complaints, *read_texts(texts)[2]))
    return {name: text for name, text in texts.items() if name not in wrong}, tuple(wrong)


def _real(path: Path) -> str:
    """Where the file really is; of links that go round in a circle the last."""
    return os.path.realpath(path)


def _shipped_place(name: str) -> Path:
    """Where a file is that is complained about by this name."""
    folder = shipped_folder("sequences") if name.startswith("sequences/") else shipped_folder("resources")
    return folder.parent / name  # a full path stays as it is


def _shipped_texts(files: Mapping[str, Path]) -> dict[str, str]:
    """What is shipped and is not itself among the files asked for."""
    asked = {_real(file) for file in files.values()}
    return {name: text for name, text in texts_of().items() if _real(_shipped_place(name)) not in asked}


def _sort_in(complaints: "dict[str, list[str]]", found: "Iterable[Complaint]") -> None:
    """As many complaints about each file as are explained at once."""
    for complaint in dict.fromkeys(found):
        lines = complaints[complaint.location.file]
        if len(lines) < MOST_COMPLAINTS:
            lines.append(str(complaint))
        elif len(lines) == MOST_COMPLAINTS:
            lines.append(str(replace(complaint, what=AND_SO_ON, expected="", nearest="")))


def _report(name: str, file: Path, checked: _Checked) -> FileReport:
    kind, elsewhere = _said_kind(name, file, checked), models_elsewhere()
    lines = list(checked.complaints.get(name, ()))
    if not lines and kind in elsewhere:
        lines = _own_complaints(file, elsewhere[kind])
    elif not lines and not kind:
        lines = [f"{name}:1:1: this says by no key what it is; expected for example sequence, equipment or meter"]
    cases, failed = _work_cases(name, kind, checked)
    return FileReport(
        path=name,
        kind=kind or "unknown",
        complaints=tuple(lines),
        cases=cases,
        failed_cases=failed,
        whole=checked.catalogue is not None or kind in elsewhere,
        remarks=tuple(_remarks(name, file, checked)),
    )


def _remarks(name: str, file: Path, checked: _Checked) -> Iterator[str]:
    for (kind, ident), document in checked.documents.items():
        if document.source == name and (kind, ident) in checked.shipped:
            yield f"it takes the place of the shipped {kind} {ident}"
    if checked.catalogue is not None:
        for own in own_texts(checked.catalogue):
            if own.kind in WITH_FIGURES and checked.catalogue.names[own.kind, own.ident] == name:
                yield f"this workshop's own: {own.words}"
        yield from _questions(name, checked.catalogue, checked.documents)
    beside = {str(path) for path in own_files(own_folder(file))}
    for left in (one for one in checked.left_out if one in beside):
        yield f"{left} stands beside it, has something to mend itself, and was left out"


def _questions(name: str, catalogue: Catalogue, documents: Documents) -> Iterator[str]:
    """What to ask about a design that holds: figures that are far from what the trade makes."""
    from benchapp.wiring.checks.compile import compile_circuit
    from benchapp.wiring.checks.questions import questions_about

    for ident, equipment in catalogue.equipment.items():
        if catalogue.names["equipment", ident] == name:
            document = documents["equipment", ident]
            for asked in questions_about(equipment, compile_circuit(equipment, catalogue.connectors)):
                yield str(document.complaint(asked.key, asked.what))


def _said_kind(name: str, file: Path, checked: _Checked) -> str:
    """The kind of a file that was asked for, or of another that was found wrong."""
    if name in checked.kinds:
        return checked.kinds[name]
    try:
        return _kind_of(read_document(file))
    except BenchError:
        return "unreadable"


def _kind_of(document: Document) -> str:
    """What the file is by its key, "" when no key says it."""
    keys = document.data if isinstance(document.data, dict) else {}
    return kind_of_document(document) or next((kind for kind in models_elsewhere() if kind in keys), "")


def _own_complaints(file: Path, model: type[FileModel]) -> list[str]:
    try:
        read_model(file, model)
    except FileProblems as problems:
        return [str(complaint) for complaint in problems.complaints]
    return []


def _work_cases(name: str, kind: str, checked: _Checked) -> tuple[int, tuple[str, ...]]:
    """How many worked cases the file has, and what came out wrong, each at its place."""
    if kind != "sequence" or checked.catalogue is None:
        return 0, ()
    catalogue = checked.catalogue
    ident = next(ident for (what, ident), file in catalogue.names.items() if (what, file) == ("sequence", name))
    results, document = run_cases(catalogue, ident), checked.documents["sequence", ident]
    wrong = [
        f"{document.location(one.key)}: case “{one.case}”{f', step “{one.step}”' if one.step else ''}: {one.complaint}"
        for one in results
        if one.complaint
    ]
    return len({one.case for one in results}), tuple(wrong)
