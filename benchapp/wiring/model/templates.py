"""Templates of designs: what comes into a workshop that has described nothing yet, as data beside the shipped files.

A template is an equipment file with names after a dollar; what they stand for follows from what a plate says.
"""

from collections.abc import Mapping
from functools import cache
from typing import Literal

from pydantic import Field

from benchapp.files.models import FileModel, read_model
from benchapp.files.shipped import shipped_folder
from benchapp.wiring.model.written import Ratio

Asked = Literal["power", "output volts", "output current", "impedance"]
NOT_KNOWN = "inside-not-known"
"""the template that is taken where the inside is not known"""
_SHARED = "shared"


class Template(FileModel):
    """One kind of thing that comes in, with the circuit that such a thing has."""

    template: str
    """its own id"""
    title: str
    """what such things are called"""
    say: str
    """how it is told from others"""
    template_class: Literal["I", "II", "none", "unknown"] = Field(alias="class")
    """protection class of IEC 61140; none for what has no mains"""
    asks: tuple[Asked, ...] = ()
    """what has to be known of it besides class and volts"""
    text: str
    """an equipment file without its id and title, with names after a dollar"""

    @property
    def mains_fed(self) -> bool:
        """Whether it has a plug."""
        return self.template_class != "none"


class Share(FileModel):
    """A resistance as a part of what the plate gives."""

    of: Literal["plate", "output", "impedance"]
    """volts² by watts of the plate, output volts by output amperes, or the impedance"""
    share: float
    """how much of it: 0.08"""
    tolerance: Ratio
    """up and down: 75 %"""
    source: str
    """where that is from"""


class Unloaded(FileModel):
    """What an output reads without load, as parts of its stated volts."""

    lowest: float = Field(alias="from")
    """0.9"""
    highest: float = Field(alias="to")
    """1.8"""
    source: str
    """where that is from"""


class Shared(FileModel):
    """What the templates have in common."""

    template_parts: str
    """their own id"""
    shares: Mapping[str, Share]
    """by the name after the dollar: what the plate tells of a resistance"""
    unloaded: Unloaded
    """what an output reads without load"""
    fused_cord: str
    """plug fuse and cores, where plugs have fuses"""
    cord: str
    """the cores, where plugs have none"""
    earth: str
    """the earth core"""


@cache
def shipped_templates() -> Mapping[str, Template]:
    """Every template by its id, by title."""
    folder = shipped_folder("resources") / "templates"
    read = [read_model(path, Template) for path in folder.glob("*.yaml") if path.stem != _SHARED]
    return {one.template: one for one in sorted(read, key=lambda one: one.title)}


@cache
def shared_parts() -> Shared:
    """What they have in common."""
    return read_model(shipped_folder("resources") / "templates" / f"{_SHARED}.yaml", Shared)
