"""Complaints about how files fit each other: names that lead nowhere, steps that a design has no terminals for.

Complaints carry file, line and column, and where one is near, the spelling that was probably meant.
"""

from collections.abc import Iterator
from dataclasses import replace

from benchapp.files.document import Document
from benchapp.files.forms import ID
from benchapp.files.locations import Complaint, FileProblems, Mistake
from benchapp.quantities.dimensions import Kind
from benchapp.sequences.checks.checked_kind import reading_kind
from benchapp.sequences.checks.design_compatibility import check_anywhere, check_fit
from benchapp.sequences.checks.facts import check_case_facts, facts_known
from benchapp.sequences.checks.fit import Design
from benchapp.sequences.checks.hazards import check_hazards
from benchapp.sequences.checks.limits import check_sense, check_units
from benchapp.sequences.checks.part_names import parts_known
from benchapp.sequences.checks.repairs import check_repairs
from benchapp.sequences.checks.routes import any_region, check_plans, check_route, designs_met, missing
from benchapp.sequences.checks.sequence_context import CheckContext, SequenceContext
from benchapp.sequences.checks.steps import check_steps
from benchapp.sequences.language.models import SequenceFile, id_of
from benchapp.sequences.planning.catalogue import Catalogue, Documents
from benchapp.sequences.planning.plan import facts_of
from benchapp.wiring.checks.face import check_face
from benchapp.wiring.checks.written_circuit import compile_written
from benchapp.wiring.kinds.switch import SwitchPart


def check_references(catalogue: Catalogue, documents: Documents) -> list[Complaint]:
    """Every complaint about how the files fit together."""
    known = CheckContext(facts=facts_known(catalogue), readings=_readings(catalogue), switches=_switches(catalogue))
    designs, complaints = _designs(catalogue, documents)
    for sequence in catalogue.sequences.values():
        document = documents["sequence", sequence.sequence]
        mine = replace(known, parts=parts_known(catalogue, sequence))
        complaints.extend(check_steps(sequence, document, mine))
        complaints.extend(_check_header(catalogue, sequence, document))
        complaints.extend(_check_cases(catalogue, sequence, document, mine))
    for name, met in designs_met(catalogue).items():
        sequence, document = catalogue.sequences[name], documents["sequence", name]
        for design in (designs[one] for one in met if one in designs):
            complaints.extend(check_fit(sequence, document, design))
        if not met:
            complaints.extend(check_anywhere(sequence, document, designs.values()))
    for route in catalogue.routes.values():
        complaints.extend(check_route(catalogue, documents, route, known))
    complaints.extend(check_repairs(catalogue, documents, known.facts))
    complaints.extend(check_hazards(catalogue, documents, known.facts))
    if not complaints:
        complaints.extend(check_plans(catalogue, documents))
    return list(dict.fromkeys(complaints))


def _switches(catalogue: Catalogue) -> frozenset[str]:
    parts = (part for equipment in catalogue.equipment.values() for part in equipment.circuit)
    return frozenset(part.id for part in parts if isinstance(part, SwitchPart))


def _readings(catalogue: Catalogue) -> dict[str, Kind]:
    found = (
        (f"{sequence.sequence}.{id_of(step)}", reading_kind(step))
        for sequence in catalogue.sequences.values()
        for step in sequence.steps
    )
    return {name: kind for name, kind in found if kind is not None}


def _designs(catalogue: Catalogue, documents: Documents) -> tuple[dict[str, Design], list[Complaint]]:
    """Every design whose circuit holds, by its id, and the complaints about those that do not; then the faces."""
    designs: dict[str, Design] = {}
    complaints: list[Complaint] = []
    profile = catalogue.limits.get(any_region(catalogue))
    for name, equipment in catalogue.equipment.items():
        document = documents["equipment", name]
        complaints.extend(_check_id("equipment", name, document))
        try:
            circuit = compile_written(equipment, document, catalogue.connectors)
        except FileProblems as problems:
            complaints.extend(problems.complaints)
        else:
            facts = equipment.facts() if profile is None else facts_of(equipment, profile)
            designs[name] = Design(circuit=circuit, document=document, facts=facts)
    for name, connector in catalogue.connectors.items():
        complaints.extend(check_face(connector, documents["connector", name]))
    for name, region in catalogue.limits.items():
        complaints.extend(check_units(region, documents["limits", name]))
        complaints.extend(check_sense(region, documents["limits", name]))
    return designs, complaints


def _check_id(kind: str, name: str, document: Document) -> Iterator[Complaint]:
    """Equipment is named by routes, and so its id has the form that they can name."""
    try:
        ID.check(name)
    except Mistake as wrong:
        yield document.complaint((kind,), wrong.what, wrong.expected, wrong.nearest)


def _check_header(catalogue: Catalogue, sequence: SequenceFile, document: Document) -> Iterator[Complaint]:
    for number, name in enumerate(sequence.cautions):
        if name not in catalogue.cautions:
            yield missing(document, ("cautions", number), "caution", name, catalogue.cautions)
    for number, name in enumerate(sequence.needs_before):
        if name not in catalogue.sequences:
            yield missing(document, ("needs before", number), "sequence", name, catalogue.sequences)


def _check_cases(
    catalogue: Catalogue, sequence: SequenceFile, document: Document, known: CheckContext
) -> Iterator[Complaint]:
    context = SequenceContext(document=document, known=known)
    steps = {id_of(step) for step in sequence.steps}
    for number, case in enumerate(sequence.worked_cases):
        key = ("worked cases", number)
        if case.equipment not in catalogue.equipment:
            yield missing(document, (*key, "equipment"), "equipment", case.equipment, catalogue.equipment)
        if case.meter and case.meter not in catalogue.meters:
            yield missing(document, (*key, "meter"), "meter", case.meter, catalogue.meters)
        yield from check_case_facts(context, key, case)
        for line, given in enumerate(case.answers):
            if given.step.partition("/")[0] not in steps:
                yield missing(document, (*key, "answers", line, "step"), "step", given.step, steps)
            if given.meter and given.meter not in catalogue.meters:
                yield missing(document, (*key, "answers", line, "meter"), "meter", given.meter, catalogue.meters)
