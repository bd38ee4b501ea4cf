"""Is this still the step that an answer was given at? A digest of everything about a step that its answer rests on.

An answer counts only for the step as it was: another revision that asks less of the same name inherits nothing from it.
Words of advice (`why`) and the order of the route do not enter.
"""

import hashlib
import json
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from benchapp.sequences.language import AskStep, InspectStep, MeasureStep, Step, WaitStep, WorkStep, kind_of
from benchapp.sequences.planned import Role, Supply

if TYPE_CHECKING:
    from benchapp.sequences.planned import PlannedStep

LENGTH = 16
"""hex digits kept: 64 bits are far more than the revisions that a workshop ever writes"""


def digest_of(
    model: Step, *, function: str, accept: str, terminals: tuple[str, ...], shows: frozenset[Role], supply: Supply
) -> str:
    """Sixteen hex digits of SHA-256 over the step's demands."""
    demands = {
        "kind": kind_of(model).value,
        "function": function,
        "accept": accept,
        "set up": list(model.set_up),
        "terminals": list(terminals),
        "shows": sorted(role.value for role in shows),
        "supply": supply.value,
        "opens": list(model.opens),
        **_of_its_kind(model),
    }
    text = json.dumps(demands, sort_keys=True, ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()[:LENGTH]


def _of_its_kind(model: Step) -> dict[str, Any]:
    match model:
        case InspectStep():
            return {"checkpoints": [point.model_dump(mode="json") for point in model.checkpoints]}
        case WorkStep():
            return {"do": list(model.do)}
        case AskStep():
            return {
                "say": model.say,
                "answers": [answer.model_dump(mode="json") for answer in model.answers],
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

    Answers from before digests were kept are held to what they do say: the kind of step and the meter function.
    """
    said = content.get("step_digest")
    if said is not None:
        return bool(said != step.digest)
    kind, function = content.get("step"), content.get("function", "")
    return kind not in (None, step.kind.value) or (bool(function) and function != step.function)
