"""From what was typed to what was decided: one stored reading with every number that its judgement rests on.

Each reading is also judged again from the texts that its run pinned, so that whoever follows it need not trust it.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from benchapp.actions.audit.reverify import TAKEN, reverify, step_differs, what_differs
from benchapp.actions.papers.reading_words import last_digit, reading_words
from benchapp.actions.workbench.against_siblings import beside_siblings, describe_siblings, siblings_of
from benchapp.actions.workbench.plans import Plans
from benchapp.errors import BenchError
from benchapp.files.spelling import nearest
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.units import SI_UNITS
from benchapp.sequences.planning.entries import Entry, EntryKind
from benchapp.sequences.planning.planned import Plan
from benchapp.workbook.values import Run
from benchapp.workbook.workbook import Workbook

_BUDGET = ("source", "value", "distribution", "sensitivity", "contribution", "share", "degrees_of_freedom")


class NothingToFollow(BenchError):
    """No reading was recorded there."""


def follow_readings(path: Path, mark: str, *, step: str | None = None) -> tuple[dict[str, Any], ...]:
    """Every reading of a unit, or those of one step, oldest first, withdrawn ones too; changes nothing.

    Numbers are in SI units. Raises WorkbookProblem, NothingToFollow.
    """
    workbook = Workbook.look_at(path)
    try:
        followed = tuple(_follow(workbook, mark, step))
        if not followed:
            raise NothingToFollow(_nothing(workbook.entries(mark), mark, step))
        return followed
    finally:
        workbook.close()


def _follow(workbook: Workbook, mark: str, step: str | None) -> Iterator[dict[str, Any]]:
    entries, unit = workbook.entries(mark), workbook.unit(mark)
    withdrawn = {entry.content.get("number") for entry in entries if entry.kind is EntryKind.withdrawal}
    runs, plans = {run.uuid: run for run in workbook.runs(mark)}, Plans(workbook)
    for location, entry in enumerate(entries):
        if not _is_reading(entry) or step not in (None, entry.address):
            continue
        run = runs[entry.run]
        plan = plans.of(run)
        again = reverify(plan, entries, location)
        siblings = siblings_of(workbook, unit.lot, mark, entry.address)
        yield _describe(plan, run, mark, entry) | {
            "siblings": describe_siblings(beside_siblings(siblings, entry.content, step=last_digit(entry.content))),
            "withdrawn": entry.number in withdrawn,
            "differs_when_judged_again": [*step_differs(plan, entry), *what_differs(entry.content, again)],
        }


def _is_reading(entry: Entry) -> bool:
    return entry.kind == EntryKind.answer and entry.content.get("kind") is not None


def _nothing(entries: Iterable[Entry], mark: str, step: str | None) -> str:
    read = list(dict.fromkeys(entry.address for entry in entries if _is_reading(entry)))
    if step is None or not read:
        return f"No reading is recorded of {mark}."
    near = nearest(step, read)
    hint = f"Did you mean {near}?" if near else f"There are readings of {', '.join(read)}."
    return f"No reading is recorded of {mark} at {step!r}. {hint}"


def _describe(plan: Plan, run: Run, mark: str, entry: Entry) -> dict[str, Any]:
    content = entry.content
    return {
        "shelf_mark": mark,
        "entry": entry.number,
        "uuid": entry.uuid,
        "at": entry.at,
        "by": entry.by,
        "step": entry.address,
        "typed": content.get("typed"),
        "repeats": content.get("repeats", []),
        "kept": content.get("kept") or content.get("typed"),
        "typed_unit": content.get("unit"),
        "kind": content["kind"],
        "value": content.get("value"),
        "unit": SI_UNITS[Kind(content["kind"])].symbol,
        "bound": content.get("bound"),
        "shown": reading_words(content),
        "meter": _meter(plan, entry),
        "taken": {name: content[name] for name in TAKEN if name in content},
        "corrections": _derivation_step(content.get("corrections", ())),
        "uncertainty": _uncertainty(content),
        "band": _band(content),
        "decision": _decision(content, plan.workshop.guard_factor),
        "rules_version": content.get("rules_version"),
        "hashes": {"entry": entry.sha256, "texts": dict(run.texts)},
    }


def _meter(plan: Plan, entry: Entry) -> dict[str, Any] | None:
    content = entry.content
    record = plan.meters.get(str(content.get("meter", "")))
    if record is None:
        return None
    return {
        "meter": record.meter,
        "title": record.title,
        "function": content.get("function"),
        "range_named": content.get("range") or None,
        "calibrated": record.calibrated.isoformat(),
        "due": record.due.isoformat(),
        "cautions": content.get("meter_cautions", []),
    }


def _uncertainty(content: Mapping[str, Any]) -> dict[str, Any] | None:
    if content.get("standard_uncertainty") is None:
        return None
    return {
        "standard": content["standard_uncertainty"],
        "expanded": content["expanded_uncertainty"],
        "coverage": content.get("coverage"),
        "dominant_half_width": content.get("dominant_half_width"),
        "others_standard_uncertainty": content.get("others_standard_uncertainty"),
        "degrees_of_freedom": content.get("degrees_of_freedom"),
        "budget": [dict(zip(_BUDGET, row, strict=True)) for row in content.get("budget", ())],
    }


def _band(content: Mapping[str, Any]) -> dict[str, Any] | None:
    if "rule" not in content:
        return None
    return {
        **{name: content.get(name) for name in ("lower", "upper", "expected", "rule", "safety")},
        "derivation": _derivation_step(content.get("derivation", ())),
        "cautions": content.get("cautions", []),
    }


def _decision(content: Mapping[str, Any], guard_factor: float) -> dict[str, Any]:
    """Specific risks as JCGM 106, 9.3 has them: 1 − p_c of accepting, p_c of rejecting."""
    probability = content.get("conformance_probability")
    return {
        "guard_factor": guard_factor,
        "guard_band": content.get("guard_band"),
        "conformance_probability": probability,
        "false_accept_risk": None if probability is None else 1.0 - probability,
        "false_reject_risk": probability,
        "capable": content.get("capable"),
        "judgement": content.get("judgement"),
        "sentence": content.get("sentence"),
    }


def _derivation_step(lines: Iterable[Sequence[str]]) -> list[dict[str, str]]:
    return [{"what": what, "value": value, "source": source} for what, value, source in lines]
