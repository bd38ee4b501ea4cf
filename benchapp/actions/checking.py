"""Files that people write: read them all, with their cross-references and worked cases."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from benchapp.actions.problems import Cancelled
from benchapp.errors import BenchError

if TYPE_CHECKING:
    from benchapp.files import Complaint, FileModel
    from benchapp.sequences import Catalogue


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

    @property
    def good(self) -> bool:
        """Whether there is nothing to mend."""
        return self.whole and not (self.complaints or self.failed_cases)


def check_files(
    paths: Sequence[Path],
    *,
    progress: Callable[[int, int], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> tuple[FileReport, ...]:
    """Check files and folders against each other and against what is shipped (that alone, when none are named)."""
    from benchapp.files import shipped_folder

    asked = list(paths) or [shipped_folder("sequences"), shipped_folder("resources")]
    files = _files_of(asked)
    complaints, catalogue = _read_all(files)
    reports = []
    for number, name in enumerate(files):
        if cancelled is not None and cancelled():
            raise Cancelled("Checking files")
        reports.append(_report(name, files[name], complaints, catalogue))
        if progress is not None:
            progress(number + 1, len(files))
    return tuple(reports)


def _files_of(paths: Iterable[Path]) -> dict[str, Path]:
    """The files asked for, by the name under which they are complained about, each once."""
    found: dict[Path, Path] = {}
    for path in paths:
        if not path.exists():
            raise NothingToCheck(f"There is nothing at {path}. Check the path.")
        inside = sorted([*path.rglob("*.yaml"), *path.rglob("*.yml")]) if path.is_dir() else [path]
        if not inside:
            raise NothingToCheck(f"There is no .yaml file in {path}. Name a file, or another folder.")
        for file in inside:
            found.setdefault(file.resolve(), file)
    return {str(file): file for file in found.values()}


def _read_all(files: Mapping[str, Path]) -> "tuple[dict[str, list[str]], Catalogue | None]":
    """All complaints by file, and the catalogue when there are none about what the worked cases rest on."""
    from benchapp.files import FileProblems, read_document
    from benchapp.sequences.catalogue import read_texts
    from benchapp.sequences.references import check_references

    texts, complaints = _shipped_texts(files), defaultdict[str, list[str]](list)
    for name, file in files.items():
        try:
            texts[name] = read_document(file).text
        except FileProblems as problems:
            _sort_in(complaints, problems.complaints)
    catalogue, papers, found = read_texts(texts)
    found = found or check_references(catalogue, papers)
    _sort_in(complaints, found)
    return complaints, None if complaints else catalogue


def _shipped_texts(files: Mapping[str, Path]) -> dict[str, str]:
    """What is shipped and is not itself among the files asked for."""
    from benchapp.files import shipped_folder
    from benchapp.sequences.catalogue import texts_of

    asked = {file.resolve() for file in files.values()}
    places = {name: shipped_folder(name).parent for name in ("sequences", "resources")}
    shipped = texts_of()
    return {
        name: text for name, text in shipped.items() if (places[name.split("/", 1)[0]] / name).resolve() not in asked
    }


def _sort_in(complaints: "dict[str, list[str]]", found: "Iterable[Complaint]") -> None:
    for complaint in found:
        line = str(complaint)
        if line not in complaints[complaint.place.file]:
            complaints[complaint.place.file].append(line)


def _report(name: str, file: Path, complaints: Mapping[str, list[str]], catalogue: "Catalogue | None") -> FileReport:
    from benchapp.actions.schemas import models_elsewhere

    kind, elsewhere = _kind_of(file), models_elsewhere()
    lines = list(complaints.get(name, ()))
    if not lines and kind in elsewhere:
        lines = _own_complaints(file, elsewhere[kind])
    elif not lines and not kind:
        lines = [f"{name}:1:1: this says by no key what it is; expected for example sequence, equipment or meter"]
    cases, failed = _work_cases(name, kind, catalogue)
    return FileReport(
        path=name,
        kind=kind or "unknown",
        complaints=tuple(lines),
        cases=cases,
        failed_cases=failed,
        whole=catalogue is not None or kind in elsewhere,
    )


def _kind_of(file: Path) -> str:
    """What the file is by its key, "" when no key says it."""
    from benchapp.actions.schemas import models_elsewhere
    from benchapp.files import FileProblems, read_document
    from benchapp.sequences.catalogue import kind_of_document

    try:
        document = read_document(file)
    except FileProblems:
        return "unreadable"
    keys = document.data if isinstance(document.data, dict) else {}
    return kind_of_document(document) or next((kind for kind in models_elsewhere() if kind in keys), "")


def _own_complaints(file: Path, model: "type[FileModel]") -> list[str]:
    from benchapp.files import FileProblems, build_model, read_document

    try:
        build_model(read_document(file), model)
    except FileProblems as problems:
        return [str(complaint) for complaint in problems.complaints]
    return []


def _work_cases(name: str, kind: str, catalogue: "Catalogue | None") -> tuple[int, tuple[str, ...]]:
    """How many worked cases the file has, and what came out wrong."""
    if kind != "sequence" or catalogue is None:
        return 0, ()
    from benchapp.sequences import run_cases

    ident = next(ident for (what, ident), file in catalogue.names.items() if (what, file) == ("sequence", name))
    results = run_cases(catalogue, ident)
    wrong = [f"{name}: case “{one.case}”, {one.step}: {one.complaint}" for one in results if one.complaint]
    return len({one.case for one in results}), tuple(wrong)
