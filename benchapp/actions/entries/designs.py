"""Designs at intake: what a run on one pins, what is said of one here, and what is refused."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.problems import IntakeProblem
from benchapp.lots.listed_units import CLASS, CLASSES, ListedUnit
from benchapp.sequences.planning.entries import Entry, EntryKind
from benchapp.words import say
from benchapp.workbook.record.intake import Pins

if TYPE_CHECKING:
    from benchapp.sequences.planning.catalogue import Catalogue
    from benchapp.sequences.planning.planned import Plan


def pins_of(bench: Bench, route: str, equipment: str) -> Pins:
    """Every text that a run of that route on that design rests on, as it stands now."""
    catalogue = bench.catalogue
    texts = catalogue.texts_for(route, equipment, tuple(sorted(catalogue.meters)))
    return Pins(route=route, equipment=equipment, texts=texts)


def mains_said_of(plan: "Plan") -> tuple[str, ...]:
    """What is said at intake of a design whose voltage or frequency does not fit this place's mains; often nothing."""
    from benchapp.wiring.assembly.selecting import mains_cautions
    from benchapp.wiring.model.circuit import State

    return mains_cautions(plan.circuit, State(), plan.profile)


def mains_said_here(bench: Bench, catalogue: "Catalogue", equipment: str) -> tuple[str, ...]:
    """The same for a design that is not taken in yet, by its id; nothing where this place's limits cannot be read."""
    from benchapp.wiring.assembly.selecting import mains_cautions
    from benchapp.wiring.checks.compile import compile_circuit
    from benchapp.wiring.model.circuit import State

    profile, design = catalogue.limits.get(bench.workshop.region), catalogue.equipment.get(equipment)
    if profile is None or design is None:
        return ()
    circuit = compile_circuit(design, catalogue.connectors, accepted=True)
    return mains_cautions(circuit, State(), profile.supplied_by(bench.workshop.mains))


def facts_of_unknown(catalogue: "Catalogue", unit: ListedUnit) -> Mapping[str, str]:
    """Of a unit whose design nobody knows: its class, where it was told in words that a rule knows.

    Its plug is looked at on the bench, whatever was told.
    """
    told = CLASSES.get(unit.known.get(CLASS, "").strip().lower(), "")
    return {CLASS: told} if told and not catalogue.equipment[unit.equipment].design_known else {}


def own_texts_said(bench: Bench, plans: "Sequence[Plan]") -> str:
    """The safety texts and figures that are the workshop's own, and own files that were left out; often nothing."""
    from benchapp.sequences.planning.own_texts import named

    texts = tuple(dict.fromkeys(text for plan in plans for text in plan.own_texts))
    own = say(" By this workshop's own: {named}.", named=named(texts)) if texts else ""
    wrong = bench.left_out
    more = f" (and {len(wrong) - 1} more)" if len(wrong) > 1 else ""
    return (
        say("{own} Left out until it is mended: {wrong}{more}.", own=own, wrong=wrong[0], more=more) if wrong else own
    )


def refuse_facts(plan: "Plan", at: str, facts: Mapping[str, str | float | bool] | None) -> None:
    """Raise IntakeProblem for facts that no unit of that plan can have."""
    from benchapp.sequences.interlock.gate import refuse
    from benchapp.sequences.planning.entry_contents import FactContent

    if facts:
        entry = Entry(number=1, uuid="", kind=EntryKind.fact, at=at, by="", content=FactContent(facts=dict(facts)))
        complaint = refuse(plan, (), entry)
        if complaint:
            raise IntakeProblem(complaint)


def refuse_unknown(catalogue: "Catalogue", equipment: str, route: str) -> None:
    """Raise IntakeProblem for a design or a route that there is not."""
    from benchapp.files.spelling import nearest

    for what, asked, known in (("equipment", equipment, catalogue.equipment), ("route", route, catalogue.routes)):
        if asked not in known:
            near = nearest(asked, known)
            hint = (
                say("Did you mean {near}?", near=near)
                if near
                else say("Known are: {listed}.", listed=", ".join(sorted(known)) or "none")
            )
            raise IntakeProblem(say("There is no {what} {asked!r}. {hint}", what=what, asked=asked, hint=hint))
