"""What can go wrong between the bench and an instrument, as sentences."""

from benchapp.errors import BenchError

BY_HAND = "The reading can always be typed by hand."


class MeterProblem(BenchError):
    """An instrument that does not answer as it should: which one, what happened, what to do."""


class NothingSent(MeterProblem):
    """A meter that is only listened to has been silent: it sends when its own key is pressed, or it is off."""


class MissingPackage(MeterProblem):
    """What reaches USB and serial ports is not installed."""
