"""Reads what a step accepts, as its author writes it.

    9.8 V ± 5 %          9 V ± 0.5 V          9 V +10 % -5 %
    at most 0.1 ohm      at least 1 Mohm      between 216 V and 253 V
    limit earth-continuity                    from wiring

Where a number stands a formula may stand.
"""

from __future__ import annotations

import re

from benchapp.judgement.acceptance.accept_habits import accept_suggestion
from benchapp.judgement.acceptance.acceptance import Accept, Form
from benchapp.judgement.statements.problems import AcceptProblem
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.formula import parse_formula
from benchapp.quantities.problems import FormulaProblem
from benchapp.words import say

LONGEST = 600
FORMS = "9.8 V ± 5 %, at most 0.1 ohm, between 216 V and 253 V, limit earth-continuity, from wiring"
_TOLERANCE = re.compile(r"±|\+/-|\+-")
_TWO_TOLERANCES = re.compile(
    r"(.+?)\s*\+\s*(\d[\d.]*\s*[^\d\s+−-]{1,8})\s*[-−]\s*(\d[\d.]*\s*[^\d\s+−-]{1,8})", re.DOTALL
)
_ONE_SIDED = re.compile(r"at\s+(most|least)\s+(.+)", re.DOTALL | re.IGNORECASE)
_BETWEEN = re.compile(r"between\s+(.+?)\s+and\s+(.+)", re.DOTALL | re.IGNORECASE)
_LIMIT = re.compile(r"limit\s+([a-z][a-z -]{0,60})", re.IGNORECASE)
_UNIT = re.compile(r"\d[\d.]*(?:[eE][+-]?\d+)?\s*([^\W\d_]*[Ωµ°%]?[A-Za-z]*[²³]?)(?!\d)")


def parse_accept(text: str) -> Accept:
    """Read an accept expression; raises AcceptProblem with a sentence and the position of what cannot be read."""
    if len(text) > LONGEST:
        raise AcceptProblem(
            say("What is accepted takes {count} characters; {longest} are allowed.", count=len(text), longest=LONGEST),
            position=LONGEST,
        )
    shown = text.strip()
    if not shown:
        raise AcceptProblem(say("Nothing is accepted. Write for example {forms}.", forms=FORMS))
    start = text.index(shown[0])
    if " ".join(shown.lower().split()) == "from wiring":
        return Accept(text=shown, form=Form.wiring)
    if found := _LIMIT.fullmatch(shown):
        name = "-".join(found[1].lower().split())
        return Accept(text=shown, form=Form.limit, limit_name=name)
    accept = _with_formulas(shown, start)
    if not accept.names:
        _refuse_contradiction(accept)
    return accept


def _with_formulas(shown: str, start: int) -> Accept:
    if found := _ONE_SIDED.fullmatch(shown):
        form = Form.at_most if found[1].lower() == "most" else Form.at_least
        return _accept(shown, form, [(found[2], start + found.start(2))])
    if found := _BETWEEN.fullmatch(shown):
        return _accept(shown, Form.between, [(found[n], start + found.start(n)) for n in (1, 2)])
    if found := _TOLERANCE.search(shown):
        size = (shown[found.end() :], start + found.end())
        return _accept(shown, Form.around, [(shown[: found.start()], start), size, size])
    if found := _TWO_TOLERANCES.fullmatch(shown):
        return _accept(shown, Form.around, [(found[n], start + found.start(n)) for n in (1, 2, 3)])
    suggestion = accept_suggestion(shown)
    cure = f"Did you mean “{suggestion}”?" if suggestion else f"Write for example {FORMS}."
    raise AcceptProblem(
        say("“{shown}” does not say what is accepted. {cure}", shown=shown[:80], cure=cure), position=start
    )


def _accept(shown: str, form: Form, parts: list[tuple[str, int]]) -> Accept:
    formulas = []
    for part, offset in parts:
        try:
            formula = parse_formula(part)
        except FormulaProblem as problem:
            raise AcceptProblem(problem.sentence, position=offset + problem.position) from problem
        if formula.is_comparison:
            raise AcceptProblem(say("“{part}” is a comparison, not a value.", part=part.strip()), position=offset)
        formulas.append(formula)
    unit = _UNIT.search(shown)
    return Accept(
        text=shown,
        form=form,
        parts=tuple(formulas),
        offsets=tuple(offset for _, offset in parts),
        unit=unit[1] if unit else "",
    )


def _refuse_contradiction(accept: Accept) -> None:
    """A band of plain numbers is worked out when it is read, so that its author hears of limits the wrong way round."""
    try:
        first, *others = (part.check({}) for part in accept.parts)
    except FormulaProblem:
        return  # said at its place when the expression is held against the kind of the reading
    lower, upper, _ = accept.limits({}, first.kind or Kind.ratio)
    if all(other == first for other in others) and lower is not None and upper is not None and lower > upper:
        raise AcceptProblem(say("“{text}” has its lower limit above its upper one: swap them.", text=accept.text))
