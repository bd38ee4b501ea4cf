"""What a step of any kind has in its file."""

from typing import Literal

from pydantic import Field

from benchapp.files.models import FileModel
from benchapp.sequences.language.field_types import When, Words
from benchapp.sequences.language.vocabulary import Role


class NamedFault(FileModel):
    """A fault that an answer raises by itself."""

    part: str
    """the part that is at fault: one of the circuit's, or one that every item may have, such as plug or enclosure"""
    mode: str = ""
    """how: open, shorted, high resistance, loose ..."""
    words: Words
    """the fault in a sentence, for screen and record"""


class StepBase(FileModel):
    """What every step has: what to say, when it applies, how it is set up, what it shows."""

    say: Words
    """what to do, in a sentence or two"""
    why: str = ""
    """why it is done, for whoever wants to know"""
    when: When = Field(default_factory=dict)
    """facts of the unit, or answers of earlier ask steps, for which the step is done"""
    set_up: tuple[Words, ...] = ()
    """how the item is set up: switch on, fuse out, L and N joined, selector at 240 V, load of ..., see that ..."""
    opens: tuple[Literal["cord", "plug", "enclosure"], ...] = ()
    """what is opened to do it: dead tests that were taken before are taken again"""
    shows: tuple[Role, ...] = ()
    """what it proves towards power, where it is fit to"""
