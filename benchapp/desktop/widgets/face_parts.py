"""What is drawn of a connector: its face (a plate, without one) and the probes that go there, in words too; Qt-free."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.wiring.model.faces import Face


@dataclass(frozen=True, slots=True, kw_only=True)
class Touch:
    """Where one probe goes: `spot` is a pin's name on the face (or, without a face, what to touch)."""

    spot: str
    probe: str  # "red" or "black"; "one" or "other" where a colour would mislead; empty: lit without a probe
    terminal: str = ""
    """what the circuit calls it"""


@dataclass(frozen=True, slots=True, kw_only=True)
class FacePart:
    """One connector (or a plate, without a face) with the probes that go there."""

    title: str
    face: "Face | None"
    touches: tuple[Touch, ...]
    short: str = ""
    """the title in a word or two, for where there is little room"""
    joined: tuple[tuple[str, str], ...] = ()
    """pins that a wire joins, by their names"""
    connector: str = ""
    """what the circuit calls the connector: the terminal of a pin is the two names with a dot between"""


def probe_word(probe: str) -> str:
    """A probe by its colour, so that colour alone says nothing."""
    words = {"red": tr("RED probe"), "black": tr("BLACK probe"), "one": tr("ONE probe"), "other": tr("OTHER probe")}
    return words.get(probe, tr("HERE"))


def say_touch(part: FacePart, touch: Touch) -> str:
    """Where a probe goes, in the connector's own words for that pin."""
    pins = part.face.pins if part.face else ()
    return next((pin.say for pin in pins if pin.name == touch.spot), touch.spot)
