"""A stored answer judged again from the texts that its run pinned: the same, or what differs?"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any, TypeGuard

from benchapp.sequences.planning.entries import Entry

if TYPE_CHECKING:
    from benchapp.judgement.statements.band import Band
    from benchapp.sequences.planning.planned import Plan
    from benchapp.sequences.planning.state import Evaluation

TAKEN = (
    "range_shown",
    "range_before",
    "over_range_at",
    "lead_resistance",
    "of_leads",
    "source_resistance",
    "frequency",
    "waveform",
    "temperature",
    "test_voltage",
)
"""what a reading was taken with and in, beside its meter"""
JUDGED = (
    "value",
    "bound",
    "kind",
    "lower",
    "upper",
    "rule",
    "safety",
    "expected",
    "standard_uncertainty",
    "expanded_uncertainty",
    "guard_band",
    "conformance_probability",
    "capable",
    "judgement",
    "sentence",
    "derivation",
    "corrections",
    "coverage",
    "degrees_of_freedom",
    "dominant_half_width",
    "others_standard_uncertainty",
    "budget",
    *TAKEN,
    "cautions",
    "meter_cautions",
)
"""what of an answer is computed, and so must come out the same"""
WORDS = frozenset({"sentence", "derivation", "corrections", "cautions", "meter_cautions"})
"""what is said of a judgement; a later program may say it better, so it is only held to what it says itself"""
TWELVE_DIGITS = 1e-12
NEAR = 0.01
"""of a limit: by how much the live bands of earlier rules lie off today's (0.16 % at most on made-up designs)"""


def judged_again(plan: "Plan", entries: Sequence[Entry], location: int) -> "Evaluation":
    """The answer at `location` of the history, tried again where it stood, by the rules that it was judged by.

    A live voltage that the wiring gives was held by the rules before 3 against a band that this program no longer
    works out to the last digit, or not at all behind a diode: there its own band counts, where it is near today's. A
    probe across a diode may lie the other way round today: the pair is read as it was.
    """
    from benchapp.judgement.statements.statements import RULES_VERSION, WITHOUT_POLARITY
    from benchapp.sequences.answering.evaluate import answer_from, evaluate
    from benchapp.sequences.interlock.fold import fold

    entry = entries[location]
    state = fold(plan, entries[:location], at=entry.at)
    rules = str(entry.content.get("rules_version", RULES_VERSION))
    if rules in WITHOUT_POLARITY and entry.address not in plan.by_address:
        plan = _with_probe(plan, entry.address)
    again = evaluate(plan, state, entry.address, answer_from(entry.content), at=entry.at, rules=rules)
    if rules in WITHOUT_POLARITY and again.band is not None and _is_live_voltage(plan, entry):
        own = _own_band(entry.content, again.band)
        return _held_to(plan, entry.content, again, own, rules) if own is not None else again
    return again


def _with_probe(plan: "Plan", address: str) -> "Plan":
    """The plan with that probe of one of its probe steps beside those that it plans; itself where it is none."""
    from benchapp.wiring.model.circuit import PartKind

    asked, _, pair = address.partition("/")
    beside = next((one for one in plan.steps if one.probe is not None and one.address.startswith(f"{asked}/")), None)
    ends = plan.circuit.terminals
    pairs = ((a, b) for a in ends for b in ends if a != b and f"{a}-{b}" == pair)
    found = next(pairs, None) if PartKind.diode in plan.circuit.parts.values() else None
    if beside is None or found is None:
        return plan
    step = replace(beside, address=address, terminals=found, when={})
    return replace(plan, by_address={**plan.by_address, address: step})


def _is_live_voltage(plan: "Plan", entry: Entry) -> bool:
    """Whether it is a voltage that the wiring gives with mains on, at the step as it was."""
    from benchapp.sequences.language.vocabulary import Supply
    from benchapp.sequences.planning.role_eligibility import FROM_WIRING
    from benchapp.sequences.planning.step_digest import has_changed

    step = plan.by_address[entry.address]
    live = step.supply is not Supply.none and step.accept == FROM_WIRING and entry.content.get("kind") == "voltage"
    return live and not has_changed(step, entry.content)


def _own_band(stored: Mapping[str, Any], today: "Band") -> "Band | None":
    """The band that the entry keeps; None where it is too far off today's to be what those rules gave."""
    lower, upper = stored.get("lower"), stored.get("upper")
    unknown = today.lower is None and today.upper is None
    if not unknown and not (_is_near(lower, today.lower) and _is_near(upper, today.upper)):
        return None
    return replace(today, lower=lower, upper=upper, expected=stored.get("expected"))


def _is_near(before: object, now: float | None) -> bool:
    if now is None or not _is_number(before):
        return before is now
    return abs(float(before) - now) <= NEAR * abs(now)  # type: ignore[arg-type]


def _held_to(plan: "Plan", stored: Mapping[str, Any], again: "Evaluation", band: "Band", rules: str) -> "Evaluation":
    """The same reading decided on that band."""
    from benchapp.judgement.decision.decision import decide
    from benchapp.quantities.quantity import Bound

    decision = decide(
        value=again.content["value"],
        bound=Bound(again.content["bound"]),
        band=band,
        uncertainty=again.uncertainty,
        r=plan.workshop.guard_factor,
        over=stored.get("over_range_at") or None,
        rules=rules,
    )
    judged = ("guard_band", "conformance_probability", "capable", "sentence")
    content = {
        **again.content,
        **{end: getattr(band, end) for end in ("lower", "upper", "expected")},
        **{name: getattr(decision, name) for name in judged},
        "judgement": decision.judgement.value,
    }
    return replace(again, band=band, decision=decision, judgement=decision.judgement.value, content=content)


def what_differs(stored: Mapping[str, Any], again: "Evaluation") -> Iterator[str]:
    """What comes out otherwise than it was recorded, in words."""
    from benchapp.judgement.statements.statements import RULES_VERSION

    if again.complaint:
        yield f"it cannot be judged again: {again.complaint}"
        return
    as_today = stored.get("rules_version", RULES_VERSION) == RULES_VERSION
    for key in JUDGED:
        if key in WORDS and not as_today:
            continue
        before, now = stored.get(key), again.content.get(key)
        if key == "budget" and not as_today:
            before, now = _numbers(before), _numbers(now)
        if not same_at_twelve_digits(before, now):
            yield f"{key.replace('_', ' ')} was recorded as {_said(before)}, and comes out as {_said(now)}"


def step_differs(plan: "Plan", entry: Entry) -> Iterator[str]:
    """Whether the step that the answer says it was given at is the one in the texts that its run pinned, in words."""
    from benchapp.sequences.planning.step_digest import has_changed

    step = plan.by_address.get(entry.address)
    if step is not None and has_changed(step, entry.content):
        yield f"it was given at another step than the {entry.address} that its run pinned"


def _numbers(budget: object) -> object:
    """A budget without the words of its sources."""
    return [row[1:] for row in budget if _is_list(row)] if _is_list(budget) else budget


def same_at_twelve_digits(before: object, now: object) -> bool:
    """Whether two values of a judgement are the same; numbers are compared at 12 digits."""
    if _is_number(before) and _is_number(now):
        a, b = float(before), float(now)  # type: ignore[arg-type]
        return abs(a - b) <= TWELVE_DIGITS * max(abs(a), abs(b))
    if _is_list(before) and _is_list(now):
        return len(before) == len(now) and all(map(same_at_twelve_digits, before, now))
    return type(before) is type(now) and before == now


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _is_list(value: object) -> TypeGuard[Sequence[object]]:
    return isinstance(value, list | tuple)


def _said(value: object) -> str:
    return "nothing" if value is None else f"{value:.12g}" if isinstance(value, float) else str(value)
