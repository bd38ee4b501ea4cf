"""Equipment by its wiring: what should be read, what to probe, which part is broken."""

import argparse
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any

from benchapp.cli.shape import Command, add_json, add_region, path_named, print_json, print_table, say
from benchapp.judgement.statements.band import Band
from benchapp.judgement.statements.sentences import say_limits
from benchapp.quantities.display import show
from benchapp.quantities.units import SI_UNITS

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from benchapp.actions.standalone.circuits import ExpectedReading
    from benchapp.wiring.model.circuit import Circuit
    from benchapp.wiring.search.diagnosis import Diagnosis


def _own_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--own",
        metavar="FACT=VALUE",
        action="append",
        default=[],
        help='what one unit has of its own: "cord length=5 m", "cord area=0.5 mm²", "cord cores=2", "plug fuse=no", '
        '"plug fuse rating=1 A", "detachable lead=yes", "selector setting=220 V"; may be given again',
    )


def _circuit(asked: argparse.Namespace) -> "Circuit":
    from benchapp.actions.standalone.circuits import as_unit, read_circuit

    return as_unit(read_circuit(asked.equipment), asked.own)


def _circuit_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("equipment", metavar="EQUIPMENT", help="its id, or the .yaml file that describes it")
    _own_arguments(parser)
    parser.add_argument(
        "--set-up",
        metavar="WORDS",
        action="append",
        default=[],
        help='how it is set up: "switch off", "fuse out", "selector at 240"; may be given again',
    )
    add_json(parser)


def _expect_arguments(parser: argparse.ArgumentParser) -> None:
    _circuit_arguments(parser)
    parser.add_argument("--power", choices=("on", "off"), help="voltages at the outputs, or dead resistances")
    parser.add_argument("--mains", metavar="TEXT", help='the mains as measured, "243 V"; implies power on')
    add_region(parser, "whose legal range counts where mains was not measured", default="gb")


def _expect(asked: argparse.Namespace) -> int:
    from benchapp.actions.standalone.circuits import expected_readings, mains_said

    circuit = _circuit(asked)
    power = asked.power == "on" or (asked.power is None and asked.mains is not None)
    found = expected_readings(circuit, power=power, mains=asked.mains, set_up=asked.set_up, region=asked.region)
    for words in () if asked.json else mains_said(circuit, mains=asked.mains, region=asked.region, set_up=asked.set_up):
        say(words)
    if asked.json:
        print_json(
            [
                {"a": one.a, "b": one.b, "say": one.say, "function": one.function, "red": one.red}
                | _described(one.band)
                for one in found
            ]
        )
    elif found:
        _print_expected(found)
    else:
        say(f"Nothing comes out of the {circuit.title}: no voltage is read on it.")
    return 0


def _print_expected(found: "Sequence[ExpectedReading]") -> None:
    """The readings as a table; what to beware of stands once below it, by its number."""
    notes = {words: str(number) for number, words in enumerate(_cautions(found), 1)}
    rows = []
    for one in found:
        expected, limits, _ = _shown(one.band)
        beware = ", ".join(notes[words] for words in one.band.cautions)
        rows.append((f"{one.a} – {one.b}", one.say, one.function, expected, limits, beware))
    print_table(rows, head=("terminals", "between", "meter", "expected", "band", "beware"))
    for words, number in notes.items():
        say(f"{number}: {words}")


def _cautions(found: "Sequence[ExpectedReading]") -> "Mapping[str, None]":
    return dict.fromkeys(words for one in found for words in one.band.cautions)


def _described(band: Band) -> dict[str, Any]:
    """The band for programs, in SI units; null leaves a side open."""
    return {
        "unit": SI_UNITS[band.kind].symbol,
        "expected": band.expected,
        "lower": band.lower,
        "upper": band.upper,
        "cautions": list(band.cautions),
        "derivation": [asdict(line) for line in band.derivation],
    }


def _shown(band: Band) -> tuple[str, str, str]:
    expected = "" if band.expected is None else show(band.expected, band.kind, unit=band.unit)
    return expected, say_limits(band), "; ".join(band.cautions)


def _plan_arguments(parser: argparse.ArgumentParser) -> None:
    _circuit_arguments(parser)
    parser.add_argument("--meter", metavar="ID", help="the meter that probes: what it tells apart; a usual one if none")


def _plan(asked: argparse.Namespace) -> int:
    from benchapp.actions.standalone.circuits import plan_probes, undetectable_by_probes

    circuit = _circuit(asked)
    plans = plan_probes(circuit, set_up=asked.set_up, meter=asked.meter)
    hidden = undetectable_by_probes(circuit, set_up=asked.set_up, meter=asked.meter)
    if asked.json:
        probes = {
            plan.connector: [
                {"id": one.id, "kind": str(one.kind), "a": one.a, "b": one.b, "say": one.say, "why": one.why}
                | _described(one.band)
                for one in plan.probes
            ]
            for plan in plans
        }
        unseen = [
            {"defect": one.fault_mode.words(circuit), "part": one.fault_mode.part, "why": one.why} for one in hidden
        ]
        print_json({"equipment": circuit.equipment, "connectors": probes, "not shown": unseen})
        return 0
    for plan in plans:
        say(f"{plan.title} ({plan.connector})")
        rows = [(str(one.kind), f"{one.a} – {one.b}", *_shown(one.band)[1:], one.why) for one in plan.probes]
        print_table(rows, head=("kind", "black – red", "band", "beware", "why"))
        say()
    say("No probe shows:" if hidden else "Every single defect can be shown.")
    for line in dict.fromkeys(f"  {one.fault_mode.words(circuit)}: {one.why}" for one in hidden):
        say(line)
    return 0


def _locate_arguments(parser: argparse.ArgumentParser) -> None:
    _circuit_arguments(parser)
    parser.add_argument(
        "--reading",
        metavar="A,B=TEXT",
        action="append",
        default=[],
        help='a reading between two terminals, "outlet.1,outlet.4=OL"; given once for each',
    )
    parser.add_argument("--mains", metavar="TEXT", help='the mains as measured, for readings in volts: "243 V"')
    parser.add_argument("--workbook", metavar="FILE", type=path_named, help="weigh by the repairs recorded there too")


def _locate(asked: argparse.Namespace) -> int:
    from benchapp.actions.standalone.circuits import locate_fault

    circuit = _circuit(asked)
    history = _history(asked.workbook, circuit.equipment) if asked.workbook else ()
    found = locate_fault(circuit, asked.reading, mains=asked.mains, set_up=asked.set_up, history=history)
    if asked.json:
        print_json(_as_json(found))
    else:
        _print_diagnosis(found)
        _print_set_aside(circuit, asked.reading)
    return 0 if found.found and not found.inconsistent else 1


def _print_set_aside(circuit: "Circuit", readings: "Sequence[str]") -> None:
    """Voltages behind a rectifier: the model knows no diodes, so they point to no part; a line says so."""
    from benchapp.wiring.expected.stated import is_steady

    for text in readings:
        ends, _, shown = text.partition("=")
        a, b = (end.strip() for end in ends.split(","))
        if shown.strip().casefold().endswith("v") and is_steady(circuit, a, b):
            say(f"Set aside: {text}. A diode decides on that voltage: hold it against the plate; it tells no part.")


def _history(workbook: Path, equipment: str) -> tuple[Any, ...]:
    from benchapp.actions.standalone.circuits import confirmed_repairs
    from benchapp.actions.workbench.bench import Bench

    with Bench.open(workbook) as bench:
        return confirmed_repairs(bench, equipment)


def _as_json(found: "Diagnosis") -> dict[str, Any]:
    return {
        "sentence": found.sentence,
        "found": list(found.found),
        "inseparable": list(found.ambiguity_group),
        "disagreeing": [
            {"a": observation.a, "b": observation.b, "value": observation.value} for observation in found.inconsistent
        ],
        "suspects": [
            {
                "part": one.part,
                "share": one.share,
                "words": one.words,
                "for": list(one.speaks_for),
                "against": list(one.speaks_against),
                "history": one.history,
            }
            for one in found.suspects
        ],
        "next": None if found.next_probe is None else asdict(found.next_probe),
        "rests_on": None if found.single_support is None else asdict(found.single_support),
    }


def _print_diagnosis(found: "Diagnosis") -> None:
    say(found.sentence)
    rows = [
        (f"{one.share:.0%}", one.words, "; ".join(one.speaks_for), "; ".join(one.speaks_against), one.history)
        for one in found.suspects
    ]
    head = ("chance", "suspect", "for it", "against it", "before")
    filled = [column for column in range(len(head)) if any(row[column] for row in rows)]
    if rows:
        print_table([tuple(row[column] for column in filled) for row in rows], head=tuple(head[c] for c in filled))
    if found.next_probe is not None:
        power = "mains on" if found.next_probe.live else "dead"
        say(f"Next: {found.next_probe.say} ({found.next_probe.a} – {found.next_probe.b}, {power})")
    support = found.single_support
    if support is not None:
        say(f"All of it rests on one reading. {support.say} ({support.a} – {support.b})")


def _pins_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("equipment", metavar="EQUIPMENT", help="its id, or the .yaml file that describes it")
    _own_arguments(parser)
    parser.add_argument("--connector", metavar="NAME", help="by its name in that file; the first output unless named")
    parser.add_argument("--mains", metavar="TEXT", help='the mains for which voltages are given: "243 V"')
    add_region(parser, "whose legal range of mains counts where none is given", default="gb")
    parser.add_argument("--page", choices=("A4", "Letter"), default="A4")
    parser.add_argument("--out", metavar="FILE", type=path_named, required=True, help="the PDF to write")


def _pins(asked: argparse.Namespace) -> int:
    from benchapp.actions.papers.pin_cards import export_pin_card

    done = export_pin_card(
        asked.equipment,
        out=asked.out,
        connector=asked.connector,
        mains=asked.mains,
        region=asked.region,
        page=asked.page,
        own=asked.own,
    )
    say(done.words)
    return 0


COMMANDS = (
    Command(
        name="expect",
        says="what a sound unit reads between its terminals, by its wiring",
        arguments=_expect_arguments,
        run=_expect,
    ),
    Command(
        name="plan",
        says="what to probe at each connector, and what no probe can show",
        arguments=_plan_arguments,
        run=_plan,
    ),
    Command(
        name="locate",
        says="which part is broken by these readings, and what to probe next; exit 1 until one part is found",
        arguments=_locate_arguments,
        run=_locate,
    ),
    Command(
        name="pins",
        says="a connector's face at true size with its expected readings, as PDF to lay under a breakout lead",
        arguments=_pins_arguments,
        run=_pins,
    ),
)
