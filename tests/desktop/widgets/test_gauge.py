"""What the gauge draws."""

from dataclasses import replace

from PySide6.QtGui import QImage

from benchapp.desktop.widgets.gauge import Gauge, GaugeContent, Mark

BAND = GaugeContent(
    lower=9.0, upper=11.0, guard=0.1, marks=(Mark(value=9.0, text="9 V"), Mark(value=11.0, text="11 V"))
)


def test_the_needle_moves_with_the_reading(look, shown):
    gauge = shown(Gauge(look), 600, 160)
    pictures = []
    for value in (9.5, 10.0, 10.5):
        gauge.show_content(GaugeContent(lower=9.0, upper=11.0, value=value, judgement="pass"))
        pictures.append(_needle(gauge))
    assert pictures == sorted(set(pictures))


def test_the_judgement_stands_there_in_a_word(look, shown):
    gauge = shown(Gauge(look), 600, 160)
    gauge.show_content(BAND)
    without = _picture(gauge)
    gauge.show_content(GaugeContent(lower=9.0, upper=11.0, guard=0.1, marks=BAND.marks, judgement="fail"))
    assert _picture(gauge) != without


def test_what_stands_there_before_a_reading_is_whole_where_the_gauge_is_narrow(look, shown):
    look.set_percent(200)
    gauge = shown(Gauge(look), 400, 260)
    gauge.show_content(BAND)
    picture = gauge.grab().toImage()
    lines = range(int(gauge.fontMetrics().height() * 1.9))
    edge = {picture.pixelColor(x, y).name() for x in (398, 399) for y in lines}
    assert len(edge) == 1, "a letter is cut at the edge"


def test_what_the_gauge_says_can_be_read_aloud(look, shown):
    gauge = shown(Gauge(look), 600, 160)
    gauge.show_content(GaugeContent(lower=9.0, upper=11.0, value=10.0, judgement="pass", sentence="10 V is inside."))
    assert gauge.accessibleDescription() == "10 V is inside."


def test_an_over_range_reading_stands_at_the_right_end(look, shown):
    gauge = shown(Gauge(look), 600, 160)
    gauge.show_content(GaugeContent(lower=1e6, upper=None, over_range=True, judgement="pass"))
    at_end = _needle(gauge)
    gauge.show_content(GaugeContent(lower=1e6, upper=None, value=2e6, judgement="pass"))
    assert _needle(gauge) < at_end


def test_siblings_are_drawn_as_dots(look, shown):
    gauge = shown(Gauge(look), 600, 160)
    gauge.show_content(BAND)
    without = _picture(gauge)
    gauge.show_content(GaugeContent(lower=9.0, upper=11.0, guard=0.1, marks=BAND.marks, siblings=(9.4, 9.5, 9.5)))
    assert _picture(gauge) != without


def test_a_reading_without_a_band_draws_no_scale_and_no_error(look, shown):
    gauge = shown(Gauge(look), 600, 160)
    gauge.show_content(GaugeContent(value=3.0, judgement="not judged"))
    assert not _picture(gauge).isNull()


def _picture(gauge: Gauge) -> QImage:
    return gauge.grab().toImage()


def _needle(gauge: Gauge) -> int:
    """Where the needle stands: the middle of what the track shows with a reading and not without it."""
    content = gauge.content()
    y = int(gauge.fontMetrics().height() * 3.9)
    shown = _picture(gauge)
    gauge.show_content(replace(content, value=None, over_range=False))
    bare = _picture(gauge)
    gauge.show_content(content)
    other = [x for x in range(shown.width()) if shown.pixelColor(x, y) != bare.pixelColor(x, y)]
    return other[len(other) // 2]
