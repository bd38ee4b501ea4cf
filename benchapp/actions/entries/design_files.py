"""Designs of the workshop's own: an equipment file made from a template into the workshop's folder, checked before."""

from typing import TYPE_CHECKING

from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.own_files import first_complaint, write_own_file
from benchapp.actions.workbench.problems import Refused
from benchapp.words import say

if TYPE_CHECKING:
    from benchapp.wiring.checks.design_sheet import DesignSheet, Place
    from benchapp.wiring.model.circuit import Circuit

FOLDER = "equipment"


def next_design_id(bench: Bench, title: str) -> str:
    """An id made from the title that no design of the workshop has: "floor-lamp", "floor-lamp-2" ..."""
    words = "".join(letter if letter.isascii() and letter.isalnum() else " " for letter in title.lower()).split()
    stem = "-".join(words)[:40].strip("-") or "design"
    stem = stem if stem[0].isalpha() else f"d-{stem}"
    known, folder = bench.catalogue.equipment, bench.path.parent / FOLDER
    found, number = stem, 2
    while found in known or (folder / f"{found}.yaml").exists():
        found, number = f"{stem}-{number}", number + 1
    return found


def place_of(bench: Bench) -> "Place":
    """What follows for a design from where the workshop is."""
    from benchapp.wiring.checks.design_sheet import Place

    profile = bench.catalogue.limits[bench.workshop.region]
    mains = profile.supplied_by(bench.workshop.mains).mains
    return Place(
        volts=float(mains.nominal.exact),
        frequency=float(mains.frequency.exact),
        plugs=profile.plug.connectors if profile.plug is not None else (),
        fused=profile.fuses is not None,
    )


def drawn_design(bench: Bench, sheet: "DesignSheet") -> "tuple[str, Circuit]":
    """The text of the equipment file and its circuit, nothing written; raises Refused with what is wrong."""
    from benchapp.errors import BenchError
    from benchapp.files.locations import FileProblems
    from benchapp.files.models import build_model
    from benchapp.files.reader import parse_document
    from benchapp.wiring.checks.compile import compile_circuit
    from benchapp.wiring.checks.design_sheet import design_text
    from benchapp.wiring.model.circuit import WiringProblem
    from benchapp.wiring.model.equipment import Equipment

    if not sheet.title.strip():
        raise Refused(say("Say what it is, in words that tell it from others."))
    try:
        text = design_text(sheet, place_of(bench))
        design = build_model(parse_document(text, f"{sheet.equipment}.yaml"), Equipment)
        return text, compile_circuit(design, bench.catalogue.connectors)
    except FileProblems as problems:
        raise Refused(first_complaint(problems)) from problems
    except WiringProblem as problem:
        raise Refused(f"{str(problem).splitlines()[0].rstrip('.')}.") from problem
    except BenchError as problem:
        raise Refused(problem.sentence) from problem
    except ValueError as problem:
        raise Refused(f"{str(problem).rstrip('.')}.") from problem


def add_design(bench: Bench, sheet: "DesignSheet", *, by: str) -> ChangeSet:
    """Write the design's file beside the workbook, in its folder of equipment; raises Refused with what is wrong."""
    from benchapp.wiring.checks.design_sheet import not_known_yet

    if not by.strip():
        raise Refused(say("Nobody's initials are given. Enter yours first."))
    if sheet.equipment in bench.catalogue.equipment:
        raise Refused(say("There is a design {name} already. Give this one another name.", name=sheet.equipment))
    text, _circuit = drawn_design(bench, sheet)
    path = write_own_file(bench, FOLDER, sheet.equipment, text)
    bench.reread_files()
    words = say("{title} is a design of this workshop. It is described in {path}.", title=sheet.title, path=path)
    if wanting := not_known_yet(sheet):
        words += say(
            " Not known yet: {wanting}. Until it is, its units are tested dead, and no mains comes to them.",
            wanting=", ".join(wanting),
        )
    return ChangeSet(units=frozenset(), lots=frozenset(), words=words)
