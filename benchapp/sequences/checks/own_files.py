"""A workshop's own files held against the shipped ones whose ids they bear: stricter is taken, looser is refused.

A kind of file without a comparison here does not import: nothing shipped is replaced unseen.
"""

from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any, TypeVar

from benchapp.errors import BenchError
from benchapp.files.beside import files_by_id
from benchapp.files.document import Document
from benchapp.files.locations import Complaint, FileProblems
from benchapp.files.looser import Looser, keeps_words, lost_words
from benchapp.files.models import FileModel, build_model, read_model
from benchapp.files.reader import read_document
from benchapp.judgement.limits.stricter import looser_than
from benchapp.judgement.meters.claims import claims_more
from benchapp.sequences.checks.kept_hazards import lost_of_hazard, lost_of_its_hazards
from benchapp.sequences.checks.kept_steps import lost_of_route, lost_of_sequence
from benchapp.sequences.language.models import Caution
from benchapp.sequences.language.repairs import UsualRepairs
from benchapp.sequences.planning.catalogue import MODELS, Catalogue, Documents, with_true_sources
from benchapp.sequences.planning.fact_rules import stricter
from benchapp.wiring.model.equipment import Equipment
from benchapp.wiring.model.own_faces import changed_face
from benchapp.words import say

Model = TypeVar("Model", bound=FileModel)


def check_own(catalogue: Catalogue, documents: Documents) -> Iterator[Complaint]:
    """Complaints about own files that are looser than the shipped ones whose place they take."""
    for (kind, ident), shipped in catalogue.replaced.items():
        yield from complaints_about(kind, catalogue.model(kind, ident), shipped, documents[kind, ident])


def complaints_about(kind: str, own: object, shipped: object, document: Document) -> Iterator[Complaint]:
    """Everything in which a file of this kind is looser than the shipped one of the same id."""
    for one in COMPARED[kind](own, shipped):
        yield document.complaint(one.key, one.what, one.expected)


def read_own_file(path: Path, model: type[Model], ident: str) -> Model:
    """The checked model of an own file by itself; raises FileProblems where the shipped one of its id is stricter."""
    kind = next(name for name, one in MODELS.items() if one is model)
    document = read_document(path)
    own, shipped = build_model(document, model), None
    if ident in (known := files_by_id(kind)):
        shipped = read_model(known[ident], model)
        if complaints := [*complaints_about(kind, own, shipped, document)]:
            raise FileProblems(complaints)
    marked = with_true_sources(own, shipped, path.name)
    assert isinstance(marked, model)
    return marked


def _lost_of_caution(own: Caution, shipped: Caution) -> Iterator[Looser]:
    if not keeps_words(own.title, shipped.title):
        what = f"the title “{own.title}” does not say “{shipped.title}”, as shipped"
        yield Looser(key=("title",), what=what, expected=f"“{shipped.title}”")
    yield from lost_words(("words",), own.words, shipped.words)


def _milder_facts(own: Equipment, shipped: Equipment) -> Iterator[Looser]:
    """Facts of a shipped design that the own one states otherwise, so that less is asked of its units."""
    stated, said = shipped.facts(), own.facts()
    for name, theirs in stated.items():
        mine = said.get(name)
        if mine is None or stricter(name, theirs, mine) != mine:
            what = f"{name}: “{mine}” asks for less than the shipped “{theirs}”"
            yield Looser(key=(name,), what=what, expected=f"“{theirs}”, or an id of its own")
    yield from lost_of_its_hazards(own, shipped)


def _any_repairs(_own: UsualRepairs, _shipped: UsualRepairs) -> Iterator[Looser]:
    """A shipped list's id is refused by itself (`checks/repairs.py`)."""
    yield from ()


COMPARED: Mapping[str, Callable[[Any, Any], Iterator[Looser]]] = {
    "route": lost_of_route,
    "sequence": lost_of_sequence,
    "equipment": _milder_facts,
    "connector": changed_face,
    "meter": claims_more,
    "limits": looser_than,
    "caution": _lost_of_caution,
    "repairs": _any_repairs,
    "hazard": lost_of_hazard,
}
"""How each kind of file is held against the shipped one of the same id."""

if missing := MODELS.keys() - COMPARED.keys():
    raise BenchError(
        say(
            "Nobody has said how an own file is held against a shipped one: {listed}.",
            listed=", ".join(sorted(missing)),
        )
    )
