"""Pins of a connector that lie on each other, or outside its face."""

from collections.abc import Iterator
from itertools import combinations

from benchapp.files.document import Document
from benchapp.files.locations import Complaint
from benchapp.wiring.model.connectors import Connector, Outline

EDGE = 0.05
"""mm by which a pin may stand over the edge: drawings round to a tenth (own choice)"""


def check_face(connector: Connector, document: Document) -> Iterator[Complaint]:
    """Complaints about pins that lie on each other, or whose middle is outside every outline."""
    for (_, one), (number, other) in combinations(enumerate(connector.pins), 2):
        if (one.x, one.y) == (other.x, other.y):
            what = f"pin {other.pin} lies where pin {one.pin} is, at x {one.x:g} mm, y {one.y:g} mm"
            yield document.complaint(("pins", number), what, "a place of its own")
    for number, pin in enumerate(connector.pins):
        if not any(_holds(shape, pin.x, pin.y) for shape in connector.outline):
            what = f"pin {pin.pin} at x {pin.x:g} mm, y {pin.y:g} mm lies outside the outline"
            yield document.complaint(("pins", number), what, "a place inside it, in mm")


def _holds(shape: Outline, x: float, y: float) -> bool:
    """Whether a point lies inside an outline, or on its edge."""
    right, up = x - shape.x, y - shape.y
    match shape.shape:
        case "circle":
            return right * right + up * up <= (shape.diameter / 2 + EDGE) ** 2
        case "rectangle":
            return abs(right) <= shape.width / 2 + EDGE and abs(up) <= shape.height / 2 + EDGE
        case _:
            return _is_inside(shape.points, x, y)


def _is_inside(corners: tuple[tuple[float, float], ...], x: float, y: float) -> bool:
    """Whether a ray from the point to the right crosses the polygon's edges an odd number of times."""
    inside = False
    for (ax, ay), (bx, by) in zip(corners, (*corners[1:], corners[0]), strict=True):
        if (ay > y) != (by > y) and x < (bx - ax) * (y - ay) / (by - ay) + ax:
            inside = not inside
    return inside
