"""Numbers without a workbook: what a typed text means, how a reading is judged, which limits hold."""

import argparse
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from benchapp.cli.shape import Command, add_json, add_region, print_json, print_table, say
from benchapp.judgement.statements.statements import completes_step
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show, show_uncertainty

if TYPE_CHECKING:
    from benchapp.actions.standalone.judging import JudgedText
    from benchapp.judgement.limits.figures import Figure, Statement, Table
    from benchapp.judgement.limits.profiles import CoreColour, LimitProfile

    AnyFigure = Figure | Table | CoreColour | Statement


def _band_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("band", metavar="TEXT", help='what is accepted: "9 V ± 10 %%", "at most 0.1 ohm"')
    parser.add_argument("reading", metavar="READING", help='what the meter showed: "9.12 V"')
    uncertainty = parser.add_mutually_exclusive_group()
    uncertainty.add_argument("--meter", metavar="ID", help="the meter that showed it")
    uncertainty.add_argument("--uncertainty", metavar="TEXT", help='the standard uncertainty: "0.02 V"')
    parser.add_argument("--function", help="what the meter was set to; untold, its least accurate one of that kind")
    parser.add_argument("--rule", choices=("simple", "guarded"), help="guarded when the uncertainty is known")
    add_json(parser)


def _band(asked: argparse.Namespace) -> int:
    from benchapp.actions.standalone.judging import describe_judged, judge_text

    judged = judge_text(
        asked.band,
        asked.reading,
        meter=asked.meter,
        function=asked.function,
        uncertainty=asked.uncertainty,
        rule=asked.rule,
    )
    if asked.json:
        print_json(describe_judged(judged))
    else:
        _print_judged(judged)
    return 0 if completes_step(judged.decision.judgement) else 1


def _print_judged(judged: "JudgedText") -> None:
    decision, kind, unit = judged.decision, judged.band.kind, judged.band.unit
    say(f"{decision.judgement}: {decision.sentence}")
    rows = [(line.what, line.value, line.source) for line in judged.band.derivation]
    if decision.expanded_uncertainty is not None:
        rows.append(
            ("expanded uncertainty", show_uncertainty(decision.expanded_uncertainty, kind, unit=unit), "JCGM 100")
        )
    if decision.guard_band:
        rows.append(("guard band", show_uncertainty(decision.guard_band, kind, unit=unit), "JCGM 106, ILAC-G8"))
    if decision.conformance_probability is not None:
        rows.append(("probability of conformance", f"{decision.conformance_probability:.4f}", "JCGM 106"))
    print_table(rows)


def _read_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "text",
        metavar="TEXT",
        help='what was typed: "4k7", "9,12 V", "OL"; what stands on a part: "4K7J", "red red gold"',
    )
    parser.add_argument("--kind", help="what it is a value of: voltage, resistance, current ...")
    parser.add_argument("--unit", default="", help="what a bare number means")
    add_json(parser)


def _read(asked: argparse.Namespace) -> int:
    from benchapp.actions.standalone.meaning import read_text

    meant = read_text(asked.text, kind=asked.kind, unit=asked.unit)
    if asked.json:
        print_json(meant)
        return 0
    print_table([*_value_rows(meant), *_part_rows(meant)])
    return 0


def _value_rows(meant: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """The value as it is shown everywhere, and what was typed."""
    yield "typed", meant["typed"]
    if meant["si"] is None:
        yield "means", "over range: it lies above every value that the meter can show"
        return
    kind = Kind(meant["kind"])
    value = f"{meant['value']} {meant['unit']}".strip()
    shown = show(meant["si"], kind, unit=meant["unit"])
    sign = {"above": "above ", "below": "below "}.get(meant["bound"], "")
    yield "means", f"{sign}{value}" + (f" = {shown}" if shown != value else "")
    yield "kind", str(kind)
    if meant["step"] is not None:
        yield "last digit", f"{meant['step']} {meant['unit']}".strip()


def _part_rows(meant: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """What the value is as that of a part: its tolerance, its code, the preferred values near it."""
    kind = Kind(meant["kind"]) if meant["kind"] else None
    for one in (meant["tolerance"], *meant["other_tolerances"]):
        if one is not None and kind is not None:
            limits = f"{show(one['lowest'], kind)} to {show(one['highest'], kind)}"
            yield "tolerance", f"{one['of']}: {limits}" + (f" ({one['note']})" if one["note"] else "")
    preferred = meant["preferred"]
    if preferred is None or kind is None:
        return
    if preferred["code"]:
        yield "code", f"{preferred['code']} (IEC 60062)"
    if preferred["series"]:
        yield "preferred value", f"yes, from {preferred['series']} on (IEC 60063)"
    else:
        near = ", ".join(f"{series} {show(value, kind)}" for series, value in preferred["nearest"].items())
        yield "preferred value", f"no; nearest: {near} (IEC 60063)"


def _limits_arguments(parser: argparse.ArgumentParser) -> None:
    add_region(parser, "one region alone")
    add_json(parser)


def _limits(asked: argparse.Namespace) -> int:
    from benchapp.actions.standalone.judging import read_limits

    profiles = read_limits(region=asked.region)
    if asked.json:
        print_json({profile.limits: _described(profile) for profile in profiles})
        return 0
    for number, profile in enumerate(profiles):
        if number:
            say()
        say(f"{profile.title} ({profile.limits}). {profile.caution}")
        described = _described(profile)
        rows = [(one["figure"], one["value"], _source_and_note(one)) for one in described if not one["rule"]]
        print_table(rows, head=("figure", "value", "source"))
        for one in described:
            if one["rule"]:
                say(f"{one['figure']}: {one['value']} ({one['cited']})")
    return 0


def _source_and_note(figure: Mapping[str, Any]) -> str:
    cited = str(figure["cited"])
    return f"{cited.removesuffix('.')}. {figure['note']}" if figure["note"] else cited


def _described(profile: "LimitProfile") -> list[dict[str, Any]]:
    from benchapp.judgement.limits.figures import Statement

    return [
        {
            "figure": name,
            "value": one.words,
            "source": one.source,
            "status": one.status,
            "certain": one.certain,
            "cited": one.cited,
            "note": one.note,
            "rule": isinstance(one, Statement),
        }
        for location, figure in profile.figures()
        for name, one in _lines(location, figure)
    ]


def _lines(location: str, figure: "AnyFigure") -> "list[tuple[str, Figure | CoreColour | Statement]]":
    """The figure itself, or each line of a table, which may be less certain than the rest of it."""
    from benchapp.judgement.limits.figures import Table

    if isinstance(figure, Table):
        return [(f"{location}, {area}", one) for area, one in figure.figures().items()]
    return [(location, figure)]


COMMANDS = (
    Command(
        name="band",
        says="judge a reading against a band; exit 1 when it does not pass",
        arguments=_band_arguments,
        run=_band,
    ),
    Command(
        name="read",
        says="say what a typed text or a part's marking means: value, unit, bound, tolerance, preferred values",
        arguments=_read_arguments,
        run=_read,
    ),
    Command(
        name="limits",
        says="list the limits of each region with their sources",
        arguments=_limits_arguments,
        run=_limits,
    ),
)
