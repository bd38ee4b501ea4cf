"""The sign of each disposition: five shapes of our own that stay apart without colour and at arm's length.

Each is drawn in a square of 100 × 100, y upwards, in one ink on the ground below, and kept once per document.
"""

from collections.abc import Callable

from reportlab.pdfgen.canvas import Canvas

from benchapp.paper.content import Tone
from benchapp.paper.drawing.style import TONE_INK, WHITE, Ink


def draw_sign(canvas: Canvas, tone: Tone, x: float, y: float, size: float, *, on_dark: bool) -> None:
    """Draw a sign in a square of `size` whose LOWER left corner is x, y; in white on a dark ground."""
    name = f"sign-{tone}-{'white' if on_dark else 'ink'}"
    if not canvas.hasForm(name):
        canvas.beginForm(name, 0, 0, 100, 100)
        _ink(canvas, WHITE if on_dark else TONE_INK[tone])
        _SHAPES[tone](canvas)
        canvas.endForm()
    canvas.saveState()
    canvas.transform(size / 100, 0, 0, size / 100, x, y)
    canvas.doForm(name)
    canvas.restoreState()


def _ink(canvas: Canvas, ink: Ink) -> None:
    canvas.setFillColorRGB(*ink)
    canvas.setStrokeColorRGB(*ink)
    canvas.setLineCap(0)
    canvas.setLineJoin(0)


def _tick_in_ring(canvas: Canvas) -> None:
    canvas.setLineWidth(10)
    canvas.circle(50, 50, 44)
    _polyline(canvas, 15, (25, 52), (44, 32), (76, 70))


def _bars_in_square(canvas: Canvas) -> None:
    canvas.setLineWidth(10)
    canvas.rect(6, 6, 88, 88)
    canvas.rect(30, 26, 14, 48, stroke=0, fill=1)
    canvas.rect(56, 26, 14, 48, stroke=0, fill=1)


def _barred_ring(canvas: Canvas) -> None:
    canvas.setLineWidth(14)
    canvas.circle(50, 50, 42)
    _polyline(canvas, 14, (21, 79), (79, 21))


def _broken_square(canvas: Canvas) -> None:
    crack = ((56, 94), (40, 66), (60, 40), (42, 6))
    for shift, edge in ((-6, 6), (6, 94)):
        path = canvas.beginPath()
        path.moveTo(edge, 94)
        for x, y in crack:
            path.lineTo(x + shift, y)
        path.lineTo(edge, 6)
        path.close()
        canvas.drawPath(path, stroke=0, fill=1)


def _house(canvas: Canvas) -> None:
    path = canvas.beginPath()
    path.moveTo(6, 52)
    for x, y in ((50, 92), (94, 52), (82, 52), (82, 8), (18, 8), (18, 52)):
        path.lineTo(x, y)
    path.close()
    canvas.setLineWidth(10)
    canvas.drawPath(path, stroke=1, fill=0)


def _polyline(canvas: Canvas, width: float, *points: tuple[float, float]) -> None:
    canvas.setLineWidth(width)
    path = canvas.beginPath()
    path.moveTo(*points[0])
    for point in points[1:]:
        path.lineTo(*point)
    canvas.drawPath(path, stroke=1, fill=0)


_SHAPES: dict[Tone, Callable[[Canvas], None]] = {
    Tone.READY: _tick_in_ring,
    Tone.WAITING: _bars_in_square,
    Tone.FORBIDDEN: _barred_ring,
    Tone.PARTS: _broken_square,
    Tone.KEPT: _house,
}
