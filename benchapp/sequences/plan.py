"""From pinned files to the plan of a run: stages, steps, bands from the wiring, roles that qualify."""

from benchapp.sequences.catalogue import Catalogue
from benchapp.sequences.planned import Plan, Workshop


def make_plan(catalogue: Catalogue, route_id: str, equipment_id: str, workshop: Workshop) -> Plan:
    """The plan of a route over one piece of equipment; raises SequenceProblem when they do not fit."""
    ...
