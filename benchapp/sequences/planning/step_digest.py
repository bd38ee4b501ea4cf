"""Is this still the step that an answer was given at? A digest of everything about a step that its answer rests on.

An answer counts only for the step as it was: another revision that asks less of the same name inherits nothing from it.
What a step demands enters, when it is done at all, and for a reading the circuit and the region's limits behind its
band. Words of advice (`why`), titles and the order of the route do not.
"""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from math import isclose
from typing import TYPE_CHECKING, Any

from benchapp.sequences.language.models import (
    AskStep,
    ComputeStep,
    InspectStep,
    MeasureStep,
    PhotoStep,
    Step,
    WaitStep,
    WorkStep,
    kind_of,
)
from benchapp.sequences.language.vocabulary import FactValue, Role, Supply

if TYPE_CHECKING:
    from pydantic import BaseModel

    from benchapp.judgement.limits.profiles import LimitProfile
    from benchapp.sequences.planning.planned import PlannedStep
    from benchapp.wiring.model.equipment import Equipment

LENGTH = 16
"""hex digits kept: 64 bits are far more than the revisions that a workshop ever writes"""
NOW = "2:"
"""the version of these rules, before the digits; digests of the first version have nothing before them"""
PROSE = frozenset({"title", "say", "notes", "note", "caution", "status", "source", "stated"})
"""keys of equipment and limits whose words change no judgement"""
USUAL_TOLERANCE = 0.2
"""of a capacitance whose file states none"""
OF_THE_REGION = frozenset({"limit voltage-low", "limit mains-voltage", "limit plug-pins"})
"""limits that are the same for every design"""
_CHECKPOINT_1 = {"check", "say", "fault", "grave", "may_not_apply", "when"}
_ANSWER_1 = {"answer", "judgement", "value", "fault", "grave"}
"""what the first version took of a checkpoint and of an answer"""


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
        circuit=_hashed(_without_prose(_dumped(equipment))),
        limits=_hashed(_without_prose(_dumped(profile))),
    )


def digest_of(model: Step, demands: Demands, grounds: Grounds) -> str:
    """The version, then sixteen hex digits of SHA-256 over what the step demands and what its answer rests on."""
    judged = bool(demands.function or demands.accept)
    said = {
        **_first_demands(model, demands),
        **_of_its_kind(model),
        "when": {name: list(wanted) for name, wanted in demands.when.items()},
        "say": model.say if not demands.terminals else "",
        "circuit": grounds.circuit if judged and demands.accept not in OF_THE_REGION else "",
        "limits": grounds.limits if judged else "",
        **({"overdue meters": "refused"} if demands.overdue_refused else {}),
    }
    return NOW + _hashed(said)


def first_digest_of(model: Step, demands: Demands) -> str:
    """The digest by the rules of the first version, for answers that were recorded under them."""
    return _hashed({**_first_demands(model, demands), **_first_of_its_kind(model)})


def _dumped(model: "BaseModel") -> dict[str, Any]:
    """What was written, and no more: a key that models of another day have beside these changes nothing."""
    return model.model_dump(mode="json", exclude_defaults=True, warnings=False)


def _hashed(said: object) -> str:
    text = json.dumps(said, sort_keys=True, ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()[:LENGTH]


def _without_prose(dumped: Any) -> Any:  # noqa: ANN401 - any JSON
    if isinstance(dumped, dict):
        kept = {key: _without_prose(value) for key, value in dumped.items() if key not in PROSE}
        return {key: _as_one_number(value) if key == "capacitance" else value for key, value in kept.items()}
    return [_without_prose(one) for one in dumped] if isinstance(dumped, list) else dumped


def _as_one_number(capacitance: Any) -> Any:  # noqa: ANN401 - any JSON
    """A capacitance without a tolerance of its own, as the models wrote it when these digests began."""
    if not isinstance(capacitance, dict):
        return capacitance
    nominal, ends = capacitance["nominal"], (capacitance["low"], capacitance["high"])
    usual = ((1 - USUAL_TOLERANCE) * nominal, (1 + USUAL_TOLERANCE) * nominal)
    return nominal if all(map(isclose, ends, usual)) else capacitance


def _first_demands(model: Step, demands: Demands) -> dict[str, Any]:
    return {
        "kind": kind_of(model).value,
        "function": demands.function,
        "accept": demands.accept,
        "set up": list(model.set_up),
        "terminals": list(demands.terminals),
        "shows": sorted(role.value for role in demands.shows),
        "supply": demands.supply.value,
        "opens": list(model.opens),
    }


def _of_its_kind(model: Step) -> dict[str, Any]:
    match model:
        case InspectStep():
            return {"checkpoints": [_dumped(one) for one in model.checkpoints]}
        case AskStep():
            answers = [_dumped(one) for one in model.answers]
            return {"answers": answers, "fact": model.fact, "value": model.value, "grave": model.grave}
        case MeasureStep():
            more = {"fresh for": model.fresh_for, "grave": model.grave}
            return {**_first_of_its_kind(model), **more}
        case ComputeStep():
            return {"value": model.value, "unit": model.unit, "grave": model.grave}
        case PhotoStep():
            return {"at least": model.at_least}
        case _:
            return _first_of_its_kind(model)


def _first_of_its_kind(model: Step) -> dict[str, Any]:
    match model:
        case InspectStep():
            return {"checkpoints": [one.model_dump(mode="json", include=_CHECKPOINT_1) for one in model.checkpoints]}
        case WorkStep():
            return {"do": list(model.do)}
        case AskStep():
            return {
                "say": model.say,
                "answers": [one.model_dump(mode="json", include=_ANSWER_1) for one in model.answers],
                "fact": model.fact,
                "value": model.value,
            }
        case MeasureStep():
            return {"keep": model.keep, "stop above": model.stop_above, "waveform": model.waveform}
        case WaitStep():
            return {"time": model.time}
        case _:
            return {}


def has_changed(step: "PlannedStep", content: Mapping[str, Any]) -> bool:
    """Whether the answer was given at another step of the same address.

    A digest is compared by the rules of its own version. Answers from before digests were kept are held to what they
    do say: the kind of step and the meter function.
    """
    said = content.get("step_digest")
    if said is not None:
        return bool(said != (step.digest if str(said).startswith(NOW) else step.first_digest))
    kind, function = content.get("step"), content.get("function", "")
    return kind not in (None, step.kind.value) or (bool(function) and function != step.function)
