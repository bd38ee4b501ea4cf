"""Complaints about set-ups that cannot be made, or of which the program does not know what they do to the circuit.

A misspelt set-up would be confirmed by hand and change nothing in what is expected, so it is a mistake.
"""

from collections.abc import Iterator

from benchapp.errors import BenchError
from benchapp.files.locations import Complaint, Key
from benchapp.files.spelling import nearest
from benchapp.quantities.entry import read_quantity
from benchapp.sequences.checks.sequence_context import Walk
from benchapp.sequences.language.models import Step
from benchapp.sequences.planning.terminals import LOAD, PLAIN_SET_UPS, SET_UPS, is_set_up, load_quantities, named_switch

EXPECTED = f"{', '.join(SET_UPS)}, a switch at a position, or “see that …” for what is confirmed by hand"


def check_set_up(walk: Walk, key: Key, step: Step) -> Iterator[Complaint]:
    """Complaints about the set-up of one step, which stands under `key`."""
    for number, words in enumerate(step.set_up):
        named = named_switch(words)
        if not is_set_up(words):
            near = nearest(words, PLAIN_SET_UPS)
            what = f"the set-up “{words}” is none that the program knows"
            expected = LOAD if "load" in words.casefold() else EXPECTED
            yield walk.complain((*key, number), what, "" if near else expected, near)
        elif named is not None and named[0] not in walk.known.switches:
            what = f"no circuit has a switch “{named[0]}”"
            yield walk.unknown((*key, number), what, named[0], {"selector", *walk.known.switches})
        for text, kind in load_quantities(words):
            try:
                read_quantity(text, kind=kind)
            except BenchError as problem:
                yield walk.complain((*key, number), problem.sentence.rstrip("."))
