"""The circuit drawn: terminals outside, parts between, suspects numbered, the two points to touch lit."""

import math
from collections import Counter
from dataclasses import dataclass, field

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPainterPath, QPen

from benchapp.desktop.pictures.circuit_symbols import paint_part
from benchapp.desktop.pictures.picture import Picture, write
from benchapp.desktop.theme.look import Look
from benchapp.wiring.model.circuit import Branch
from benchapp.wiring.model.diagram import Diagram

_COLOURS = ("black", "red")


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
        seen: Counter[frozenset[str]] = Counter()
        for branch in self.diagram.parts:
            ends = frozenset((branch.a, branch.b))
            self._paint_branch(painter, look, box, branch, seen[ends])
            seen[ends] += 1
        labels = dict(self.labels)
        for node in self.diagram.places:
            if node in labels:
                self._paint_terminal(painter, look, box, node, labels[node])

    def _paint_branch(self, painter: QPainter, look: Look, box: QRectF, branch: Branch, again: int) -> None:
        start, end = self.place(branch.a, box, look), self.place(branch.b, box, look)
        line = QFontMetricsF(look.font()).height()
        suspect = dict(self.suspects).get(branch.part, "")
        ink = look.colour("bad" if suspect else "ink")
        path, middle, turn = self._way(start, end, again, box, line)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(ink, 3.2 if suspect else 1.8))
        painter.drawPath(path)
        size = min(line * 1.7, max(line * 0.9, path.length() * 0.5))
        paint_part(painter, branch.kind.name, middle, turn, size, ink, look.colour("sheet"))
        if suspect:
            wide = line * (0.5 + 0.5 * len(suspect))
            badge = QRectF(middle.x() - wide / 2, middle.y() - line * 1.6, wide, line * 1.1)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(look.colour("bad"))
            painter.drawRoundedRect(badge, 4, 4)
            write(painter, look, badge, suspect, factor=0.85, bold=True, colour="sheet")

    def _way(
        self, start: QPointF, end: QPointF, again: int, box: QRectF, line: float
    ) -> tuple[QPainterPath, QPointF, float]:
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
