"""How often each thing is tried (all of it with tests/start.py --campaign), and a workbook to try it on."""

import os

import pytest

from tests.actions.conftest import Clock
from tests.campaign.worked import make_workbook
from tests.templates import Template

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
    return Template(tmp_path_factory.mktemp("template"), Clock(), make_workbook)


@pytest.fixture
def path(template, tmp_path):
    """A fresh copy of a worked workbook, on a computer that worked on it."""
    return template.copied(tmp_path)
