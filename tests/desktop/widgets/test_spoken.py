"""What is painted has a role and a value for a screen reader, and a changed judgement is announced."""

from PySide6.QtGui import QAccessible

from benchapp.desktop.widgets.face import FaceView
from benchapp.desktop.widgets.face_parts import FacePart, Touch
from benchapp.desktop.widgets.gauge import Gauge, GaugeContent, Mark


def interface(widget):
    return QAccessible.queryAccessibleInterface(widget)


def test_the_gauge_is_an_indicator_with_its_limits_and_judgement_as_value(look, qtbot):
    gauge = Gauge(look)
    qtbot.addWidget(gauge)
    content = GaugeContent(
        lower=8.5, upper=10.3, marks=(Mark(value=8.5, text="8.5 V"), Mark(value=10.3, text="10.3 V"))
    )
    gauge.show_content(content)
    told = interface(gauge)
    assert told.role() == QAccessible.Role.Indicator
    assert told.text(QAccessible.Text.Value) == "8.5 V; 10.3 V"
    assert told.text(QAccessible.Text.Name) == "Gauge"


def test_a_changed_judgement_is_heard_once(look, qtbot, heard):
    gauge = Gauge(look)
    qtbot.addWidget(gauge)
    for judgement, sentence in (
        ("", ""),
        ("pass", "9.1 V passes."),
        ("pass", "9.12 V passes."),
        ("fail", "2 V fails."),
    ):
        gauge.show_content(GaugeContent(lower=8.5, upper=10.3, judgement=judgement, sentence=sentence))
    assert heard == ["9.1 V passes.", "2 V fails."]
    assert interface(gauge).text(QAccessible.Text.Value).endswith("fail")


def test_a_face_is_a_picture_that_says_where_the_probes_go(look, qtbot):
    face = FaceView(look)
    qtbot.addWidget(face)
    face.show_parts([FacePart(title="case", face=None, touches=(Touch(spot="case", probe="red"),))])
    told = interface(face)
    assert told.role() == QAccessible.Role.Graphic
    assert told.text(QAccessible.Text.Value) == "RED probe: case"


def test_other_widgets_keep_their_own_roles(qtbot):
    from PySide6.QtWidgets import QPushButton

    button = QPushButton("Record")
    qtbot.addWidget(button)
    assert interface(button).role() == QAccessible.Role.Button
