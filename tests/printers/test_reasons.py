"""What a printer reports becomes a sentence; keywords of RFC 8011, section 5.4.12."""

import pytest

from benchapp.printers.reasons import why_it_waits

RFC_8011 = {
    "media-empty-error": "out of paper. Put in A4",
    "media-needed": "out of paper",
    "media-jam-warning": "jammed",
    "cover-open": "open. Close it",
    "toner-empty-error": "ink or toner",
    "offline": "does not answer",
    "paused": "stopped in this computer's settings",
    "output-area-full": "no room",
}


@pytest.mark.parametrize("reason", RFC_8011)
def test_a_reason_is_a_sentence_that_says_what_to_do(reason):
    words = why_it_waits("The office printer", "A4", ["none", reason], stopped=False)
    assert RFC_8011[reason] in words
    assert "office printer" in words


@pytest.mark.parametrize(
    "reasons", [["none"], [""], ["media-low-report"], ["media-empty-report"], ["toner-low-warning"]]
)
def test_what_does_not_keep_it_from_printing_is_not_said(reasons):
    assert why_it_waits("x", "A4", reasons, stopped=False) == ""


def test_a_stopped_printer_without_a_reason_is_said_to_be_stopped():
    assert "is stopped" in why_it_waits("x", "A4", ["none"], stopped=True)
