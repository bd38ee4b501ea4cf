"""Complaints about hazards of old equipment: regions and facts that there are not, years that end before they begin."""

from collections.abc import Collection, Iterator

from benchapp.files.document import Document
from benchapp.files.locations import Complaint
from benchapp.files.spelling import nearest
from benchapp.sequences.checks.routes import missing
from benchapp.sequences.language.hazards import ELSEWHERE, OldHazard
from benchapp.sequences.planning.catalogue import Catalogue, Documents


def check_hazards(catalogue: Catalogue, documents: Documents, facts: Collection[str]) -> Iterator[Complaint]:
    """Every complaint about hazards, and about equipment that names them; `facts` are those that a unit can have."""
    for name, hazard in catalogue.hazards.items():
        document = documents["hazard", name]
        yield from _check_where(hazard, document, facts)
        yield from _check_sale(catalogue, hazard, document)
    for name, equipment in catalogue.equipment.items():
        for number, named in enumerate(equipment.hazards):
            if named not in catalogue.hazards:
                document = documents["equipment", name]
                yield missing(document, ("hazards", number), "hazard", named, catalogue.hazards)


def _check_where(hazard: OldHazard, document: Document, facts: Collection[str]) -> Iterator[Complaint]:
    found = hazard.found_in
    if found.from_ is not None and found.until is not None and found.until < found.from_:
        what = f"{found.until} lies before {found.from_}"
        yield document.complaint(("found in", "until"), what, f"{found.from_} or later")
    for name in found.when:
        if name not in facts:
            near = nearest(name, facts) or ""
            yield document.complaint(("found in", "when", name), f"no unit has a fact “{name}”", nearest=near)


def _check_sale(catalogue: Catalogue, hazard: OldHazard, document: Document) -> Iterator[Complaint]:
    for region in hazard.sale:
        if region not in (ELSEWHERE, *catalogue.limits):
            yield missing(document, ("sale", region), "region", region, (*catalogue.limits, ELSEWHERE))
    if hazard.presumed and hazard.shuts:
        what = "what is taken to be in every such unit cannot shut anything: no unit would come through"
        yield document.complaint(("shuts",), what, "presumed: false, or nothing under shuts")
    if not hazard.presumed and not hazard.shuts:
        yield document.complaint(
            ("hazard",), "it shuts nothing", "shuts: [work], [opening] or [mains], or presumed: true"
        )
