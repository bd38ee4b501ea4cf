"""Whether the run is the thorough one: an everyday run tries fewer examples of the same fact."""

from hypothesis import settings

EVERYDAY_CASES = 100
"""what the everyday profile tries where a test says nothing else (tests/conftest.py)"""


def thorough() -> bool:
    """Whether tests/start.py was asked for the thorough run."""
    return settings().max_examples > EVERYDAY_CASES


def cases(everyday: int, otherwise: int) -> int:
    """So many examples on each day, and so many in a thorough run."""
    return otherwise if thorough() else everyday
