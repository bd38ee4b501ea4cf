"""The shipped files and a workshop's own, loaded with their cross-references checked.

What is wrong with an own file, or looser than what is shipped, never stands in the way of the others: it is left out
and named, and the shipped file holds.
"""

from collections.abc import Iterable
from pathlib import Path

from benchapp.files.beside import own_files
from benchapp.files.locations import Complaint, FileProblems
from benchapp.sequences.checks.own_files import check_own
from benchapp.sequences.checks.references import check_references
from benchapp.sequences.planning.catalogue import Catalogue, is_shipped, read_texts, text_of, texts_of


def load_with_own(folder: Path, *folders: Path) -> tuple[Catalogue, tuple[Complaint, ...]]:
    """The shipped files, those of `folders` and an author's own out of `folder`, the later winning by id.

    Of all but the shipped ones those with complaints are left out, and handed back. Raises FileProblems where what is
    shipped does not hold by itself.
    """
    left_out = list[Complaint]()
    beside = _texts({str(path): path for path in own_files(folder) if not is_shipped(path)}, left_out)
    own_texts = {**_texts_in(folders, left_out), **beside}
    shipped = texts_of()
    while True:
        catalogue, documents, complaints = read_texts({**shipped, **own_texts}, beside)
        complaints = complaints or [*check_own(catalogue, documents)] or check_references(catalogue, documents)
        if not complaints:
            return catalogue, tuple(left_out)
        wrong = _to_leave_out(complaints, own_texts, catalogue)
        if not wrong:
            raise FileProblems(complaints)
        named = [one for one in complaints if one.location.file in own_texts]
        left_out.extend(named or complaints)
        own_texts = {name: text for name, text in own_texts.items() if name not in wrong}
        beside = {name: text for name, text in beside.items() if name not in wrong}


def _to_leave_out(complaints: Iterable[Complaint], own: Iterable[str], catalogue: Catalogue) -> set[str]:
    """The own files complained about; where shipped ones are, those that took a shipped place; else all own ones."""
    every = set(own)
    took_a_place = {catalogue.names[one] for one in catalogue.replaced}
    return {one.location.file for one in complaints} & every or took_a_place & every or every


def _texts_in(folders: Iterable[Path], left_out: list[Complaint]) -> dict[str, str]:
    found = {f"{folder.absolute()}/{name}": path for folder in folders for name, path in _files_below(folder)}
    return _texts(found, left_out)


def _files_below(folder: Path) -> Iterable[tuple[str, Path]]:
    paths = sorted([*folder.rglob("*.yaml"), *folder.rglob("*.yml")]) if folder.is_dir() else [folder]
    return ((path.relative_to(folder).as_posix(), path) for path in paths)


def _texts(files: dict[str, Path], left_out: list[Complaint]) -> dict[str, str]:
    """The texts of files by their names; those that cannot be read are left out."""
    texts: dict[str, str] = {}
    for name, path in files.items():
        try:
            texts[name] = text_of(path)
        except FileProblems as problems:
            left_out.extend(problems.complaints)
    return texts
