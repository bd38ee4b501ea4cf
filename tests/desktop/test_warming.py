"""What the first unit needs is loaded while nobody waits."""

from benchapp.desktop.warming import warm_up, warm_up_soon
from tests.desktop.windows import take_in, window_on


def test_the_plan_of_a_unit_is_made_ahead(bench):
    take_in(bench, count=2)
    assert warm_up(bench) == "TB-001"
    bench.close()


def test_a_workbook_without_units_is_made_ready_too(bench):
    assert warm_up(bench) == ""
    bench.close()


def test_it_begins_by_itself_and_says_nothing(look, bench, qtbot):
    take_in(bench, count=1)
    with window_on(look, bench) as technician:
        said = technician.said
        timer = warm_up_soon(technician.window.context, technician.window)
        qtbot.waitUntil(lambda: not timer.isActive() and not technician.window.tasks.under_way, timeout=10000)
        assert technician.said == said


def test_a_window_that_closes_at_once_waits_for_nothing(look, bench):
    with window_on(look, bench) as technician:
        timer = warm_up_soon(technician.window.context, technician.window)
        assert timer.isActive()
