"""Numbers without a workbook: what a typed text means, how a reading is judged, which limits hold."""

import argparse
from typing import TYPE_CHECKING, Any

from benchapp.cli.shape import Command, add_json, print_json, print_table

if TYPE_CHECKING:
    from benchapp.actions import JudgedText
    from benchapp.judgement import LimitProfile


def _band_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("band", metavar="TEXT", help='what is accepted: "9 V ± 10 %%", "at most 0.1 ohm"')
    parser.add_argument("reading", metavar="READING", help='what the meter showed: "9.12 V"')
    known = parser.add_mutually_exclusive_group()
    known.add_argument("--meter", metavar="ID", help="the meter that showed it")
    known.add_argument("--uncertainty", metavar="TEXT", help='the standard uncertainty: "0.02 V"')
    parser.add_argument("--function", help="what the meter was set to; untold, its least accurate one of that kind")
    parser.add_argument("--rule", choices=("simple", "guarded"), help="guarded when the uncertainty is known")
    add_json(parser)


def _band(asked: argparse.Namespace) -> int:
    from benchapp.actions import judge_text
    from benchapp.actions.judging import describe_judged
    from benchapp.judgement import completes_step

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
    from benchapp.quantities import show_uncertainty

    decision, kind, unit = judged.decision, judged.band.kind, judged.band.unit
    print(f"{decision.judgement}: {decision.sentence}")
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
    parser.add_argument("text", metavar="TEXT", help='what was typed: "4k7", "9,12 V", "OL"')
    parser.add_argument("--kind", help="what it is a value of: voltage, resistance, current ...")
    parser.add_argument("--unit", default="", help="what a bare number means")
    add_json(parser)


def _read(asked: argparse.Namespace) -> int:
    from benchapp.actions.judging import read_text

    meant = read_text(asked.text, kind=asked.kind, unit=asked.unit)
    if asked.json:
        print_json(meant)
        return 0
    print_table([(name, "none" if value is None else str(value)) for name, value in meant.items()])
    return 0


def _limits_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--region", help="one region alone: gb, eu, us, au-nz")
    add_json(parser)


def _limits(asked: argparse.Namespace) -> int:
    from benchapp.actions.judging import read_limits

    profiles = read_limits(region=asked.region)
    if asked.json:
        print_json({profile.limits: _described(profile) for profile in profiles})
        return 0
    for number, profile in enumerate(profiles):
        if number:
            print()
        print(f"{profile.title} ({profile.limits}). {profile.caution}")
        rows = [(line["figure"], line["value"], line["cited"]) for line in _described(profile)]
        print_table(rows, head=("figure", "value", "source"))
    return 0


def _described(profile: "LimitProfile") -> list[dict[str, Any]]:
    return [
        {
            "figure": name,
            "value": value,
            "source": figure.source,
            "status": figure.status,
            "certain": figure.certain,
            "cited": figure.cited,
            "note": figure.note,
        }
        for place, figure in profile.figures()
        for name, value in _values(place, figure)
    ]


def _values(place: str, figure: object) -> list[tuple[str, str]]:
    """A figure with its unit, each line of a table, or a colour now and before."""
    from benchapp.judgement import CoreColour, Figure, Table

    match figure:
        case Figure():
            return [(place, figure.words)]
        case Table():
            return [(f"{place}, {area}", f"{value} {figure.unit}") for area, value in figure.values.items()]
        case CoreColour():
            return [(place, figure.words)]
    return []


COMMANDS = (
    Command(
        name="band",
        says="judge a reading against a band; exit 1 when it does not pass",
        arguments=_band_arguments,
        run=_band,
    ),
    Command(name="read", says="say what a typed text means: value, unit, bound", arguments=_read_arguments, run=_read),
    Command(
        name="limits",
        says="list the limits of each region with their sources",
        arguments=_limits_arguments,
        run=_limits,
    ),
)
