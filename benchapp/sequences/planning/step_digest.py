"""A digest of everything about a step that its answer rests on: whether it is still the step that was answered.

An answer counts only for the step as it was: another revision that asks less of the same name inherits nothing from it.
What a step demands enters, when it is done at all, and for a reading the circuit and the region's limits behind its
band. Words of advice (`why`), titles and the order of the route do not.
"""

import hashlib
import json
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from benchapp.files.models import FileModel
from benchapp.sequences.planning.planned_kind import PlannedKind

if TYPE_CHECKING:
    from pydantic import BaseModel

    from benchapp.judgement.limits.profiles import LimitProfile
    from benchapp.sequences.planning.answer_content import AnswerContent
    from benchapp.sequences.planning.planned import PlannedStep
    from benchapp.wiring.model.equipment import Equipment

LENGTH = 16
"""hex digits kept: 64 bits are far more than the revisions that a workshop ever writes"""
VERSION = "1:"
"""of the rules by which digests are made, before the digits"""
PROSE = frozenset(
    {"title", "say", "notes", "note", "caution", "status", "source", "stated", "made", "hazards", "example"}
)
"""keys of equipment and limits whose words change no reading's judgement"""
OF_THE_REGION = frozenset({"limit voltage-low", "limit mains-voltage", "limit plug-pins"})
"""limits that are the same for every design"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Grounds:
    """What readings of a run rest on beside their steps, as digests: the circuit, and the region's limits."""

    circuit: str
    limits: str


def grounds_of(equipment: "Equipment", profile: "LimitProfile") -> Grounds:
    """Digests of one design and one region, worked out once for a plan."""
    return Grounds(
        circuit=_hashed(_without_prose(_as_written(equipment))), limits=_hashed(_without_prose(_as_written(profile)))
    )


def digest_of(step: "PlannedStep", grounds: Grounds) -> str:
    """The version, then sixteen hex digits of SHA-256 over what the step demands and what its answer rests on."""
    judged = bool(step.function or step.accept)
    own = PlannedKind.named(step.kind).digest_keys
    said = {
        "kind": step.kind,
        "function": step.function or "",
        "accept": step.accept,
        "set up": list(step.model.set_up),
        "terminals": list(step.terminals),
        "shows": sorted(role.value for role in step.shows),
        "supply": step.supply.value,
        "opens": list(step.model.opens),
        **{key.replace("_", " "): _plain(getattr(step.model, key)) for key in own},
        "when": {name: list(wanted) for name, wanted in step.when.items()},
        "say": step.model.say if not step.terminals else "",
        "circuit": grounds.circuit if judged and step.accept not in OF_THE_REGION else "",
        "limits": grounds.limits if judged else "",
        **({"lasts": step.lasts} if step.lasts is not None else {}),
        **({"overdue meters": "refused"} if step.overdue_refused else {}),
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


def has_changed(step: "PlannedStep", content: "AnswerContent") -> bool:
    """Whether the answer was given at another step of the same address."""
    return content.step_digest != step.digest
