"""Which hazards of old equipment a design is asked about: by what it names, by its age, its facts and its parts."""

from collections.abc import Iterator, Mapping

from benchapp.sequences.language.hazards import FoundIn, OldHazard
from benchapp.sequences.language.vocabulary import FactValue
from benchapp.sequences.planning.applying import applies
from benchapp.wiring.model.equipment import Equipment


def hazards_asked(
    equipment: Equipment, facts: Mapping[str, FactValue], hazards: Mapping[str, OldHazard]
) -> tuple[OldHazard, ...]:
    """The hazards that are looked for on each unit of the design, those that it names first."""
    return tuple(one for one in _concerning(equipment, facts, hazards) if not one.presumed)


def hazards_presumed(
    equipment: Equipment, facts: Mapping[str, FactValue], hazards: Mapping[str, OldHazard]
) -> tuple[OldHazard, ...]:
    """The hazards that are taken to be in each unit of the design, whatever anybody sees of it."""
    return tuple(one for one in _concerning(equipment, facts, hazards) if one.presumed)


def _concerning(
    equipment: Equipment, facts: Mapping[str, FactValue], hazards: Mapping[str, OldHazard]
) -> Iterator[OldHazard]:
    named = [hazards[name] for name in equipment.hazards if name in hazards]
    yield from named
    for one in sorted(hazards.values(), key=lambda one: one.hazard):  # the order is part of what a step asks
        if one not in named and may_hold(equipment, facts, one.found_in):
            yield one


def may_hold(equipment: Equipment, facts: Mapping[str, FactValue], found_in: FoundIn) -> bool:
    """Whether a design may hold what is found there: of its age or of none known, with such facts and parts.

    What nobody knows of a design speaks for the hazard, not against it.
    """
    kinds = {part.kind.name for part in equipment.circuit}
    unknown = not equipment.design_known
    parts = unknown or not (found_in.only_named or found_in.parts) or bool(kinds & set(found_in.parts))
    return parts and _is_of_the_age(equipment, found_in) and applies(found_in.when, facts)[0] is not False


def _is_of_the_age(equipment: Equipment, found_in: FoundIn) -> bool:
    if equipment.made is None:
        return True
    first, last = equipment.made.first, equipment.made.last
    return (found_in.from_ is None or last >= found_in.from_) and (found_in.until is None or first <= found_in.until)
