"""The shipped files and a workshop's own, loaded with their cross-references checked.

What is wrong with an own file, or looser than what is shipped, never stands in the way of the others: it is left out
and named, and the shipped file holds.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from pathlib import Path

from benchapp.errors import BenchError
from benchapp.files.beside import own_files
from benchapp.files.locations import Complaint, FileProblems, Location
from benchapp.files.shipped import is_shipped
from benchapp.files.text import read_text
from benchapp.sequences.checks.own_files import check_own
from benchapp.sequences.checks.references import check_references
from benchapp.sequences.planning.catalogue import Catalogue, read_texts, texts_of

Texts = Mapping[str, str]
"""Texts of files by their names."""


def load_with_own(folder: Path, *folders: Path) -> tuple[Catalogue, tuple[Complaint, ...]]:
    """The shipped files, those of `folders` and an author's own out of `folder`, the later winning by id.

    Of all but the shipped ones those with complaints are left out, and handed back. Raises FileProblems where what is
    shipped does not hold by itself.
    """
    beside, unread = read_own({str(path): path for path in own_files(folder) if not is_shipped(path)})
    elsewhere, unread_there = read_own(dict(_files_in(folders)))
    own, left_out, shipped = {**elsewhere, **beside}, [*unread_there, *unread], texts_of()
    while True:
        catalogue, complaints = _checked(shipped, own, beside)
        if not complaints:
            return catalogue, tuple(left_out)
        if not own:
            raise FileProblems(complaints)
        named = {one.location.file for one in complaints} & own.keys()
        wrong = named or _at_fault(shipped, own, beside, catalogue)
        left_out.extend(one for one in complaints if one.location.file in named)
        left_out.extend(_does_not_fit(name, complaints) for name in own if name in wrong - named)
        own = {name: text for name, text in own.items() if name not in wrong}
        beside = {name: text for name, text in beside.items() if name not in wrong}


def read_own(files: Mapping[str, Path]) -> tuple[dict[str, str], list[Complaint]]:
    """The texts of own files by their names, and complaints about those that cannot be read."""
    texts, complaints = dict[str, str](), list[Complaint]()
    for name, path in files.items():
        try:
            texts[name] = read_text(path)
        except FileProblems as problems:
            complaints.extend(problems.complaints)
        except BenchError as problem:
            complaints.append(_about_the_whole(name, problem.sentence.rstrip(".")))
    return texts, complaints


def _checked(shipped: Texts, own: Texts, beside: Texts) -> tuple[Catalogue, list[Complaint]]:
    catalogue, complaints = _read_and_checked(tuple({**shipped, **own}.items()), tuple(beside))
    return catalogue, [*complaints]


@lru_cache(maxsize=8)
def _read_and_checked(
    texts: tuple[tuple[str, str], ...], beside: tuple[str, ...]
) -> tuple[Catalogue, Sequence[Complaint]]:
    """Kept by every letter of the texts: another workbook of the same place is opened with the same files."""
    catalogue, documents, complaints = read_texts(dict(texts), beside)
    return catalogue, complaints or [*check_own(catalogue, documents)] or check_references(catalogue, documents)


def _at_fault(shipped: Texts, own: Texts, beside: Texts, catalogue: Catalogue) -> set[str]:
    """The own files that make others wrong: one alone where leaving that out is enough; else those that took a shipped
    place; else all.

    Each is tried once, so that one bad file costs at most one check for each that there is.
    """
    for name in own:
        rest = {other: text for other, text in own.items() if other != name}
        if not _checked(shipped, rest, {other: text for other, text in beside.items() if other != name})[1]:
            return {name}
    return {catalogue.names[one] for one in catalogue.replaced} & own.keys() or set(own)


def _files_in(folders: Iterable[Path]) -> Iterator[tuple[str, Path]]:
    for folder in folders:
        paths = sorted([*folder.rglob("*.yaml"), *folder.rglob("*.yml")]) if folder.is_dir() else [folder]
        for path in paths:
            yield f"{folder.absolute()}/{path.relative_to(folder).as_posix()}", path


def _does_not_fit(name: str, complaints: Sequence[Complaint]) -> Complaint:
    return _about_the_whole(name, f"with this file others no longer fit: {complaints[0]}")


def _about_the_whole(name: str, what: str) -> Complaint:
    return Complaint(location=Location(file=name, line=1, column=1), what=what)
