"""Where a search stands: ranked suspects, the next probe, and the sentence that says so."""

from collections.abc import Sequence
from dataclasses import dataclass

from benchapp.wiring.model.circuit import Circuit
from benchapp.wiring.search.hypotheses import Faults
from benchapp.wiring.search.next_probe import NextProbe
from benchapp.wiring.search.observations import Observation
from benchapp.words import say

STANDS_OUT = 0.2  # chance from which on a suspect is called likely
EQUAL = 0.95  # of the leading suspect's share: from here on one is called as likely
MOST_EQUAL = 2  # of these that a sentence names
SOUND_UNIT = ("",)  # what is found where nothing is wrong
MOST_NAMES = 6  # parts that a sentence names; the rest is counted


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspect:
    """A replaceable part: its chance, its likeliest fault in words, and the readings for and against it."""

    part: str
    share: float
    words: str
    faults: Faults
    speaks_for: tuple[str, ...] = ()
    speaks_against: tuple[str, ...] = ()
    history: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagnosis:
    """Where the search stands: ranked suspects, the next probe, and whether it is over, and how."""

    suspects: tuple[Suspect, ...]
    next_probe: NextProbe | None
    found: tuple[str, ...]  # the parts that hold 95 %; SOUND_UNIT where every reading agrees with one
    ambiguity_group: tuple[str, ...]  # further parts that no probe can tell from these, or from each other
    inconsistent: tuple[Observation, ...]  # readings that no hypothesis explains: take them again
    sentence: str
    single_support: NextProbe | None = None  # the one reading without which a sound unit would explain all others


def sentence_of(
    circuit: Circuit,
    suspects: Sequence[Suspect],
    found: Sequence[str],
    ambiguity_group: Sequence[str],
    inconsistent: Sequence[Observation],
    *,
    goes_on: bool = False,
) -> str:
    """What was found, what cannot be told apart, which readings contradict each other, or who leads so far."""
    names = _names(circuit, ambiguity_group)
    if inconsistent:
        again = "; ".join(observation.words(circuit) for observation in inconsistent)
        return say("Nothing explains all readings. Take these again: {again}.", again=again)
    if tuple(found) == SOUND_UNIT:
        return _sound(names, goes_on=goes_on)
    if found:
        words = f"{suspects[0].words[:1].upper()}{suspects[0].words[1:]} ({100 * suspects[0].share:.0f} % likely)."
        return (
            say("{words} No probe can tell it from: {names}.", words=words, names=names) if ambiguity_group else words
        )
    return say("No probe can tell these apart: {names}.", names=names) if ambiguity_group else _so_far(suspects)


def _sound(hidden: str, *, goes_on: bool) -> str:
    """That nothing reads wrong, and what could be wrong without a reading that shows it."""
    if goes_on:
        return say("Every reading so far agrees with a sound unit.")
    words = say("Every reading agrees with a sound unit.")
    return say("{words} What these readings would not show: {names}.", words=words, names=hidden) if hidden else words


def _so_far(suspects: Sequence[Suspect]) -> str:
    """Who leads while the search goes on."""
    stands_out = suspects[0].part and suspects[0].share >= STANDS_OUT
    equal = [one for one in suspects if one.part and one.share > EQUAL * suspects[0].share]
    if stands_out and len(equal) > 1:
        more = f", or one of {len(equal) - MOST_EQUAL} more" if len(equal) > MOST_EQUAL else ""
        named = ", or ".join(one.words for one in equal[:MOST_EQUAL])
        return say(
            "So far as likely as each other: {named}{more} ({value:.0f} % likely each).",
            named=named,
            more=more,
            value=100 * equal[0].share,
        )
    wrong = next((suspect for suspect in suspects if suspect.part), suspects[0])
    lead = "Most likely so far" if stands_out else "No fault stands out yet; the likeliest"
    return f"{lead}: {wrong.words} ({100 * wrong.share:.0f} % likely)."


def _names(circuit: Circuit, parts: Sequence[str]) -> str:
    """The first few of them in words, and how many more there are."""
    more = f" and {len(parts) - MOST_NAMES} more" if len(parts) > MOST_NAMES else ""
    return ", ".join(_name(circuit, part) for part in parts[:MOST_NAMES]) + more


def _name(circuit: Circuit, part: str) -> str:
    """A replaceable part in words; a pair of pins stands for what joins or crosses them."""
    if not part:
        return "nothing wrong"
    pins = " and ".join(circuit.say(pin) for pin in part.split(", "))
    return circuit.part_names.get(part, f"the wiring at {pins}")
