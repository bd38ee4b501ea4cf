"""A connector's face on paper, from the description that the screen draws too (wiring.Face), and a bar to check it."""

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from benchapp.paper.drawing.fonts import Faces
from benchapp.paper.drawing.ink import draw_texts
from benchapp.paper.drawing.placed import Text
from benchapp.paper.drawing.style import BLACK, CELL, GREY, MM, WHITE
from benchapp.paper.problems import PaperProblem
from benchapp.wiring.model.faces import Face, FacePin, Shape
from benchapp.words import say

BAR = 50.0  # mm
BAR_HEIGHT = 3.0  # mm
LARGEST_VIEW = 78.0  # mm: how wide the enlarged view may be
LARGEST_FACTOR = 5
TALLEST_BELOW = 100.0  # mm: how tall the enlarged view may be where it stands below the other
BETWEEN = 12.0  # mm between the two views
CAPTION = 5.0  # mm under a view
LINE = 0.6  # points
LABEL_INSIDE = 5.5  # points: the smallest label that is set inside its pin
LABEL_BESIDE = 4.5  # points, beside a pin too small for it
ENLARGED_LABEL = 1.8  # times that in the enlarged view


class FaceViews(Flowable):
    """The face at true size, and beside it enlarged a whole number of times where that helps to read it."""

    def __init__(self, face: Face, fonts: Faces) -> None:
        super().__init__()
        self._face, self._fonts = face, fonts
        self._factor = max(1, min(LARGEST_FACTOR, int(LARGEST_VIEW / face.width)))
        self._below = False

    def wrap(self, available_width: float, _available_height: float) -> tuple[float, float]:
        """The whole width; raises PaperProblem where the face at true size is wider than the page."""
        face = self._face
        if self._face.width * MM > available_width:
            raise PaperProblem(
                say(
                    "The face of {title} is {width:.0f} mm wide and the paper leaves {value:.0f} mm: it "
                    "cannot be printed at true size.",
                    title=self._face.title,
                    width=self._face.width,
                    value=available_width / MM,
                )
            )
        if self._factor == 1 and any(not self._fits_inside(pin, 1) for pin in face.pins):
            across, up = available_width / MM / face.width, TALLEST_BELOW / face.height
            self._factor = max(1, min(LARGEST_FACTOR, int(across), int(up)))
            self._below = self._factor > 1
        heights = [face.height, face.height * self._factor] if self._below else [face.height * self._factor]
        self.width, self.height = available_width, (sum(heights) + 2 * CAPTION * len(heights)) * MM
        return self.width, self.height

    def draw(self) -> None:
        """True size on the left, enlarged on the right or below, captions below both."""
        face, tall = self._face, self.height / MM
        left = max(face.width / 2, 15.0)
        enlarged = say("{factor} times as large", factor=self._factor)
        if self._below:
            self._draw_view(left, tall - face.height / 2, 1, "true size")
            middle = face.height * self._factor / 2 + 1.5 * CAPTION
            self._draw_view(face.width * self._factor / 2, middle, self._factor, enlarged)
            return
        middle = (tall + CAPTION) / 2
        self._draw_view(left, middle, 1, "true size")
        if self._factor > 1:
            self._draw_view(2 * left + BETWEEN + face.width * self._factor / 2, middle, self._factor, enlarged)

    def _draw_view(self, x: float, y: float, factor: int, caption: str) -> None:
        """A view with its middle at x, y (mm)."""
        canvas: Canvas = self.canv
        canvas.setStrokeColorRGB(*BLACK)
        canvas.setLineWidth(LINE)
        for shape in self._face.shapes:
            _draw_shape(canvas, shape, x, y, factor)
        for pin in self._face.pins:
            self._draw_pin(canvas, pin, x, y, factor)
        width = self._fonts.regular.width(caption) * CELL.size
        at = (x * MM - width / 2, (y - self._face.height * factor / 2 - CAPTION * 0.8) * MM)
        draw_texts(canvas, [(*at, Text(0.0, 0.0, caption, CELL.size, False, GREY))], self._fonts)

    def _draw_pin(self, canvas: Canvas, pin: FacePin, x: float, y: float, factor: int) -> None:
        across, up = (x + pin.x * factor) * MM, (y + pin.y * factor) * MM
        width, height = pin.width * factor * MM, pin.height * factor * MM
        label = self._fonts.bold.printable(pin.label)
        size = self._label_size(pin, factor)
        inside = size >= LABEL_INSIDE
        _draw_pin_shape(canvas, pin, across, up, factor, outlined=inside)
        if not inside:
            size = LABEL_BESIDE * (1.0 if factor == 1 else ENLARGED_LABEL)
            side = self._label_side(pin, size / factor / MM)
            out_x, out_y = beside(side, width, height, self._fonts.bold.width(label) * size, size)
            across += out_x
            up += out_y
        start = across - self._fonts.bold.width(label) * size / 2
        draw_texts(canvas, [(start, up - 0.36 * size, Text(0.0, 0.0, label, size, True))], self._fonts)

    def _label_size(self, pin: FacePin, factor: int) -> float:
        """The largest size (points) at which the label stands inside its pin."""
        width, height = pin.width * factor * MM, pin.height * factor * MM
        label = self._fonts.bold.printable(pin.label)
        return min(height * 0.75, 0.85 * width / max(self._fonts.bold.width(label), 0.1), 14.0)

    def _label_side(self, pin: FacePin, size: float) -> tuple[float, float]:
        """Outwards, or on a face where that would cover pins, as between rows, straight up or down for all."""
        pins = self._face.pins
        if all(_has_room_outwards(one, pins, size) for one in pins):
            return _outward(pin)
        return (0.0, 1.0 if pin.y >= 0 else -1.0)

    def _fits_inside(self, pin: FacePin, factor: int) -> bool:
        return self._label_size(pin, factor) >= LABEL_INSIDE


class ScaleBar(Flowable):
    """A bar of exactly 50 mm with a mark at every centimetre, and what to do when a ruler disagrees."""

    def __init__(self, fonts: Faces) -> None:
        super().__init__()
        self._fonts = fonts

    def wrap(self, available_width: float, _available_height: float) -> tuple[float, float]:
        """The whole width, as high as the bar and its marks."""
        self.width, self.height = available_width, (BAR_HEIGHT + 1) * MM
        return self.width, self.height

    def draw(self) -> None:
        """Five centimetres, filled and empty in turn."""
        canvas: Canvas = self.canv
        canvas.setLineWidth(0.3)
        canvas.setStrokeColorRGB(*BLACK)
        for centimetre in range(5):
            canvas.setFillColorRGB(*(WHITE if centimetre % 2 else BLACK))
            canvas.rect(centimetre * 10 * MM, MM, 10 * MM, BAR_HEIGHT * MM, stroke=0, fill=1)
        canvas.line(0, MM, BAR * MM, MM)
        canvas.line(0, (1 + BAR_HEIGHT) * MM, BAR * MM, (1 + BAR_HEIGHT) * MM)
        words = say("50 mm on your ruler? If not, print again at 100 %, without fitting to the page.")
        text = Text(0.0, 0.0, words, CELL.size, False, BLACK)
        draw_texts(canvas, [((BAR + 4) * MM, 1.5 * MM, text)], self._fonts)


def _draw_shape(canvas: Canvas, shape: Shape, x: float, y: float, factor: int) -> None:
    if shape.diameter:
        canvas.circle((x + shape.x * factor) * MM, (y + shape.y * factor) * MM, shape.diameter * factor / 2 * MM)
        return
    path = canvas.beginPath()
    for number, (across, up) in enumerate(shape.points):
        (path.lineTo if number else path.moveTo)((x + across * factor) * MM, (y + up * factor) * MM)
    path.close()
    canvas.drawPath(path)


def _draw_pin_shape(canvas: Canvas, pin: FacePin, across: float, up: float, factor: int, *, outlined: bool) -> None:
    """Filled, or an outline whose line stays inside the pin's edge: either way the pin's own size."""
    inset = LINE / 2 if outlined else 0.0
    canvas.setFillColorRGB(*(WHITE if outlined else BLACK))
    left, bottom = across - pin.width * factor * MM / 2 + inset, up - pin.height * factor * MM / 2 + inset
    width, height = pin.width * factor * MM - 2 * inset, pin.height * factor * MM - 2 * inset
    if pin.round:
        canvas.ellipse(left, bottom, left + width, bottom + height, stroke=int(outlined), fill=1)
    else:
        canvas.rect(left, bottom, width, height, stroke=int(outlined), fill=1)


def _has_room_outwards(pin: FacePin, pins: tuple[FacePin, ...], size: float) -> bool:
    """Whether a label of that size (mm), outwards of its pin, stands clear of the other pins."""
    out_x, out_y = _outward(pin)
    x, y = pin.x + out_x * (pin.width / 2 + 0.7 * size), pin.y + out_y * (pin.height / 2 + 0.7 * size)
    needed = 0.7 * size + pin.width / 2
    return all(max(abs(x - other.x), abs(y - other.y)) >= needed for other in pins if other is not pin)


def beside(
    side: tuple[float, float], width: float, height: float, label_width: float, size: float
) -> tuple[float, float]:
    """How far a label's middle lies from its pin's, on that side, so that neither covers the other.

    `side` is a direction of length one; `width`, `height`: of the pin; `label_width`, `size`: of the label (points).
    """
    out_x, out_y = side
    clear_x, clear_y = (width + label_width) / 2 + 0.2 * size, (height + size) / 2
    reach = min(clear_x / max(abs(out_x), 1e-9), clear_y / max(abs(out_y), 1e-9))
    return out_x * reach, out_y * reach


def _outward(pin: FacePin) -> tuple[float, float]:
    """The direction from the middle of the face to the pin; upwards for a pin in the middle."""
    length = (pin.x**2 + pin.y**2) ** 0.5
    return (pin.x / length, pin.y / length) if length > 1e-9 else (0.0, 1.0)
