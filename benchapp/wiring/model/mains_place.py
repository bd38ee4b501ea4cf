"""Where a part lies with regard to the mains: across live and neutral, or between the mains and what can be touched."""

from enum import StrEnum

from benchapp.wiring.model.circuit import Branch, Circuit
from benchapp.wiring.model.groups import conducts, groups_of


class MainsPlace(StrEnum):
    """Where a failing part lets the mains go."""

    across_mains = "across mains"
    """between live and neutral, or across a contact in one of them: fire"""
    mains_to_metal = "mains to metal"
    """between the mains and an earth, bare metal or an output: shock"""


def mains_place(circuit: Circuit, part: str) -> MainsPlace | None:
    """The place of a part of a mains-fed circuit; None for one that is at neither place.

    Switches count as closed. What a winding or a resistor joins to live or neutral counts as mains where the other
    end can be touched, and does not where both ends are inside: a reservoir behind a rectifier is not across the mains.
    """
    if circuit.supply is None:
        return None
    branches = [branch for branch in circuit.branches if branch.part == part]
    if any(_is_across(circuit, branch) for branch in branches):
        return MainsPlace.across_mains
    return MainsPlace.mains_to_metal if any(_is_to_metal(circuit, branch) for branch in branches) else None


def _is_across(circuit: Circuit, branch: Branch) -> bool:
    group = groups_of(circuit, lambda one: one.kind.carries_voltage_on)
    return {group[branch.a], group[branch.b]} <= _mains(circuit, group)


def _is_to_metal(circuit: Circuit, branch: Branch) -> bool:
    group = groups_of(circuit, conducts)
    mains, touched = _mains(circuit, group), _touched(circuit, group)
    a, b = group[branch.a], group[branch.b]
    return (a in mains and b in touched - mains) or (b in mains and a in touched - mains)


def _mains(circuit: Circuit, group: dict[str, int]) -> set[int]:
    assert circuit.supply is not None
    return {group[circuit.supply.live], group[circuit.supply.neutral]}


def _touched(circuit: Circuit, group: dict[str, int]) -> set[int]:
    outputs = [end for plug in circuit.output_connectors for end in plug.terminals]
    earths = [end for branch in circuit.branches if branch.kind.protects for end in (branch.a, branch.b)]
    return {group[node] for node in (*circuit.exposed, *outputs, *earths) if node in group}
