"""What does a trainer write about a connector? Its pins by name and place (mm), its outline, the side it is seen from.

Positions come from open standards; every file names its source and how far it was confirmed.
"""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from benchapp.files import FileModel, Mistake
from benchapp.wiring.written import NotEmpty

View = Literal["from the mating side", "from the solder side"]


class Outline(FileModel):
    """One drawn outline: a circle by diameter, a rectangle by width and height, or a polygon by its corners; mm."""

    shape: Literal["circle", "rectangle", "polygon"]
    x: float = 0.0
    y: float = 0.0
    diameter: float = Field(default=0.0, ge=0)
    width: float = Field(default=0.0, ge=0)
    height: float = Field(default=0.0, ge=0)
    points: tuple[tuple[float, float], ...] = ()

    @model_validator(mode="after")
    def _has_its_size(self) -> Self:
        needed = {"circle": self.diameter, "rectangle": self.width * self.height, "polygon": len(self.points) > 2}
        if not needed[self.shape]:
            size = {"circle": "diameter", "rectangle": "width and height", "polygon": "three points or more"}
            raise ValueError(f"a {self.shape} needs its {size[self.shape]}")
        return self


class Pin(FileModel):
    """One pin: its name, its middle and size in mm, what to print beside it and what to say aloud."""

    pin: str
    x: float
    y: float
    shape: Literal["round", "flat"] = "round"
    width: float = Field(default=1.5, gt=0)
    height: float = Field(default=1.5, gt=0)
    label: str = ""
    say: str = ""


class Connector(FileModel):
    """A connector's face as its file describes it."""

    connector: str
    title: str
    source: str
    status: str
    view: View = "from the mating side"
    say: str = ""
    mains: bool = False
    outline: Annotated[tuple[Outline, ...], NotEmpty]
    pins: Annotated[tuple[Pin, ...], NotEmpty]
    notes: str = ""

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
