"""The shipped files and an author's own, loaded with their cross-references checked."""

from pathlib import Path

from benchapp.files.beside import own_files
from benchapp.files.locations import Complaint, FileProblems
from benchapp.sequences.checks.references import check_references
from benchapp.sequences.planning.catalogue import Catalogue, is_shipped, read_texts, text_of, texts_of


def load_with_own(folder: Path, *folders: Path) -> tuple[Catalogue, tuple[Complaint, ...]]:
    """The shipped files, those of `folders` (which win by id) and an author's own out of `folder`.

    Of the author's own those with complaints are left out, and handed back. Raises FileProblems for complaints about
    the others.
    """
    texts, left_out = texts_of(*folders), list[Complaint]()
    own = {str(path): path for path in own_files(folder) if not is_shipped(path)}
    own_texts: dict[str, str] = {}
    for name, path in own.items():
        try:
            own_texts[name] = text_of(path)
        except FileProblems as problems:
            left_out.extend(problems.complaints)
    while True:
        catalogue, documents, complaints = read_texts({**texts, **own_texts}, own_texts)
        complaints = complaints or check_references(catalogue, documents)
        if not complaints:
            return catalogue, tuple(left_out)
        wrong = {one.location.file for one in complaints} & own_texts.keys() or set(own_texts)
        if not wrong:
            raise FileProblems(complaints)
        left_out.extend(one for one in complaints if one.location.file in wrong or wrong == set(own_texts))
        own_texts = {name: text for name, text in own_texts.items() if name not in wrong}
