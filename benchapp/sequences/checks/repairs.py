"""Complaints about lists of repairs: cautions and facts that no file has, and entries that never come to be."""

from collections.abc import Collection, Iterator
from pathlib import Path

from benchapp.files.document import Document
from benchapp.files.locations import Complaint
from benchapp.files.shipped import is_shipped
from benchapp.files.spelling import nearest
from benchapp.sequences.checks.routes import missing
from benchapp.sequences.language.repairs import SHIPPED, Fits, UsualRepairs
from benchapp.sequences.planning.catalogue import Catalogue, Documents


def check_repairs(catalogue: Catalogue, documents: Documents, facts: Collection[str]) -> Iterator[Complaint]:
    """Every complaint about lists of repairs; `facts` are those that a unit can have."""
    for name, lists in catalogue.repairs.items():
        document = documents["repairs", name]
        if name == SHIPPED and not _is_shipped(document.source):
            what = f"“{SHIPPED}” is the shipped list, which stands behind every list of a workshop"
            yield document.complaint(("repairs",), what, "an id of its own")
        yield from _check_cautions(catalogue, lists, document)
        yield from _check_facts(lists, document, facts)
        yield from _check_order(lists, document)


def _is_shipped(source: str) -> bool:
    return source == f"resources/repairs/{SHIPPED}.yaml" or is_shipped(Path(source))


def _check_cautions(catalogue: Catalogue, lists: UsualRepairs, document: Document) -> Iterator[Complaint]:
    always = (("cautions", key, n) for key in ("mains", "no mains") for n, _ in enumerate(_said(lists, key)))
    works = (("work", w, "cautions", n) for w, work in enumerate(lists.work) for n, _ in enumerate(work.cautions))
    named = [
        *((key, _said(lists, key[1])[key[2]]) for key in always),
        *((key, lists.work[key[1]].cautions[key[3]]) for key in works),
    ]
    for key, name in named:
        if name not in catalogue.cautions:
            yield missing(document, key, "caution", name, catalogue.cautions)


def _said(lists: UsualRepairs, key: str) -> tuple[str, ...]:
    return lists.cautions.mains if key == "mains" else lists.cautions.no_mains


def _check_facts(lists: UsualRepairs, document: Document, facts: Collection[str]) -> Iterator[Complaint]:
    for number, work in enumerate(lists.work):
        for name in work.fits.facts:
            if name not in facts:
                key, near = ("work", number, "fits", "facts", name), nearest(name, facts) or ""
                yield document.complaint(key, f"no unit has a fact “{name}”", nearest=near)


def _check_order(lists: UsualRepairs, document: Document) -> Iterator[Complaint]:
    """An entry behind one that fits everything never comes to be."""
    for number, work in enumerate(lists.work[:-1]):
        if work.fits == Fits():
            what = "this fits every fault, so nothing behind it counts"
            yield document.complaint(("work", number, "fits"), what, "such an entry last")
            return
