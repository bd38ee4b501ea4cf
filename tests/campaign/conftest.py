"""How often each thing is tried (all of it with tests/start.py --campaign), and a workbook to try it on."""

import os
import shutil

import pytest

from tests.actions.conftest import Clock
from tests.campaign.worked import make_workbook

WHOLE = "BENCHAPP_CAMPAIGN"
"""the environment variable that asks for the whole campaign"""
EVERYDAY = 100
"""the everyday run tries a hundredth"""


@pytest.fixture
def times():
    """How often: the whole number in a campaign, a small part of it every day."""

    def of(whole):
        return whole if os.environ.get(WHOLE) else max(4, whole // EVERYDAY)

    return of


@pytest.fixture
def tell(record_property):
    """Say in the end what was tried and what came of it."""

    def say(what, **found):
        record_property(f"campaign, {what}", ", ".join(f"{name} {number}" for name, number in found.items()))

    return say


@pytest.fixture(scope="session")
def template(tmp_path_factory):
    """A worked workbook, and beside it the data folder of the computer that worked on it."""
    path = tmp_path_factory.mktemp("template") / "tarnbeck.workbook"
    before = os.environ["BENCHAPP_DATA"]
    os.environ["BENCHAPP_DATA"] = str(path.with_name("data"))
    make_workbook(path, Clock())
    os.environ["BENCHAPP_DATA"] = before
    return path


@pytest.fixture
def path(template, tmp_path):
    """A fresh copy of the worked workbook, on a computer that worked on it."""
    shutil.copytree(template.with_name("data"), os.environ["BENCHAPP_DATA"], dirs_exist_ok=True)
    return shutil.copy(template, tmp_path / template.name)
