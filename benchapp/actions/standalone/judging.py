"""One reading against one band, outside any workbook."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from benchapp.errors import BenchError
from benchapp.words import say

if TYPE_CHECKING:
    from benchapp.files.models import FileModel
    from benchapp.judgement.acceptance.acceptance import Accept
    from benchapp.judgement.decision.decision import Decision
    from benchapp.judgement.limits.profiles import LimitProfile
    from benchapp.judgement.meters.functions import Function
    from benchapp.judgement.meters.records import MeterRecord
    from benchapp.judgement.statements.band import Band
    from benchapp.judgement.statements.statements import Rule
    from benchapp.judgement.uncertainty.uncertainty import Uncertainty
    from benchapp.quantities.dimensions import Kind
    from benchapp.quantities.quantity import Reading

Model = TypeVar("Model", bound="FileModel")


class JudgingProblem(BenchError):
    """A band, a meter or a rule that cannot be used here."""


@dataclass(frozen=True, slots=True, kw_only=True)
class JudgedText:
    """A typed reading, the band it was held against, and what was decided; numbers in SI units."""

    reading: "Reading"
    band: "Band"
    uncertainty: "Uncertainty | None"
    decision: "Decision"
    unit: str
    """symbol of the SI unit in which the numbers are"""


def judge_text(
    accept: str,
    reading: str,
    *,
    meter: str | None = None,
    function: str | None = None,
    uncertainty: str | None = None,
    rule: str | None = None,
    folders: Sequence[Path] = (),
) -> JudgedText:
    """Judge "9.12 V" against "9 V ± 10 %"; with neither meter nor uncertainty the judgement is simple.

    `uncertainty` is the standard one. With one, the rule is guarded unless told. `function` says what a meter with
    several functions of that kind was set to; untold, the least accurate is taken. Raises BenchError with a sentence.
    """
    from benchapp.judgement.acceptance.accept_text import parse_accept
    from benchapp.judgement.decision.decision import decide
    from benchapp.judgement.statements.statements import Rule
    from benchapp.quantities.entry import read_reading

    accepted = parse_accept(accept)
    kind = _kind_of(accepted)
    typed = read_reading(reading, kind=kind, unit=accepted.unit)
    known, over = _known_how_well(typed, kind, meter=meter, function=function, uncertainty=uncertainty, folders=folders)
    used = _rule(rule) if rule else (Rule.guarded if known else Rule.simple)
    if used is Rule.guarded and known is None:
        raise JudgingProblem("A guarded judgement needs the meter or the uncertainty: give one of them.")
    band = accepted.band({}, kind=kind, rule=used)
    decision = decide(
        value=typed.si,
        bound=typed.bound,
        band=band,
        uncertainty=known,
        step=typed.si_step,
        over=over,
        metered=meter is not None,
    )
    return JudgedText(reading=typed, band=band, uncertainty=known, decision=decision, unit=_si_symbol(kind))


def describe_judged(judged: JudgedText) -> dict[str, Any]:
    """The judgement for programs."""
    decision = judged.decision
    return {
        "value": decision.value,
        "bound": str(decision.bound),
        "unit": judged.unit,
        "lower": decision.lower,
        "upper": decision.upper,
        "rule": str(judged.band.rule),
        "standard_uncertainty": decision.standard_uncertainty,
        "expanded_uncertainty": decision.expanded_uncertainty,
        "coverage": judged.uncertainty.coverage if judged.uncertainty else None,
        "guard_band": decision.guard_band,
        "conformance_probability": decision.conformance_probability,
        "false_accept_risk": decision.false_accept_risk,
        "false_reject_risk": decision.false_reject_risk,
        "judgement": str(decision.judgement),
        "sentence": decision.sentence,
        "derivation": [
            {"what": line.what, "value": line.value, "source": line.source} for line in judged.band.derivation
        ],
        "budget": [
            {
                "source": part.source,
                "value": part.value,
                "distribution": str(part.distribution),
                "sensitivity": part.sensitivity,
                "contribution": part.contribution,
                "share": part.share,
            }
            for part in (judged.uncertainty.budget if judged.uncertainty else ())
        ],
    }


def _kind_of(accepted: "Accept") -> "Kind":
    """The kind of value that a band of plain numbers bounds."""
    if accepted.names:
        names = ", ".join(sorted(accepted.names))
        raise JudgingProblem(
            say(
                "“{text}” rests on {names}, which only a sequence knows. Write plain numbers.",
                text=accepted.text,
                names=names,
            )
        )
    if not accepted.parts:
        raise JudgingProblem(
            say("“{text}” needs a piece of equipment. Write plain numbers, as in 9 V ± 10 %.", text=accepted.text)
        )
    kind = accepted.parts[0].check({}).kind
    if kind is None:
        raise JudgingProblem(
            say("“{text}” has a unit that no reading has. Write for example 9 V ± 10 %.", text=accepted.text)
        )
    accepted.check({}, kind)
    return kind


def _known_how_well(
    reading: "Reading",
    kind: "Kind",
    *,
    meter: str | None,
    function: str | None,
    uncertainty: str | None,
    folders: Sequence[Path],
) -> "tuple[Uncertainty | None, float | None]":
    """The uncertainty, and where the meter's range ends (SI) when the reading is over it."""
    if meter is not None and uncertainty is not None:
        raise JudgingProblem("Give the meter or the uncertainty, not both.")
    if meter is not None:
        return _by_meter(read_meter(meter, folders), reading, kind, function)
    if uncertainty is None:
        return None, None
    from benchapp.judgement.uncertainty.budget import plain_uncertainty
    from benchapp.quantities.entry import read_reading
    from benchapp.quantities.quantity import Bound

    stated = read_reading(uncertainty, kind=kind)
    if stated.si is None or stated.bound is not Bound.exact or stated.si < 0:
        raise JudgingProblem(
            say("“{uncertainty}” is no standard uncertainty. Write one value, as in 0.02 V.", uncertainty=uncertainty)
        )
    return plain_uncertainty(stated.si), None


def _by_meter(
    record: "MeterRecord", reading: "Reading", kind: "Kind", function: str | None
) -> "tuple[Uncertainty, float | None]":
    from benchapp.judgement.meters.readings import uncertainty_of
    from benchapp.judgement.statements.problems import RangeProblem

    found: list[tuple[Uncertainty, float | None]] = []
    trouble: RangeProblem | None = None
    for one in _functions(record, kind, function):
        try:
            known = uncertainty_of(record, one, reading)
        except RangeProblem as problem:
            trouble = problem
        else:
            top = record.function(one).ranges[-1].full_scale
            found.append((known, top if reading.si is None else None))
    if found:
        return max(found, key=lambda one: one[0].standard)
    raise trouble or JudgingProblem(
        say(
            "{meter} does not measure {with_article}. Choose another meter.",
            meter=record.meter,
            with_article=kind.with_article,
        )
    )


def _functions(record: "MeterRecord", kind: "Kind", function: str | None) -> "list[Function]":
    """The meter's functions of that kind, or the one that it was set to; raises JudgingProblem."""
    from benchapp.judgement.meters.functions import Function, kind_of

    fitting = [one for one in record.functions if kind_of(one) is kind]
    if function is None:
        return fitting
    known = ", ".join(fitting) or "none of that kind"
    if function not in set(Function) or Function(function) not in fitting:
        raise JudgingProblem(
            say(
                "{meter} has no function {function!r} for {with_article}; it has {known}.",
                meter=record.meter,
                function=function,
                with_article=kind.with_article,
                known=known,
            )
        )
    return [Function(function)]


def read_meter(meter: str, folders: Sequence[Path] = ()) -> "MeterRecord":
    """A meter's record by its id, from the workshop's folders or as shipped; raises JudgingProblem, FileProblems."""
    from benchapp.files.beside import files_by_id
    from benchapp.judgement.meters.records import MeterRecord

    files = files_by_id("meter", folders)
    if meter not in files:
        raise JudgingProblem(_unknown("meter", meter, files))
    return read_by_id(files[meter], MeterRecord, meter)


def _rule(rule: str) -> "Rule":
    from benchapp.judgement.statements.statements import Rule

    if rule not in set(Rule):
        raise JudgingProblem(say("{rule!r} is not a rule. Write simple or guarded.", rule=rule))
    return Rule(rule)


def _si_symbol(kind: "Kind") -> str:
    from benchapp.quantities.units import SI_UNITS

    return SI_UNITS[kind].symbol


def read_limits(*, region: str | None = None, folders: Sequence[Path] = ()) -> "tuple[LimitProfile, ...]":
    """The limits of every region, or of one, by id; raises JudgingProblem, FileProblems."""
    from benchapp.files.beside import files_by_id
    from benchapp.judgement.limits.profiles import LimitProfile

    files = files_by_id("limits", folders)
    if region is not None and region not in files:
        raise JudgingProblem(_unknown("region", region, files))
    asked = sorted(files) if region is None else [region]
    return tuple(read_by_id(files[name], LimitProfile, name) for name in asked)


def read_by_id(path: Path, model: type[Model], ident: str) -> Model:
    """A shipped file, or an own one held against the shipped one of its id; raises FileProblems."""
    from benchapp.files.models import read_model
    from benchapp.files.shipped import is_shipped

    if is_shipped(path):
        return read_model(path, model)
    from benchapp.sequences.checks.own_files import read_own_file

    return read_own_file(path, model, ident)


def _unknown(what: str, name: str, known: Mapping[str, Path]) -> str:
    from benchapp.files.spelling import nearest

    near = nearest(name, known)
    hint = f"Did you mean {near}?" if near else f"Known are: {', '.join(sorted(known)) or 'none'}."
    return f"There is no {what} {name!r}. {hint}"
