"""Which hazards of old equipment a design is asked about, worked out from the text of the files."""

from collections.abc import Mapping
from typing import Any

Written = Mapping[str, Any]


def with_hazards(step: Written, design: Written, hazards: Mapping[str, Written]) -> Written | None:
    """The step with a checkpoint for each hazard that the design is asked about; None where nothing is left to see."""
    if step.get("old hazards") != "true":
        return step
    points = list(step.get("checkpoints", ()))
    points += [_point(hazards[name]) for name in sorted(hazards) if is_asked(hazards[name], design)]
    return {**step, "checkpoints": points} if points else None


def _point(hazard: Written) -> Written:
    fault = {"part": hazard.get("part", "enclosure"), "words": hazard["seen"]}
    return {"check": hazard["hazard"], "fault": fault, "grave": "do not use", "hazard": hazard["hazard"]}


def is_asked(hazard: Written, design: Written) -> bool:
    """Whether each unit of the design is looked at for it; of a design that nobody knows it always is."""
    where = hazard.get("found in", {})
    if hazard.get("presumed") == "true":
        return False
    if hazard["hazard"] in design.get("hazards", ()):
        return True
    years = [int(one) for one in str(design.get("made", "")).split(" to ") if one]
    too_old = years and "from" in where and years[-1] < int(where["from"])
    too_new = years and "until" in where and years[0] > int(where["until"])
    if too_old or too_new or not _is_so(where.get("when", {}), design):
        return False
    if design.get("design known") == "false":
        return True
    kinds = {next(iter(part)) for part in design["circuit"]}
    return where.get("only named") != "true" and (not where.get("parts") or bool(kinds & set(where["parts"])))


def _is_so(when: Written, design: Written) -> bool:
    mains = "mains fed" not in when or (when["mains fed"] == "true") is ("supply" in design)
    return mains and ("class" not in when or design["class"] in when["class"])
