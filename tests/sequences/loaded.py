"""The shipped files and those of other folders as a catalogue, all of them good."""

from pathlib import Path

from benchapp.files.locations import FileProblems
from benchapp.sequences.checks.references import check_references
from benchapp.sequences.planning.catalogue import Catalogue, read_texts, texts_of


def load_catalogue(*folders: Path) -> Catalogue:
    """The shipped files and those of the given folders (which win by id); raises FileProblems with all complaints."""
    catalogue, documents, complaints = read_texts(texts_of(*folders))
    complaints = complaints or check_references(catalogue, documents)
    if complaints:
        raise FileProblems(complaints)
    return catalogue
