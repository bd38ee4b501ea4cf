"""The tag of a unit as it will be printed, drawn by the code that prints it, off the window's thread."""

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPixmap, QResizeEvent
from PySide6.QtWidgets import QSizePolicy

from benchapp.actions.papers.pictures import tag_picture
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.widgets.texts import PlainLabel
from benchapp.desktop.words import tr


class TagPicture(PlainLabel):
    """Shows one unit's tag; a newer entry of the unit draws it again."""

    def __init__(self, context: AppContext) -> None:
        super().__init__()
        self.setObjectName("tag-picture")
        self.setAccessibleName(tr("The tag as it will be printed"))
        self.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.setWordWrap(True)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Expanding)
        self._context = context
        self._shown: tuple[str, int] = ("", -1)
        self._drawn: QPixmap | None = None

    def show_unit(self, mark: str, last_entry: int) -> None:
        """Show the unit's tag as of that entry."""
        if (mark, last_entry) == self._shown:
            return
        self._shown = (mark, last_entry)
        self._drawn = None
        self.setText(tr("Drawing the tag of {unit} …").format(unit=mark))
        bench = self._context.bench
        self._context.tasks.read(
            lambda: (mark, last_entry, tag_picture(bench, mark)), then=self._take, refused=self.setText
        )

    def _take(self, drawn: tuple[str, int, bytes]) -> None:
        mark, last_entry, png = drawn
        if (mark, last_entry) == self._shown:
            self._drawn = QPixmap()
            self._drawn.loadFromData(png)
            self._fit()

    def _fit(self) -> None:
        if self._drawn is not None and not self._drawn.isNull():
            ratio, smooth = Qt.AspectRatioMode.KeepAspectRatio, Qt.TransformationMode.SmoothTransformation
            room = self.contentsRect().size().boundedTo(self._drawn.size())
            self.setPixmap(self._drawn.scaled(room.expandedTo(QSize(40, 40)), ratio, smooth))

    def sizeHint(self) -> QSize:
        line = self.fontMetrics().height()
        return QSize(line * 20, line * 10)

    def minimumSizeHint(self) -> QSize:
        line = self.fontMetrics().height()
        return QSize(line * 12, line * 5)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()
