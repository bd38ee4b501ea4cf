"""A digest of everything about a step that its answer rests on: whether it is still the step that was answered.

An answer counts only for the step as it was: another revision that asks less of the same name inherits nothing from it.
What a step demands enters, when it is done at all, and for a reading the circuit and the region's limits behind its
band. Words of advice (`why`), titles and the order of the route do not.
"""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from benchapp.files.models import FileModel
from benchapp.sequences.language.models import Step
from benchapp.sequences.language.vocabulary import FactValue, Role, Supply
from benchapp.sequences.planning.planned_kind import PlannedKind

if TYPE_CHECKING:
    from pydantic import BaseModel

    from benchapp.judgement.limits.profiles import LimitProfile
    from benchapp.sequences.planning.planned import PlannedStep
    from benchapp.wiring.model.equipment import Equipment

LENGTH = 16
"""hex digits kept: 64 bits are far more than the revisions that a workshop ever writes"""
VERSION = "1:"
"""of the rules by which digests are made, before the digits"""
PROSE = frozenset({"title", "say", "notes", "note", "caution", "status", "source", "stated"})
"""keys of equipment and limits whose words change no judgement"""
OF_THE_REGION = frozenset({"limit voltage-low", "limit mains-voltage", "limit plug-pins"})
"""limits that are the same for every design"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Grounds:
    """What readings of a run rest on beside their steps, as digests: the circuit, and the region's limits."""

    circuit: str
    limits: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Demands:
    """What the plan has made of a step: its meter function, band as written, terminals, roles, supply, when it is."""

    function: str
    accept: str
    terminals: tuple[str, ...]
    shows: frozenset[Role]
    supply: Supply
    when: Mapping[str, tuple[FactValue, ...]]
    overdue_refused: bool = False


def grounds_of(equipment: "Equipment", profile: "LimitProfile") -> Grounds:
    """Digests of one design and one region, worked out once for a plan."""
    return Grounds(
        circuit=_hashed(_without_prose(_as_written(equipment))),
        limits=_hashed(_without_prose(_as_written(profile))),
    )


def digest_of(model: Step, demands: Demands, grounds: Grounds) -> str:
    """The version, then sixteen hex digits of SHA-256 over what the step demands and what its answer rests on."""
    kind = PlannedKind.of(model)
    judged = bool(demands.function or demands.accept)
    said = {
        "kind": kind.name,
        "function": demands.function,
        "accept": demands.accept,
        "set up": list(model.set_up),
        "terminals": list(demands.terminals),
        "shows": sorted(role.value for role in demands.shows),
        "supply": demands.supply.value,
        "opens": list(model.opens),
        **{key.replace("_", " "): _plain(getattr(model, key)) for key in kind.digest_keys},
        "when": {name: list(wanted) for name, wanted in demands.when.items()},
        "say": model.say if not demands.terminals else "",
        "circuit": grounds.circuit if judged and demands.accept not in OF_THE_REGION else "",
        "limits": grounds.limits if judged else "",
        **({"overdue meters": "refused"} if demands.overdue_refused else {}),
    }
    return VERSION + _hashed(said)


def _plain(value: Any) -> Any:  # noqa: ANN401 - what any key holds
    return (
        [_as_written(one) if isinstance(one, FileModel) else one for one in value]
        if isinstance(value, tuple)
        else value
    )


def _as_written(model: "BaseModel") -> dict[str, Any]:
    """What was written, and no more: a key that models of another day have beside these changes nothing."""
    return model.model_dump(mode="json", exclude_defaults=True, warnings=False)


def _hashed(said: object) -> str:
    text = json.dumps(said, sort_keys=True, ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()[:LENGTH]


def _without_prose(written: Any) -> Any:  # noqa: ANN401 - any JSON
    if isinstance(written, dict):
        return {key: _without_prose(value) for key, value in written.items() if key not in PROSE}
    return [_without_prose(one) for one in written] if isinstance(written, list) else written


def has_changed(step: "PlannedStep", content: Mapping[str, Any]) -> bool:
    """Whether the answer was given at another step of the same address."""
    return bool(content.get("step_digest") != step.digest)
