"""Do the files of a workshop fit each other? Names that lead nowhere, routes that could never open a live step.

Complaints carry file, line and column, and where one is near, the spelling that was probably meant.
"""

from collections.abc import Iterable, Iterator, Mapping

from benchapp.errors import BenchError
from benchapp.files import Complaint, Document, FileProblems, nearest
from benchapp.quantities import Kind
from benchapp.sequences.catalogue import Catalogue
from benchapp.sequences.fact_checks import facts_known
from benchapp.sequences.language import MeasureStep, RouteFile, SequenceFile, id_of
from benchapp.sequences.part_names import parts_known
from benchapp.sequences.plan import make_plan
from benchapp.sequences.planned import WAY_BACK, Plan, Role, Supply, Workshop
from benchapp.sequences.step_checks import check_steps, reading_kind
from benchapp.sequences.walking import Known
from benchapp.wiring import WiringProblem, compile_circuit
from benchapp.wiring.equipment import SwitchPart

Papers = Mapping[tuple[str, str], Document]
"""The document behind each model, by what it is and its id."""

NEEDED = (Role.visual, Role.plug, Role.polarity, Role.primary, Role.insulation)
"""Roles without which no mains equipment ever opens (class and construction may add more)."""


def check_references(catalogue: Catalogue, papers: Papers) -> list[Complaint]:
    """Every complaint about how the files fit together."""
    facts, readings, switches = facts_known(catalogue), _readings(catalogue), _switches(catalogue)
    complaints = [*_check_circuits(catalogue, papers)]
    for sequence in catalogue.sequences.values():
        document = papers["sequence", sequence.sequence]
        parts = parts_known(catalogue, sequence)
        known = Known(facts=facts, readings=readings, parts=parts, switches=switches)
        complaints.extend(check_steps(sequence, document, known))
        complaints.extend(_check_header(catalogue, sequence, document))
        complaints.extend(_check_cases(catalogue, sequence, document))
    for route in catalogue.routes.values():
        complaints.extend(_check_route(catalogue, route, papers["route", route.route], usable=not complaints))
    return complaints


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


def _missing(document: Document, key: tuple[str | int, ...], what: str, name: str, known: Iterable[str]) -> Complaint:
    names = sorted(known)
    return Complaint(
        place=document.place(key),
        what=f"there is no {what} “{name}”",
        expected="one of " + ", ".join(names[:12]) if names else "",
        nearest=nearest(name, names) or "",
    )


def _check_circuits(catalogue: Catalogue, papers: Papers) -> Iterator[Complaint]:
    for equipment in catalogue.equipment.values():
        document = papers["equipment", equipment.equipment]
        try:
            compile_circuit(equipment, catalogue.connectors)
        except WiringProblem as found:
            for one in found.problems:
                place = document.place(one.key)
                yield Complaint(place=place, what=one.what, expected=one.expected, nearest=one.nearest)


def _check_header(catalogue: Catalogue, sequence: SequenceFile, document: Document) -> Iterator[Complaint]:
    for number, name in enumerate(sequence.cautions):
        if name not in catalogue.cautions:
            yield _missing(document, ("cautions", number), "caution", name, catalogue.cautions)
    for number, name in enumerate(sequence.needs_before):
        if name not in catalogue.sequences:
            yield _missing(document, ("needs before", number), "sequence", name, catalogue.sequences)


def _check_cases(catalogue: Catalogue, sequence: SequenceFile, document: Document) -> Iterator[Complaint]:
    steps = {id_of(step) for step in sequence.steps}
    for number, case in enumerate(sequence.worked_cases):
        key = ("worked cases", number)
        if case.equipment not in catalogue.equipment:
            yield _missing(document, (*key, "equipment"), "equipment", case.equipment, catalogue.equipment)
        if case.meter and case.meter not in catalogue.meters:
            yield _missing(document, (*key, "meter"), "meter", case.meter, catalogue.meters)
        for line, given in enumerate(case.answers):
            if given.step.partition("/")[0] not in steps:
                yield _missing(document, (*key, "answers", line, "step"), "step", given.step, steps)


# Routes ---------------------------------------------------------------------------------------------------------------


def _check_route(catalogue: Catalogue, route: RouteFile, document: Document, *, usable: bool) -> Iterator[Complaint]:
    missing = list(_check_route_names(catalogue, route, document))
    yield from missing
    if missing:
        return
    yield from _check_order(catalogue, route, document)
    back = list(_check_way_back(catalogue, route, document))
    yield from back
    if back or not usable:
        return
    for number, equipment in enumerate(route.equipment):
        yield from _check_plan(catalogue, route, document, number, equipment)


def _check_route_names(catalogue: Catalogue, route: RouteFile, document: Document) -> Iterator[Complaint]:
    for number, name in enumerate(route.equipment):
        if name not in catalogue.equipment:
            yield _missing(document, ("equipment", number), "equipment", name, catalogue.equipment)
    for number, name in enumerate(route.sequences):
        if name not in catalogue.sequences:
            yield _missing(document, ("sequences", number), "sequence", name, catalogue.sequences)
        elif name in route.sequences[:number]:
            place = document.place(("sequences", number))
            yield Complaint(place=place, what=f"“{name}” is in this route already", expected="each sequence once")
    if route.way_back and route.way_back not in catalogue.sequences:
        yield _missing(document, ("way back",), "sequence", route.way_back, catalogue.sequences)


def _check_order(catalogue: Catalogue, route: RouteFile, document: Document) -> Iterator[Complaint]:
    for number, name in enumerate(route.sequences):
        for before in catalogue.sequences[name].needs_before:
            if before not in route.sequences[:number]:
                place = document.place(("sequences", number))
                yield Complaint(place=place, what=f"“{name}” needs “{before}” before it", expected=f"“{before}” above")


def _check_way_back(catalogue: Catalogue, route: RouteFile, document: Document) -> Iterator[Complaint]:
    sequences = [catalogue.sequences[name] for name in route.sequences]
    if not any(_energises(sequence) for sequence in sequences):
        return
    place = document.place(("way back",) if route.way_back else ("sequences",))
    if route.way_back is None:
        what = "this route has live or insulation steps and no way back"
        yield Complaint(place=place, what=what, expected="way back: a sequence with plug out, discharged, voltage low")
        return
    back = catalogue.sequences[route.way_back]
    shown = [role for step in back.steps for role in step.shows if role in WAY_BACK]
    for role in WAY_BACK:
        if role not in shown:
            yield Complaint(place=place, what=f"no step of “{back.sequence}” shows “{role}”: it is no way back")
    if back.fits or any(step.when for step in back.steps if set(step.shows) & set(WAY_BACK)):
        what = f"“{back.sequence}” leaves the way back out on some units"
        yield Complaint(place=place, what=what, expected="no 'fits', and no 'when' on the steps that show it")
    if [role for role in WAY_BACK if role in shown] != list(dict.fromkeys(shown)):
        yield Complaint(place=place, what=f"“{back.sequence}” is out of order", expected=", then ".join(WAY_BACK))


def _energises(sequence: SequenceFile) -> bool:
    tests = any(isinstance(step, MeasureStep) and step.function == "insulation" for step in sequence.steps)
    return sequence.supply is not Supply.none or tests


def _check_plan(
    catalogue: Catalogue, route: RouteFile, document: Document, number: int, equipment: str
) -> Iterator[Complaint]:
    place = document.place(("equipment", number))
    try:
        plan = make_plan(catalogue, route.route, equipment, Workshop(region=_any_region(catalogue)))
    except FileProblems as problems:
        yield from problems.complaints
    except BenchError as problem:
        yield Complaint(place=place, what=f"this route cannot be taken with {equipment}: {problem.sentence}")
    else:
        for role in _never_shown(plan):
            what = f"no step of this route shows “{role}” on {equipment}: its live steps would never open"
            yield Complaint(place=place, what=what, expected=f"a step with shows: [{role}]")


def _any_region(catalogue: Catalogue) -> str:
    usual = Workshop().region
    return usual if usual in catalogue.limits else next(iter(catalogue.limits), usual)


def _never_shown(plan: Plan) -> Iterator[Role]:
    if not plan.mains_fed or all(stage.supply is Supply.none for stage in plan.stages):
        return
    shown = {role for step in plan.steps for role in step.shows}
    needed = [*NEEDED]
    if plan.facts.get("class") == "I":
        needed.append(Role.earth)
    if plan.facts.get("voltage selector"):
        needed.append(Role.selector)
    if plan.facts.get("internal fuse"):
        needed.append(Role.internal_fuse)
    if any(stage.supply is Supply.full for stage in plan.stages):
        needed.append(Role.limited_power)
    yield from (role for role in needed if role not in shown)
