"""Pin cards: what to lay under a breakout lead, worked out from an equipment's wiring alone."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from benchapp.actions.papers.file_writing import refuse_place, write_whole
from benchapp.actions.standalone.circuits import (
    CircuitProblem,
    ExpectedReading,
    as_unit,
    expected_readings,
    mains_said,
    read_design,
)
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.judgement.meters.functions import Function
from benchapp.words import say

if TYPE_CHECKING:
    from benchapp.actions.workbench.bench import Bench
    from benchapp.paper.content import PinCard, PinReading
    from benchapp.sequences.history.unit_state import UnitState
    from benchapp.sequences.planning.planned import Plan
    from benchapp.wiring.model.circuit import Circuit, Plug
    from benchapp.wiring.model.connectors import Connector

CAUTIONS = (
    "Dead readings with the plug out and in sight, discharged, voltage proved low.",
    "Live readings only once the unit's safety tests hold.",
    "Follow local codes; leave what you are not trained for to licensed people.",
)
NO_MAINS_CAUTIONS = ("Dead readings only, with nothing else connected and capacitors discharged.", CAUTIONS[-1])
MAINS_CAUTION = "Never lay probes on this connector with mains on it."
ISOLATED = 1e5
"""ohm: a pair that may read less is not kept apart, as through a diode; common practice, no source"""
ONE_WIRE = 1.0
"""ohm, nominal: pins joined by less are one wire on a hand meter; common practice, no source"""


def export_pin_card(
    equipment: str,
    *,
    out: Path,
    connector: str | None = None,
    mains: str | None = None,
    region: str = "gb",
    page: str = "A4",
    printed: str = "",
    folders: Sequence[Path] = (),
    own: Sequence[str] = (),
) -> ChangeSet:
    """Write the pin card of an equipment's connector (its only output unless named) as PDF.

    Voltages are without load, at `mains` ("243 V") or over the region's legal range; `own` is what the unit has of its
    own ("cord length=5 m"). Raises CircuitProblem for a connector that it does not have, FileProblems, ExportProblem,
    PaperProblem.
    """
    from benchapp.files.spelling import nearest
    from benchapp.paper.content import PaperKind
    from benchapp.paper.sheets.pin_cards import pin_card

    refuse_place(out, PaperKind.PIN_CARD)
    design, drawn = read_design(equipment, folders)
    circuit = as_unit(design, own)
    name = connector or _first_output(circuit)
    if name not in circuit.connectors:
        near = nearest(name, circuit.connectors)
        hint = (
            say("did you mean {near}?", near=near)
            if near
            else say("it has {listed}.", listed=", ".join(circuit.connectors))
        )
        raise CircuitProblem(
            say("{equipment} has no connector {name!r}; {hint}", equipment=circuit.equipment, name=name, hint=hint)
        )
    content = pin_card_content(circuit, name, drawn[name], mains=mains, region=region, printed=printed, folders=folders)
    write_whole(out, pin_card(content, page=page), PaperKind.PIN_CARD)
    return ChangeSet(
        files=(out,),
        words=say(
            "The pin card of {equipment}, {title}, is in {out}.",
            equipment=content.equipment,
            title=content.face.title,
            out=out,
        ),
    )


def export_pin_card_of_unit(bench: "Bench", unit: str, *, out: Path, page: str = "A4") -> ChangeSet:
    """The card of a unit's first output as a PDF file. Raises ExportProblem, PaperProblem."""
    from benchapp.paper.content import PaperKind
    from benchapp.paper.sheets.pin_cards import pin_card

    refuse_place(out, PaperKind.PIN_CARD)
    content = pin_card_of_unit(bench, unit)
    write_whole(out, pin_card(content, page=page), PaperKind.PIN_CARD)
    return ChangeSet(
        files=(out,),
        words=say("The pin card of {unit}, {title}, is in {out}.", unit=unit, title=content.face.title, out=out),
    )


def pin_card_of_unit(bench: "Bench", unit: str) -> "PinCard":
    """What the card of a unit's first output says, by its run's own texts and what it has of its own.

    Voltages are at the mains that was just measured for it, else over the legal range. Raises PaperProblem.
    """
    from benchapp.sequences.planning.terminals import circuit_now

    plan, state = bench.plan(unit), bench.state(unit)
    circuit = circuit_now(plan, state.facts)
    name, mains = _first_output(circuit), _mains_measured(plan, state)
    return pin_card_content(circuit, name, plan.connectors[name], mains=mains, region=bench.workshop.region, unit=unit)


def _mains_measured(plan: "Plan", state: "UnitState") -> str | None:
    """The mains voltage that serves the unit's outputs now, as "243 V"; None where none was measured just now."""
    from benchapp.quantities.dimensions import Kind
    from benchapp.quantities.display import show
    from benchapp.sequences.answering.formula_variables import mains_now
    from benchapp.sequences.interlock.free_probes import live_step

    step = live_step(plan)
    mains = mains_now(plan, state, step, state.at) if step is not None else None
    return None if mains is None else show(float(mains.value_si), Kind.voltage)


def pin_card_content(
    circuit: "Circuit",
    connector: str,
    drawn: "Connector",
    *,
    mains: str | None = None,
    region: str = "gb",
    printed: str = "",
    folders: Sequence[Path] = (),
    unit: str = "",
) -> "PinCard":
    """What the card of one connector says; `drawn` is the connector as its file describes it.

    With `unit` it says whose bands these are: the circuit is then that unit's own.
    """
    from benchapp.paper.content import PinCard
    from benchapp.wiring.model.faces import face

    plug, words = circuit.connectors[connector], _spoken(circuit, connector, drawn)
    pins = set(plug.terminals)
    every = expected_readings(circuit, folders=folders)
    dead = [one for one in every if {one.a, one.b} <= pins]
    readings = [_reading(one, "resistance, dead", words) for one in dead if not _is_isolation(one)]
    readings += [_reading(one, "resistance, dead", words) for one in _across(circuit, plug, every)]
    said = mains_said(circuit, mains=mains, region=region, folders=folders)
    conditions = [say("Bands of {unit}, with what it has of its own.", unit=unit)] if unit else []
    conditions.append(
        say("Resistances with switches on and fuses in{selector_words}.", selector_words=_selector_words(circuit))
    )
    if circuit.supply is None and mains is not None:
        raise CircuitProblem(
            say("{title} has no supply, so its card has no voltages: leave the mains out.", title=circuit.title)
        )
    if circuit.supply is not None and not plug.mains:
        live = expected_readings(circuit, power=True, mains=mains, region=region, folders=folders)
        here = [one for one in live if {one.a, one.b} <= pins]
        readings += [_reading(one, _voltage_words(circuit, one), words) for one in here if _is_judged(one)]
        at = (
            f"at {mains} mains"
            if mains
            else say("over the legal range of mains ({region_title})", region_title=_region_title(region, folders))
        )
        conditions.append(say("Voltages without load, {at}.", at=at))
        if not all(_is_judged(one) for one in here):
            conditions.append("Where no voltage is given between two pins, none is judged: a meter may show any.")
    cautions = CAUTIONS if circuit.supply is not None else NO_MAINS_CAUTIONS
    numbered, notes = _notes_below(readings)
    return PinCard(
        equipment=circuit.title,
        face=face(drawn),
        groups=_groups(circuit, plug, dead, words),
        readings=numbered,
        conditions=(*notes, *conditions),
        cautions=(*said, *((MAINS_CAUTION,) if plug.mains else ()), *cautions),
        printed=printed,
    )


def _across(circuit: "Circuit", plug: "Plug", every: Sequence[ExpectedReading]) -> list[ExpectedReading]:
    """What conducts from a pin here to another output or to a point; by the wire itself where one leads there."""
    from benchapp.wiring.model.groups import carries_voltage_on, groups_of

    wire, pins = groups_of(circuit, carries_voltage_on), set(plug.terminals)
    mains = {terminal for other in circuit.connectors.values() if other.mains for terminal in other.terminals}
    here = {wire[pin] for pin in pins}
    found = [one for one in every if len({one.a, one.b} & pins) == 1 and not {one.a, one.b} & mains]
    return [
        one
        for one in found
        if not _is_isolation(one) and (wire[one.a] == wire[one.b] or not {wire[one.a], wire[one.b]} <= here)
    ]


def _spoken(circuit: "Circuit", connector: str, drawn: "Connector") -> Mapping[str, str]:
    """What the card calls each terminal: a pin of the face as it is labelled there, anything else in full."""
    labels = {f"{connector}.{pin.pin}": pin.label or pin.pin for pin in drawn.pins}
    return {terminal: labels.get(terminal) or circuit.say(terminal) for terminal in circuit.terminals}


def _selector_words(circuit: "Circuit") -> str:
    from benchapp.wiring.assembly.selecting import selected
    from benchapp.wiring.model.circuit import State

    position = selected(circuit, State())
    return say(", the voltage selector at {position}", position=position) if position else ""


def _region_title(region: str, folders: Sequence[Path]) -> str:
    from benchapp.actions.standalone.judging import read_limits

    (profile,) = read_limits(region=region, folders=folders)
    return profile.title


def _voltage_words(circuit: "Circuit", one: ExpectedReading) -> str:
    stated = any({output.a, output.b} == {one.a, one.b} for output in circuit.outputs)
    return f"{one.function}, {'as stated' if stated or one.function is Function.dc_voltage else 'no load'}"


def _first_output(circuit: "Circuit") -> str:
    return next((plug.name for plug in circuit.output_connectors), next(iter(circuit.connectors)))


def _is_isolation(one: ExpectedReading) -> bool:
    """Whether nothing joins the two: the groups say so in fewer lines."""
    return one.band.expected is None and (one.band.lower or 0.0) >= ISOLATED


def _is_judged(one: ExpectedReading) -> bool:
    return one.band.lower is not None or one.band.upper is not None


def _probes(one: ExpectedReading, words: Mapping[str, str]) -> str:
    """The two pins; which probe is on which where a DC voltage makes it count."""
    if not one.red:
        return f"{words[one.a]} and {words[one.b]}"
    return say(
        "red on {words}, black on {words_2}", words=words[one.red], words_2=words[one.b if one.red == one.a else one.a]
    )


def _reading(one: ExpectedReading, what: str, words: Mapping[str, str]) -> "PinReading":
    from benchapp.judgement.statements.sentences import say_limits
    from benchapp.paper.content import PinReading
    from benchapp.quantities.display import show

    expected = "" if one.band.expected is None else show(one.band.expected, one.band.kind, unit=one.band.unit)
    return PinReading(
        between=_probes(one, words),
        what=what,
        expected=expected,
        band=say_limits(one.band),
        note="\n".join(one.band.cautions),
    )


def _notes_below(readings: "Sequence[PinReading]") -> "tuple[tuple[PinReading, ...], tuple[str, ...]]":
    """The readings with their notes by number, and each note once; what the conditions say of the mains is no note."""
    from dataclasses import replace

    from benchapp.wiring.expected.live import NOT_MEASURED

    notes = dict.fromkeys(note for one in readings for note in one.note.splitlines() if note != NOT_MEASURED)
    numbers = {note: str(number) for number, note in enumerate(notes, 1)}
    numbered = tuple(
        replace(one, note=", ".join(numbers[note] for note in one.note.splitlines() if note in numbers))
        for one in readings
    )
    return numbered, tuple(f"{number}: {note}" for note, number in numbers.items())


def _groups(
    circuit: "Circuit", plug: "Plug", dead: Sequence[ExpectedReading], words: Mapping[str, str]
) -> tuple[str, ...]:
    """Which pins are one wire, which hang together through windings, resistors or diodes, which are kept apart."""
    from benchapp.wiring.model.groups import carries_voltage_on, groups_of

    wire = groups_of(circuit, carries_voltage_on)
    joined = [one for one in dead if (one.band.expected or 0.0) < ONE_WIRE and wire[one.a] == wire[one.b]]
    wires = _joined(plug.terminals, [one for one in joined if one.band.expected is not None])
    together = _joined(plug.terminals, [one for one in dead if not _is_isolation(one)])
    lines = [say("{listed} are one wire", listed=_listed(pins, words)) for pins in wires if len(pins) > 1]
    lines += [
        say("{listed} hang together", listed=_listed(pins, words))
        for pins in together
        if len(pins) > 1 and pins not in wires
    ]
    apart = [pins for pins in together if not set(pins) <= plug.unused]
    if len(apart) > 1:
        lines.append(
            say("Kept apart, OL between them: {listed}", listed="; ".join(_listed(pins, words) for pins in apart))
        )
    unused = [pin for pin in plug.terminals if pin in plug.unused]
    return (*lines, *(say("{words} is unused: OL to every other pin", words=words[pin]) for pin in unused))


def _joined(pins: Sequence[str], readings: Sequence[ExpectedReading]) -> list[tuple[str, ...]]:
    """The pins in groups, as these readings join them."""
    groups = [{pin} for pin in pins]
    for a, b in ((one.a, one.b) for one in readings):
        first = next(group for group in groups if a in group)
        second = next(group for group in groups if b in group)
        if first is not second:
            first |= second
            groups.remove(second)
    return [tuple(pin for pin in pins if pin in group) for group in groups]


def _listed(pins: Sequence[str], words: Mapping[str, str]) -> str:
    names = [words[pin] for pin in pins]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
