"""The one way back of the whole window: what this person did last is named, with what it makes due, before it goes."""

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from benchapp.desktop.keys import key_text
from benchapp.desktop.take_back_dialog import TakeBackDialog
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.actions.entries.taking_back import TakingBack
    from benchapp.desktop.app_context import AppContext
    from benchapp.desktop.bench.screen import BenchScreen


class TakingBackLast:
    """Asks for what the person before this window did last, wherever in the window they are."""

    def __init__(
        self, window: QWidget, context: "Callable[[], AppContext | None]", bench: "Callable[[], BenchScreen | None]"
    ) -> None:
        """`context` and `bench` give what is there when the key is struck."""
        self._window, self._context, self._bench = window, context, bench
        self._asking = False

    def ask(self) -> None:
        """Drop an answer that waits for its time; else name what was done last, and ask."""
        from benchapp.actions.entries.taking_back import last_of

        context, screen = self._context(), self._bench()
        if context is None or self._asking or (screen is not None and screen.drop_waiting()):
            return
        by, bench = context.person.initials, context.bench
        if not by:
            words = tr("Say whose work this is first: type your initials at the top of the window ({key}).")
            context.change_signals.said.emit(words.format(key=key_text("initials")))
            return
        self._asking = True
        refused = partial(self._nothing, context)
        context.tasks.read(lambda: last_of(bench, by=by), then=self._show, refused=refused)

    def _nothing(self, context: "AppContext", sentence: str) -> None:
        self._asking = False
        context.change_signals.said.emit(sentence)

    def _show(self, seen: "TakingBack") -> None:
        dialog = TakeBackDialog(self._window, seen, lambda why: self._do(seen, why))
        dialog.finished.connect(self._done)
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def _done(self, _result: int) -> None:
        self._asking = False

    def _do(self, seen: "TakingBack", why: str) -> None:
        from benchapp.actions.entries.taking_back import take_back

        context, screen = self._context(), self._bench()
        if context is None:
            return
        if screen is not None and screen.mark == seen.unit:
            screen.take_back(seen.number, why)
            return
        said = context.change_signals.said.emit
        context.tasks.do(
            context.bench,
            take_back,
            seen.unit,
            seen.number,
            by=context.person.initials,
            why=why,
            then=lambda changes: said(changes.words),
            refused=said,
        )
