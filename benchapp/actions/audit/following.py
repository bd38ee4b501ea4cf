"""From what was typed to what was decided: one stored reading with every number that its judgement rests on.

Each reading is also judged again from the texts that its run pinned, so that whoever follows it need not trust it.
"""

from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from benchapp.actions.audit.reverify import TAKEN, reverify, step_differs, what_differs
from benchapp.actions.papers.reading_words import last_digit, reading_words
from benchapp.actions.workbench.against_siblings import beside_siblings, describe_siblings, siblings_of
from benchapp.actions.workbench.plans import Plans
from benchapp.errors import BenchError
from benchapp.files.spelling import nearest
from benchapp.judgement.statements.band import DerivationStep
from benchapp.quantities.units import SI_UNITS
from benchapp.sequences.planning.answer_content import ReadingContent, is_reading
from benchapp.sequences.planning.contents import content_json
from benchapp.sequences.planning.entries import Entry
from benchapp.sequences.planning.entry_contents import WithdrawalContent
from benchapp.sequences.planning.planned import Plan
from benchapp.words import say
from benchapp.workbook.model.values import Run
from benchapp.workbook.opened.workbook import Workbook

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
    withdrawn = {entry.content.number for entry in entries if isinstance(entry.content, WithdrawalContent)}
    runs, plans = {run.uuid: run for run in workbook.runs(mark)}, Plans(workbook)
    for location, entry in enumerate(entries):
        if not is_reading(entry) or step not in (None, entry.address):
            continue
        run = runs[entry.run]
        plan = plans.of(run)
        again = reverify(plan, entries, location)
        siblings = siblings_of(workbook, unit.lot, unit.equipment, mark, entry.address)
        yield _describe(plan, run, mark, entry) | {
            "siblings": describe_siblings(beside_siblings(siblings, entry.content, step=last_digit(entry.content))),
            "withdrawn": entry.number in withdrawn,
            "differs_when_judged_again": [*step_differs(plan, entry), *what_differs(entry.content, again)],
        }


def _nothing(entries: Iterable[Entry], mark: str, step: str | None) -> str:
    read = list(dict.fromkeys(entry.address for entry in entries if is_reading(entry)))
    if step is None or not read:
        return say("No reading is recorded of {mark}.", mark=mark)
    near = nearest(step, read)
    hint = f"Did you mean {near}?" if near else say("There are readings of {listed}.", listed=", ".join(read))
    return say("No reading is recorded of {mark} at {step!r}. {hint}", mark=mark, step=step, hint=hint)


def _describe(plan: Plan, run: Run, mark: str, entry: Entry[ReadingContent]) -> dict[str, Any]:
    content = entry.content
    return {
        "shelf_mark": mark,
        "entry": entry.number,
        "uuid": entry.uuid,
        "at": entry.at,
        "by": entry.by,
        "step": entry.address,
        "typed": content.typed,
        "repeats": list(content.repeats),
        "kept": content.kept or content.typed,
        "typed_unit": content.unit,
        "kind": content.kind.value,
        "value": content.value,
        "unit": SI_UNITS[content.kind].symbol,
        "bound": content.bound.value,
        "shown": reading_words(content),
        "meter": _meter(plan, content),
        "taken": _taken(content),
        "corrections": _derivation(content.corrections),
        "uncertainty": _uncertainty(content),
        "band": _band(content),
        "decision": _decision(content, plan.workshop.guard_factor),
        "rules_version": content.rules_version,
        "hashes": {"entry": entry.sha256, "texts": dict(run.texts)},
    }


def _taken(content: ReadingContent) -> dict[str, Any]:
    """What is known of how it was taken; of a meter's reading always the leads, null where nobody looked."""
    said = content_json(content)
    leads = {"lead_resistance": content.lead_resistance} if content.meter else {}
    return {name: (said | leads)[name] for name in TAKEN if name in said | leads}


def _meter(plan: Plan, content: ReadingContent) -> dict[str, Any] | None:
    record = plan.meters.get(content.meter)
    if record is None:
        return None
    return {
        "meter": record.meter,
        "title": record.title,
        "function": content.function,
        "range_named": content.range or None,
        "calibrated": record.calibrated.isoformat(),
        "due": record.due.isoformat(),
        "cautions": list(content.meter_cautions),
    }


def _uncertainty(content: ReadingContent) -> dict[str, Any] | None:
    if content.standard_uncertainty is None:
        return None
    said = content_json(content)
    return {
        "standard": content.standard_uncertainty,
        "expanded": content.expanded_uncertainty,
        "coverage": content.coverage,
        "dominant_half_width": content.dominant_half_width,
        "others_standard_uncertainty": content.others_standard_uncertainty,
        "degrees_of_freedom": said.get("degrees_of_freedom"),
        "budget": [dict(zip(_BUDGET, row, strict=True)) for row in said.get("budget", ())],
    }


def _band(content: ReadingContent) -> dict[str, Any] | None:
    if content.rule is None:
        return None
    return {
        "lower": content.lower,
        "upper": content.upper,
        "expected": content.expected,
        "rule": content.rule.value,
        "safety": content.safety,
        "derivation": _derivation(content.derivation),
        "cautions": list(content.cautions),
    }


def _decision(content: ReadingContent, guard_factor: float) -> dict[str, Any]:
    """Specific risks as JCGM 106, 9.3 has them: 1 − p_c of accepting, p_c of rejecting."""
    probability = content.conformance_probability
    return {
        "guard_factor": guard_factor,
        "guard_band": content.guard_band,
        "conformance_probability": probability,
        "false_accept_risk": None if probability is None else 1.0 - probability,
        "false_reject_risk": probability,
        "capable": content.capable,
        "judgement": content.judgement.value,
        "sentence": content.sentence,
    }


def _derivation(lines: Iterable[DerivationStep]) -> list[dict[str, str]]:
    return [{"what": line.what, "value": line.value, "source": line.source} for line in lines]
