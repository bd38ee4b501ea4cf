"""What a bench opening or closing may say of a meter that sends its readings: by a person, of a source that is on."""

from math import isfinite

from benchapp.sequences.language.vocabulary import ReadingSource
from benchapp.sequences.planning.chain_contents import MeterProof
from benchapp.words import say

LEAST_KNOWN = 1.0
"""V: a single cell gives more, lifted probes show less (own choice)"""
BY_A_PERSON = (ReadingSource.keys, ReadingSource.wire, ReadingSource.keyboard)


def refuse_proof(proof: MeterProof) -> str | None:
    """The sentence with which what a meter sent is refused; None where it may be recorded."""
    if proof.leads_source not in BY_A_PERSON or (proof.leads_source is ReadingSource.keys) == bool(proof.leads_sent):
        return say(
            "The leads of {meter} are read by a person, tips together: type what it shows, or take it by key.",
            meter=proof.meter,
        )
    if proof.known_reading is None and not proof.known_sent:
        return None
    known = is_of_known_source(proof.known_reading) and bool(proof.known_sent) and proof.proved
    return None if known else no_known_source(proof.meter)


def is_of_known_source(volts: float | None) -> bool:
    """Whether so many V come from a source that is on."""
    return volts is not None and isfinite(volts) and abs(volts) >= LEAST_KNOWN


def no_known_source(meter: str) -> str:
    """The sentence for a reading that proves no meter."""
    return say(
        "{meter} shows no known source, which gives {least:g} V at least. Hold the probes on it, look, take it again.",
        meter=meter,
        least=LEAST_KNOWN,
    )
