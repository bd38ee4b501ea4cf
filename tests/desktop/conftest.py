"""What tests of the screens share: how the application looks."""

import pytest

from benchapp.desktop.theme.look import Look


@pytest.fixture
def look(qapp):
    made = Look(qapp, dark=False)
    yield made
    made.forget()


@pytest.fixture
def shown(qtbot):
    """Show a widget and wait until it is there; closed again after the test."""

    def show(widget, width=900, height=500):
        qtbot.addWidget(widget)
        widget.resize(width, height)
        widget.show()
        qtbot.waitExposed(widget)
        return widget

    return show
