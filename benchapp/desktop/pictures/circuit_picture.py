"""The circuit drawn: terminals outside, parts between, suspects numbered, the two points to touch lit."""

import math
from collections import Counter
from dataclasses import dataclass, field

from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPainterPath, QPainterPathStroker, QPen

from benchapp.desktop.pictures.circuit_symbols import paint_part
from benchapp.desktop.pictures.picture import Picture, write
from benchapp.desktop.theme.look import Look
from benchapp.wiring.model.circuit import Branch
from benchapp.wiring.model.diagram import Diagram

_COLOURS = ("black", "red")
_Way = tuple[QPainterPath, QPointF, float]
"""the line of a part, the middle of its sign and how that is turned"""


@dataclass(frozen=True, kw_only=True)
class _Room:
    """What a badge may cover in a drawing: the lines of other parts, points, other badges, the edge."""

    box: QRectF
    lines: list[QPainterPath]
    points: list[QPointF]
    badges: list[QRectF]

    def covered_by(self, badge: QRectF) -> int:
        """How much of it the badge would cover."""
        return (
            sum(line.intersects(badge) for line in self.lines)
            + sum(badge.contains(point) for point in self.points)
            + 2 * sum(badge.intersects(other) for other in self.badges)
            + 4 * (not self.box.contains(badge))
        )


def _stroked(path: QPainterPath) -> QPainterPath:
    """The line as it is drawn, not the area that it goes round."""
    stroker = QPainterPathStroker()
    stroker.setWidth(3)
    return stroker.createStroke(path)


def _around(middle: QPointF, size: QSizeF, line: float) -> list[QRectF]:
    """Places for a badge at a sign, the best first: above, below, the same closer to it, right, left, further out."""
    aside, over, close = QPointF(size.width() / 2 + line * 0.8, 0), QPointF(0, line * 1.05), QPointF(0, line * 0.75)
    centres = (-over, over, -close, close, aside, -aside, aside * 1.5, aside * -1.5)
    corner = QPointF(size.width() / 2, size.height() / 2)
    return [QRectF(middle + centre - corner, size) for centre in centres]


@dataclass(frozen=True, kw_only=True)
class CircuitPicture(Picture):
    """A diagram with what is marked on it."""

    diagram: Diagram = field(compare=False)
    title: str
    labels: tuple[tuple[str, str], ...]
    """what stands at each terminal"""
    spoken: tuple[tuple[str, str], ...] = ()
    """what each terminal is called in a sentence"""
    suspects: tuple[tuple[str, str], ...] = ()
    """parts, and what stands on the mark of each"""
    points: tuple[str, ...] = ()
    """terminals to touch: the first, the second"""
    coloured: bool = True
    """whether the first is black and the second red"""

    def place(self, node: str, box: QRectF, look: Look) -> QPointF:
        """Where a node is drawn in that box."""
        margin = QFontMetricsF(look.font()).height() * 2.1
        x, y = self.diagram.places[node]
        across, down = box.width() - 2 * margin, box.height()
        return QPointF(box.left() + margin + x * across, box.top() + y * down)

    def paint(self, painter: QPainter, box: QRectF, look: Look) -> None:
        ways = self._ways(box, look)
        for branch, way in ways:
            self._paint_branch(painter, look, branch, way)
        labels = dict(self.labels)
        for node in self.diagram.places:
            if node in labels:
                self._paint_terminal(painter, look, box, node, labels[node])
        for words, badge in self.badges(box, look):
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(look.colour("bad"))
            painter.drawRoundedRect(badge, 4, 4)
            write(painter, look, badge, words, factor=0.85, bold=True, colour="sheet")

    def badges(self, box: QRectF, look: Look) -> list[tuple[str, QRectF]]:
        """What stands on the mark of each suspect, and where: if it can be, where it covers no other part."""
        line = QFontMetricsF(look.font()).height()
        ways, suspects = self._ways(box, look), dict(self.suspects)
        lines = [(branch, _stroked(path)) for branch, (path, _middle, _turn) in ways]
        points = [self.place(node, box, look) for node in self.diagram.places]
        found: list[tuple[str, QRectF]] = []
        for branch, (_path, middle, _turn) in ways:
            if words := suspects.get(branch.part, ""):
                kept = [drawn for other, drawn in lines if other is not branch]
                room = _Room(box=box, lines=kept, points=points, badges=[badge for _words, badge in found])
                size = QSizeF(line * (0.5 + 0.5 * len(words)), line * 1.1)
                found.append((words, min(_around(middle, size, line), key=room.covered_by)))
        return found

    def _ways(self, box: QRectF, look: Look) -> list[tuple[Branch, _Way]]:
        """Each part with its line, the middle of its sign and how that is turned."""
        line = QFontMetricsF(look.font()).height()
        seen: Counter[frozenset[str]] = Counter()
        ways = []
        for branch in self.diagram.parts:
            ends = frozenset((branch.a, branch.b))
            start, end = self.place(branch.a, box, look), self.place(branch.b, box, look)
            ways.append((branch, self._way(start, end, seen[ends], box, line)))
            seen[ends] += 1
        return ways

    def _paint_branch(self, painter: QPainter, look: Look, branch: Branch, way: _Way) -> None:
        line = QFontMetricsF(look.font()).height()
        suspect = dict(self.suspects).get(branch.part, "")
        ink = look.colour("bad" if suspect else "ink")
        path, middle, turn = way
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(ink, 3.2 if suspect else 1.8))
        painter.drawPath(path)
        size = min(line * 1.7, max(line * 0.9, path.length() * 0.5))
        paint_part(painter, branch.kind.name, middle, turn, size, ink, look.colour("sheet"))

    def _way(self, start: QPointF, end: QPointF, again: int, box: QRectF, line: float) -> _Way:
        """The line of a part, the middle of its sign and how that is turned; one beside another keeps its distance."""
        path = QPainterPath(start)
        if abs(start.x() - end.x()) < 1:
            side = 1.0 if start.x() < box.center().x() else -1.0
            out = start.x() + side * line * (1.3 + 1.4 * again)
            path.lineTo(out, start.y())
            path.lineTo(out, end.y())
            path.lineTo(end)
            return path, QPointF(out, (start.y() + end.y()) / 2), 90.0 if side > 0 else -90.0
        middle = (start + end) / 2 + QPointF(0, 1.3 * line * again)
        path.lineTo(middle)
        path.lineTo(end)
        turn = math.degrees(math.atan2(end.y() - start.y(), end.x() - start.x()))
        return path, middle, turn

    def _paint_terminal(self, painter: QPainter, look: Look, box: QRectF, node: str, label: str) -> None:
        """A terminal with its label; one to touch is large, ringed, in its probe's colour where that says something."""
        at, line = self.place(node, box, look), QFontMetricsF(look.font()).height()
        number = self.points.index(node) if node in self.points else -1
        outside = node in self.diagram.terminals
        reach = line * (0.62 if number >= 0 else 0.45 if outside else 0.22)
        token = ("probe_" + _COLOURS[number % 2]) if self.coloured else "focus"
        painter.setPen(QPen(look.colour("ink"), 3 if number >= 0 else 1.5))
        painter.setBrush(look.colour(token if number >= 0 else "metal"))
        painter.drawEllipse(at, reach, reach)
        if not outside:
            return
        room = QRectF(box.left(), at.y() - line * 0.7, line * 1.4, line * 1.4)
        if node in self.diagram.right:
            room.moveRight(box.right())
        elif node in self.diagram.between:
            room.moveCenter(at + QPointF(0, line * 1.3))
        write(painter, look, room, label, factor=1.0, bold=number >= 0)
        if number >= 0:
            ring = QRectF(at.x() - reach * 1.45, at.y() - reach * 1.45, reach * 2.9, reach * 2.9)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(look.colour("focus"), 2.5))
            painter.drawEllipse(ring)
