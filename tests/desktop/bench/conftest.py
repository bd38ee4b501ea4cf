"""A unit that stands at its first live reading."""

import pytest

from tests.desktop.walks import AT_LIVE


@pytest.fixture
def at_live(walked_to):
    """A technician before TB-001 at its first live reading."""
    return walked_to(AT_LIVE)
