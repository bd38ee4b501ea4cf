"""Complaints about routes: names that lead nowhere, a wrong order, no way back from power, steps that never open."""

from collections.abc import Iterable, Iterator

from benchapp.errors import BenchError
from benchapp.files.document import Document
from benchapp.files.locations import Complaint, FileProblems, Key, Location
from benchapp.files.spelling import nearest
from benchapp.sequences.checks.facts import check_wanted
from benchapp.sequences.checks.sequence_context import CheckContext, SequenceContext
from benchapp.sequences.checks.steps import readings_named, tests_insulation
from benchapp.sequences.language.models import RouteFile, SequenceFile
from benchapp.sequences.language.vocabulary import WAY_BACK, Role, Supply
from benchapp.sequences.planning.applying import applies
from benchapp.sequences.planning.catalogue import Catalogue, Documents
from benchapp.sequences.planning.limiters import goes_by_resistance
from benchapp.sequences.planning.paths import Path
from benchapp.sequences.planning.plan import make_plan
from benchapp.sequences.planning.planned import Plan, PlannedStep, Workshop
from benchapp.wiring.model.touchable import without_earth_test, without_insulation_test

TESTED = (
    (Role.earth, without_earth_test, f"path: {Path.earth_to_metal}"),
    (Role.insulation, without_insulation_test, f"path: {Path.mains_to_metal}, or {Path.mains_to_outputs}"),
)
NEEDED = (Role.visual, Role.plug, Role.polarity, Role.primary, Role.insulation)
"""Roles without which no mains equipment ever opens (class and construction may add more)."""


def check_route(
    catalogue: Catalogue, documents: Documents, route: RouteFile, known: CheckContext
) -> Iterator[Complaint]:
    """Complaints about a route by itself: its names, its order, its way back."""
    document = documents["route", route.route]
    if not route.equipment and not route.fits:
        expected = "equipment: [an id], or fits: {mains fed: true}"
        yield document.complaint((), "this route names no equipment", expected)
    yield from check_wanted(SequenceContext(document=document, known=known), ("fits",), route.fits)
    lost = list(_check_route_names(catalogue, route, document))
    yield from lost
    if lost:
        return
    yield from _check_order(catalogue, route, document)
    yield from _check_readings(catalogue, documents, route)
    yield from _check_way_back(catalogue, route, document)


def check_plans(catalogue: Catalogue, documents: Documents) -> Iterator[Complaint]:
    """Complaints about a route with each of its designs, once every file is good by itself."""
    for name in catalogue.equipment:
        for route in catalogue.routes_for(name):
            model, document = catalogue.routes[route], documents["route", route]
            if name in model.equipment:
                location = document.location(("equipment", model.equipment.index(name)))
            else:
                location = documents["equipment", name].location(("equipment",))
            yield from _check_plan(catalogue, model, location, name)


def designs_met(catalogue: Catalogue) -> dict[str, tuple[str, ...]]:
    """The designs that each sequence is to be done on: by a route, by its `fits`, by its worked cases."""
    met: dict[str, dict[str, None]] = {name: {} for name in catalogue.sequences}
    for equipment in catalogue.equipment:
        for route in catalogue.routes_for(equipment):
            model = catalogue.routes[route]
            for name in (*model.sequences, *((model.way_back,) if model.way_back else ())):
                met.get(name, {})[equipment] = None
    for name, sequence in catalogue.sequences.items():
        named = [str(one) for one in sequence.fits.get("design", ())]
        met[name].update(dict.fromkeys((*named, *(case.equipment for case in sequence.worked_cases))))
    return {name: tuple(found) for name, found in met.items()}


def missing(document: Document, key: Key, what: str, name: str, known: Iterable[str]) -> Complaint:
    """The complaint about a name that leads nowhere."""
    names = sorted(known)
    near = nearest(name, names) or ""
    expected = "one of " + ", ".join(names[:12]) if names and not near else ""
    return document.complaint(key, f"there is no {what} “{name}”", expected, near)


def _check_route_names(catalogue: Catalogue, route: RouteFile, document: Document) -> Iterator[Complaint]:
    for number, name in enumerate(route.equipment):
        if name not in catalogue.equipment:
            yield missing(document, ("equipment", number), "equipment", name, catalogue.equipment)
    for number, name in enumerate(route.sequences):
        if name not in catalogue.sequences:
            yield missing(document, ("sequences", number), "sequence", name, catalogue.sequences)
        elif name in route.sequences[:number]:
            what = f"“{name}” is in this route already"
            yield document.complaint(("sequences", number), what, "each sequence once")
    if route.way_back and route.way_back not in catalogue.sequences:
        yield missing(document, ("way back",), "sequence", route.way_back, catalogue.sequences)


def _check_order(catalogue: Catalogue, route: RouteFile, document: Document) -> Iterator[Complaint]:
    for number, name in enumerate(route.sequences):
        for before in catalogue.sequences[name].needs_before:
            if before not in route.sequences[:number]:
                what = f"“{name}” needs “{before}” before it"
                yield document.complaint(("sequences", number), what, f"“{before}” above")


def _check_readings(catalogue: Catalogue, documents: Documents, route: RouteFile) -> Iterator[Complaint]:
    """A formula may rest on a reading of another sequence only where that one comes before on the route."""
    for number, name in enumerate(route.sequences):
        before = route.sequences[:number]
        for key, named in readings_named(catalogue.sequences[name]):
            sequence = named.partition(".")[0]
            if sequence != name and sequence in catalogue.sequences and sequence not in before:
                what = f"“{named}” is not read before “{name}” on the route {route.route}"
                yield documents["sequence", name].complaint(key, what, f"“{sequence}” before it on the route")


def _check_way_back(catalogue: Catalogue, route: RouteFile, document: Document) -> Iterator[Complaint]:
    sequences = [catalogue.sequences[name] for name in route.sequences]
    if not any(_energises(sequence) for sequence in sequences):
        return
    if route.way_back is None:
        what = "this route has live or insulation steps and no way back"
        expected = "way back: a sequence with plug out, discharged, voltage low"
        yield document.complaint(("sequences",), what, expected)
        return
    back, key = catalogue.sequences[route.way_back], ("way back",)
    shown = [role for step in back.steps for role in step.shows if role in WAY_BACK]
    for role in WAY_BACK:
        if role not in shown:
            yield document.complaint(key, f"no step of “{back.sequence}” shows “{role}”: it is no way back")
    if back.fits or any(step.when for step in back.steps if set(step.shows) & set(WAY_BACK)):
        what = f"“{back.sequence}” leaves the way back out on some units"
        yield document.complaint(key, what, "no 'fits', and no 'when' on the steps that show it")
    if [role for role in WAY_BACK if role in shown] != list(dict.fromkeys(shown)):
        yield document.complaint(key, f"“{back.sequence}” is out of order", ", then ".join(WAY_BACK))


def _energises(sequence: SequenceFile) -> bool:
    return sequence.supply is not Supply.none or tests_insulation(sequence)


def _check_plan(catalogue: Catalogue, route: RouteFile, location: Location, equipment: str) -> Iterator[Complaint]:
    try:
        plan = make_plan(catalogue, route.route, equipment, Workshop(region=any_region(catalogue)))
    except FileProblems as problems:
        yield from problems.complaints
    except BenchError as problem:
        yield Complaint(
            location=location, what=f"the route {route.route} cannot be taken with {equipment}: {problem.sentence}"
        )
    else:
        for role in _never_shown(plan):
            what = f"no step of the route {route.route} shows “{role}” on {equipment}: its live steps would never open"
            yield Complaint(location=location, what=what, expected=f"a step with shows: [{role}]")
        yield from _untested_metal(plan, location)
        yield from _short_way_back(plan, location)


def _short_way_back(plan: Plan, location: Location) -> Iterator[Complaint]:
    """Whatever its id, a way back reads what the design asks for: else nobody may touch the unit again."""
    if plan.back is not None and plan.way_back_leaves_out:
        what = f"the way back “{plan.back.id}” is not whole on {plan.equipment_id}: {plan.way_back_leaves_out}"
        yield Complaint(location=location, what=what, expected="what make-safe does, or way back: make-safe")


def _untested_metal(plan: Plan, location: Location) -> Iterator[Complaint]:
    """Every point of bare metal, earthed terminal and output is on a step that tests it: else no mains ever comes."""
    if not plan.mains_fed or all(stage.supply is Supply.none for stage in plan.stages):
        return
    for role, left_out, path in TESTED:
        ends = {end for step in plan.showing(role) if _is_for_the_design(plan, step) for end in step.terminals}
        lost = left_out(plan.circuit, ends) if plan.showing(role) else ()
        if lost and not (role is Role.earth and plan.facts.get("class") != "I"):
            where = f"{plan.circuit.say(lost[0])} of {plan.equipment_id}"
            what = f"no step of the route {plan.route} tests {role} at {where}"
            yield Complaint(location=location, what=what, expected=f"a step that shows {role} with {path}")


def _is_for_the_design(plan: Plan, step: PlannedStep) -> bool:
    return applies(step.when, plan.facts)[0] is not False


def any_region(catalogue: Catalogue) -> str:
    """The region by whose limits files are held against each other."""
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
    if any(stage.supply is Supply.full for stage in plan.stages) and not goes_by_resistance(plan):
        needed.append(Role.limited_power)
    yield from (role for role in needed if role not in shown)
