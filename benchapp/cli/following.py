"""A stored reading followed from what was typed to what was decided."""

import argparse
from collections.abc import Iterable, Mapping
from typing import Any

from benchapp.cli.shape import Command, add_json, path_named, print_json, print_table, say
from benchapp.judgement.statements.statements import completes_step
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show, show_uncertainty

_NEXT_TO_NONE = 0.0001


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("workbook", metavar="WORKBOOK", type=path_named)
    parser.add_argument("unit", metavar="UNIT", help="its shelf mark")
    parser.add_argument("--step", metavar="ADDRESS", help="the readings of one step: continuity.earth")
    add_json(parser)


def _follow(asked: argparse.Namespace) -> int:
    from benchapp.actions.audit.following import follow_readings

    followed = follow_readings(asked.workbook, asked.unit, step=asked.step)
    if asked.json:
        print_json(list(followed))
    else:
        for number, reading in enumerate(followed):
            if number:
                say()
            _print(reading)
    return 1 if any(reading["differs_when_judged_again"] for reading in followed) else 0


def _print(reading: Mapping[str, Any]) -> None:
    """One reading for people: each number with where it comes from."""
    decision = reading["decision"]
    away = ", withdrawn" if reading["withdrawn"] else ""
    say(f"{reading['shelf_mark']} entry {reading['entry']}, {reading['step']}, {reading['at']}, {reading['by']}{away}")
    say(f"{decision['judgement']}: {decision['sentence']}")
    rows = [*_reading_rows(reading), *_uncertainty_rows(reading), *_band_rows(reading), *_decision_rows(reading)]
    print_table(rows)
    for caution in (*(reading["meter"] or {}).get("cautions", ()), *(reading["band"] or {}).get("cautions", ())):
        say(f"caution: {caution}")
    for words in reading["differs_when_judged_again"] or ["the same when judged again from the texts it pinned"]:
        say(f"judged again: {words}")


def _reading_rows(reading: Mapping[str, Any]) -> Iterable[tuple[str, str, str]]:
    meter = reading["meter"]
    setting = "" if meter is None else f"{meter['meter']}, {meter['function']}, range {_range_words(reading)}"
    calibrated = "" if meter is None else f", calibrated {meter['calibrated']}, due {meter['due']}"
    yield "typed", " ".join([str(reading["typed"]), *reading["repeats"]]), (setting + calibrated) or "worked out"
    if reading["repeats"] and reading["kept"] != reading["typed"]:
        yield "kept of these", str(reading["kept"]), "the step keeps the extreme"
    for line in reading["corrections"]:
        yield line["what"], line["value"], line["source"]
    yield "value", reading["shown"], reading["bound"]


def _range_words(reading: Mapping[str, Any]) -> str:
    named, taken = reading["meter"]["range_named"], reading["taken"]
    if named or "range_shown" not in taken:
        return str(named or "automatic")
    before = f", from {taken['range_before']} without lifting the probes" if "range_before" in taken else ""
    return f"to {taken['range_shown']}, automatic{before}"


def _uncertainty_rows(reading: Mapping[str, Any]) -> Iterable[tuple[str, str, str]]:
    uncertainty = reading["uncertainty"]
    if uncertainty is None:
        return
    for row in uncertainty["budget"]:
        share = f"{100 * row['share']:.1f} % of the variance, {row['distribution']}"
        yield f"  {row['source']}", _uncertain(reading, row["contribution"]), share
    yield "standard uncertainty", _uncertain(reading, uncertainty["standard"]), "JCGM 100"
    shape = "one rectangular source outweighs the rest, " if uncertainty["dominant_half_width"] else ""
    coverage = f"k = {uncertainty['coverage']:.2f}, {shape}JCGM 100"
    yield "expanded uncertainty", _uncertain(reading, uncertainty["expanded"]), coverage


def _band_rows(reading: Mapping[str, Any]) -> Iterable[tuple[str, str, str]]:
    band = reading["band"]
    if band is None:
        return
    for line in band["derivation"]:
        yield f"  {line['what']}", line["value"], line["source"]
    if band["expected"] is not None:
        yield "expected", _shown(reading, band["expected"]), "beside the limits"
    for name in ("lower", "upper"):
        yield f"{name} limit", "none" if band[name] is None else _shown(reading, band[name]), band["rule"]


def _decision_rows(reading: Mapping[str, Any]) -> Iterable[tuple[str, str, str]]:
    decision = reading["decision"]
    if decision["guard_band"]:
        guard = f"{decision['guard_factor']:g} × U, ILAC-G8"
        yield "guard band", _uncertain(reading, decision["guard_band"]), guard
    if decision["conformance_probability"] is not None:
        yield "probability of conformance", _percent(decision["conformance_probability"]), "JCGM 106, clause 7"
        if completes_step(decision["judgement"]):
            yield "risk that it is accepted wrongly", _percent(decision["false_accept_risk"]), "JCGM 106, 9.3.2"
        else:
            yield "risk that it is rejected wrongly", _percent(decision["false_reject_risk"]), "JCGM 106, 9.3.3"
    for what, beside in reading["siblings"].items():
        if beside is not None:
            yield from _sibling_rows(reading, what, beside)
    yield "rules", str(reading["rules_version"]), f"entry {reading['hashes']['entry'][:16]}"


def _sibling_rows(reading: Mapping[str, Any], what: str, beside: Mapping[str, Any]) -> Iterable[tuple[str, str, str]]:
    """How the reading, or its share of the mains, sits among those of its lot as they stand now."""
    read = what == "read"
    name = "this lot's other units" if read else "output over mains"
    low, middle, high = (
        _shown(reading, beside[key]) if read else f"{beside[key]:.4g}" for key in ("lowest", "middle", "highest")
    )
    own = "" if read else f"{beside['value']:.4g}; this lot "
    unlike = "; unlike them, worth a look" if beside["worth_a_look"] else ""
    yield name, f"{own}{low} to {high}, middle {middle}", f"{beside['units']} read at this step{unlike}"


def _shown(reading: Mapping[str, Any], number: float) -> str:
    return show(number, Kind(reading["kind"]), unit=reading["typed_unit"] or "")


def _uncertain(reading: Mapping[str, Any], number: float) -> str:
    return show_uncertainty(number, Kind(reading["kind"]), unit=reading["typed_unit"] or "")


def _percent(probability: float) -> str:
    """A probability in per cent; next to none and next to certain are said so, not shown as 0 and 1."""
    if probability < _NEXT_TO_NONE:
        return f"below {_NEXT_TO_NONE * 100:g} %"
    if probability > 1 - _NEXT_TO_NONE:
        return f"above {(1 - _NEXT_TO_NONE) * 100:g} %"
    return f"{probability * 100:.3g} %"


COMMANDS = (
    Command(
        name="follow",
        says="follow a unit's stored readings from typed text to decision; exit 1 when one comes out otherwise now",
        arguments=_arguments,
        run=_follow,
    ),
)
