"""One workbook for all trials of a process."""

import os

import pytest

from tests.hazards.driver import Workplace


@pytest.fixture(scope="session")
def workplace(tmp_path_factory):
    os.environ.setdefault("BENCHAPP_DATA", str(tmp_path_factory.getbasetemp() / "data" / "trials"))
    opened = Workplace(tmp_path_factory.mktemp("trials"))
    yield opened
    opened.close()
