"""Units at the bench: fresh, dead-tested, and wholly checked."""

import pytest

from tests.people import staffed
from tests.sequences.bench import Unit, plan_of
from tests.sequences.every_kind import plan_of_every_kind


@pytest.fixture
def unit() -> Unit:
    """A class I mains unit straight from intake."""
    return Unit(plan_of())


@pytest.fixture
def dead_tested(unit: Unit) -> Unit:
    """The same, with every dead test good and first power due."""
    unit.go_to("first-power.plug-in")
    return unit


@pytest.fixture
def checked(unit: Unit) -> Unit:
    """The same, with everything done."""
    unit.finish()
    return unit


@pytest.fixture
def double_insulated() -> Unit:
    """A class II mains unit straight from intake."""
    return Unit(plan_of(equipment="tb-mu2"))


@pytest.fixture
def without_tester() -> Unit:
    """A class I mains unit in a workshop that has no insulation tester."""
    return Unit(plan_of(workshop=staffed(insulation_tester=False)))


@pytest.fixture(scope="package")
def plan():
    """A plan with steps of most kinds."""
    return plan_of_every_kind()


@pytest.fixture
def each(plan) -> Unit:
    """A unit on that plan, with a meter in hand."""
    unit = Unit(plan)
    unit.hold("tb-m1")
    return unit
