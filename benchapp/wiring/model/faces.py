"""What a connector looks like: one description of its face, in mm, that screen and paper both draw.

The origin is the middle of the face, x runs right and y runs up, seen from the side that `view` names.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from benchapp.wiring.model.connectors import Connector, Outline


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """One closed outline of the face: its corner points in mm, or a circle when `diameter` is set."""

    points: tuple[tuple[float, float], ...] = ()
    x: float = 0.0
    y: float = 0.0
    diameter: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class FacePin:
    """A pin: its name in the circuit, the label to print, its middle and size in mm, round or not."""

    name: str
    label: str
    say: str
    x: float
    y: float
    width: float
    height: float
    round: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """Outlines, pins and the size (mm) of the box that holds them all."""

    connector: str
    title: str
    view: str
    shapes: tuple[Shape, ...]
    pins: tuple[FacePin, ...]
    width: float
    height: float


def face(connector: "Connector", *, from_behind: bool = False) -> Face:
    """Describe the face of a connector; `from_behind` mirrors it to the other side than its file describes."""
    sign = -1.0 if from_behind else 1.0
    shapes = tuple(_shape(outline, sign) for outline in connector.outline)
    pins = tuple(
        FacePin(
            name=pin.pin,
            label=pin.label or pin.pin,
            say=pin.say or f"pin {pin.pin}",
            x=sign * pin.x,
            y=pin.y,
            width=pin.width,
            height=pin.height,
            round=pin.shape == "round",
        )
        for pin in connector.pins
    )
    right, top = _reach(shapes, pins)
    view = connector.other_view if from_behind else connector.view
    return Face(
        connector=connector.connector,
        title=connector.title,
        view=view,
        shapes=shapes,
        pins=pins,
        width=2 * right,
        height=2 * top,
    )


def _shape(outline: "Outline", sign: float) -> Shape:
    if outline.shape == "circle":
        return Shape(x=sign * outline.x, y=outline.y, diameter=outline.diameter)
    if outline.shape == "polygon":
        return Shape(points=tuple((sign * x, y) for x, y in outline.points))
    half_width, half_height = outline.width / 2, outline.height / 2
    corners = ((-1, -1), (1, -1), (1, 1), (-1, 1))
    points = ((outline.x + i * half_width, outline.y + j * half_height) for i, j in corners)
    return Shape(points=tuple((sign * x, y) for x, y in points))


def _reach(shapes: tuple[Shape, ...], pins: tuple[FacePin, ...]) -> tuple[float, float]:
    """How far the face reaches from its middle, to the right and upwards (mm)."""
    xs = [abs(pin.x) + pin.width / 2 for pin in pins]
    ys = [abs(pin.y) + pin.height / 2 for pin in pins]
    for shape in shapes:
        xs += [abs(shape.x) + shape.diameter / 2, *(abs(x) for x, _ in shape.points)]
        ys += [abs(shape.y) + shape.diameter / 2, *(abs(y) for _, y in shape.points)]
    return max(xs), max(ys)
