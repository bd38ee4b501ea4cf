"""The unit's stages in a row, each with its sign; the one at hand is framed and always has its name."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from benchapp.desktop.theme.look import Look
from benchapp.desktop.theme.signs import sign_for
from benchapp.desktop.widgets.kept_painting import KeptPaintings
from benchapp.desktop.widgets.sign import paint_sign
from benchapp.desktop.words import tr


@dataclass(frozen=True, slots=True, kw_only=True)
class StageMark:
    """One stage: its title, its status, whether it is the one at hand."""

    title: str
    status: str
    here: bool = False


class StageStrip(QWidget):
    """Draws the stages; where they do not fit, the others shrink to their signs."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("stage-strip")
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self._look = look
        self._painted = KeptPaintings(self, look)
        self._stages: tuple[StageMark, ...] = ()

    def show_stages(self, stages: Sequence[StageMark]) -> None:
        """Show these stages."""
        self._stages = tuple(stages)
        self.setAccessibleName(tr("Stages"))
        self.setAccessibleDescription(
            "; ".join(f"{stage.title}: {tr(sign_for(stage.status).word)}" for stage in stages)
        )
        self.update()

    def stages(self) -> tuple[StageMark, ...]:
        """What is shown now."""
        return self._stages

    def sizeHint(self) -> QSize:
        line = self.fontMetrics().height()
        return QSize(line * 20, int(line * 1.8))

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.drawPixmap(0, 0, self._painted.of(self._stages, self.size(), self._paint))
        painter.end()

    def _paint(self, painter: QPainter) -> None:
        left = 0.0
        for stage, width in zip(self._stages, self._widths(), strict=True):
            self._paint_stage(painter, stage, QRectF(left, 1, width, self.height() - 2))
            left += width

    def _widths(self) -> list[float]:
        """A width for each stage: with its title where all fit, else shared out with the one at hand in full."""
        line = self.fontMetrics().height()
        full = [line * 2.6 + self.fontMetrics().horizontalAdvance(stage.title) for stage in self._stages]
        if sum(full) <= self.width():
            return full
        here = sum(width for stage, width in zip(self._stages, full, strict=True) if stage.here)
        others = sum(not stage.here for stage in self._stages)
        share = max(line * 1.9, (self.width() - here) / max(1, others))
        return [width if stage.here else min(width, share) for stage, width in zip(self._stages, full, strict=True)]

    def _paint_stage(self, painter: QPainter, stage: StageMark, box: QRectF) -> None:
        line = float(self.fontMetrics().height())
        sign = sign_for(stage.status)
        if stage.here:
            painter.setPen(QPen(self._look.colour("ink"), 2))
            painter.setBrush(self._look.colour("sheet"))
            painter.drawRoundedRect(box.adjusted(1, 0, -3, 0), 4, 4)
        mark = QRectF(box.left() + line * 0.45, box.center().y() - line * 0.45, line * 0.9, line * 0.9)
        ground = self._look.colour("sheet" if stage.here else "ground")
        paint_sign(painter, mark, sign.shape, self._look.colour(sign.tone.value), ground)
        painter.setPen(self._look.colour("ink" if stage.here else "quiet"))
        words = box.adjusted(line * 1.65, 0, -line * 0.5, 0)
        if words.width() > line * 2:
            shown = self.fontMetrics().elidedText(stage.title, Qt.TextElideMode.ElideRight, int(words.width()))
            painter.drawText(words, Qt.AlignmentFlag.AlignVCenter, shown)
