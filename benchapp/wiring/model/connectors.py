"""What a trainer writes about a connector: its pins by name and place (mm), its outline, the side it is seen from.

Positions come from open standards; every file names its source and how far it was confirmed.
"""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from benchapp.files.locations import Mistake
from benchapp.files.models import FileModel
from benchapp.wiring.model.written import NotEmpty

LARGEST, SMALLEST = 1000.0, 0.01
"""mm; no connector is larger, and nothing smaller could be drawn (own choice)."""
Place = Annotated[float, Field(ge=-LARGEST, le=LARGEST)]
View = Literal["from the mating side", "from the solder side"]


class Outline(FileModel):
    """One drawn outline: a circle by diameter, a rectangle by width and height, or a polygon by its corners; mm."""

    shape: Literal["circle", "rectangle", "polygon"]
    """what is drawn"""
    x: Place = 0.0
    """its middle, to the right, mm"""
    y: Place = 0.0
    """its middle, upwards, mm"""
    diameter: float = Field(default=0.0, ge=0, le=LARGEST)
    """of a circle, mm"""
    width: float = Field(default=0.0, ge=0, le=LARGEST)
    """of a rectangle, mm"""
    height: float = Field(default=0.0, ge=0, le=LARGEST)
    """of a rectangle, mm"""
    points: tuple[tuple[Place, Place], ...] = ()
    """corners of a polygon: [[x, y], ...], mm"""

    @model_validator(mode="after")
    def _has_its_size(self) -> Self:
        needed = {"circle": self.diameter, "rectangle": self.width and self.height, "polygon": len(self.points) > 2}
        if not needed[self.shape]:
            size = {"circle": "diameter", "rectangle": "width and height", "polygon": "three points or more"}
            raise ValueError(f"a {self.shape} needs its {size[self.shape]}")
        return self


class Pin(FileModel):
    """One pin: its name, its middle and size in mm, what to print beside it and what to say aloud."""

    pin: str
    """its name, in quotes where it is a number"""
    x: Place
    """its middle, to the right, mm"""
    y: Place
    """its middle, upwards, mm"""
    shape: Literal["round", "flat"] = "round"
    """what it looks like from this side"""
    width: float = Field(default=1.5, ge=SMALLEST, le=LARGEST)
    """mm"""
    height: float = Field(default=1.5, ge=SMALLEST, le=LARGEST)
    """mm"""
    label: str = ""
    """what is printed beside it; its name, where nothing is given"""
    say: str = ""
    """what is said of it: the earth pin"""


class Connector(FileModel):
    """A connector's face as its file describes it."""

    connector: str
    """the connector's own id"""
    title: str
    """what it is, in words"""
    source: str
    """the standard that gives its places, or that they were measured"""
    status: str
    """how far that was confirmed"""
    view: View = "from the mating side"
    """the side it is drawn from"""
    say: str = ""
    """what is said of it: outlet"""
    mains: bool = False
    """whether mains is on it; its pins are then L, N and E"""
    outline: Annotated[tuple[Outline, ...], NotEmpty]
    """what is drawn round the pins"""
    pins: Annotated[tuple[Pin, ...], NotEmpty]
    """its pins, seen from that side"""
    notes: str = ""
    """what else is worth knowing"""

    @property
    def other_view(self) -> str:
        """The side that the file does not describe."""
        return "from the solder side" if self.view == "from the mating side" else "from the mating side"

    @model_validator(mode="after")
    def _pins_differ(self) -> Self:
        names = [pin.pin for pin in self.pins]
        for number, name in enumerate(names):
            if name in names[:number]:
                raise Mistake(f'pin "{name}" is described twice', expected="each pin once", key=("pins", number, "pin"))
        if self.mains and not {"L", "N"} <= set(names):
            raise ValueError("a mains connector names its pins L and N (and E)")
        return self
