"""Ways out for honest hands, by keys: opened to look, a false alarm, another design; and F8 before a unit is taken."""

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.papers.tag_content import tag_content
from demo.playing import Player
from tests.desktop.bench.test_screen import last
from tests.desktop.walks import AT_LIVE, DEAD, Place, unit_of, work_until


def test_a_case_opened_to_look_is_recorded_with_what_and_why_and_the_retest_follows(walked_to):
    technician = walked_to(DEAD)
    technician.strike("F9", "4")
    assert technician.page.name == "opened"
    technician.tab_to("opened-why")
    technician.type("something rattles")
    technician.strike("Enter")
    assert technician.complaint == "Choose what was opened, and say why."
    technician.page.list.setFocus()
    technician.strike("3")
    technician.tab_to("opened-why")
    technician.strike("Enter")
    entry = last(technician)
    assert (entry.kind, entry.content.opened, entry.content.why) == ("opened", ("enclosure",), "something rattles")
    assert technician.address.startswith("visual-inspection")


def test_smoke_struck_by_mistake_is_called_off_and_the_unit_goes_on_where_it_was(at_live):
    before = {address: state.entry for address, state in at_live.view.state.steps.items() if state.holds}
    at_live.strike("F12", "1")
    player = Player(at_live, lambda _page: None)
    for _ in range(20):
        if not at_live.view.state.energised:
            break
        player.do_what_is_due(unit_of())
    assert at_live.page.name == "repair"
    at_live.strike("F9", "5")
    assert at_live.page.name == "false-alarm"
    at_live.strike("1", "2", "3")
    at_live.tab_to("false-alarm-why")
    at_live.type("meant F11")
    at_live.window.context.bench.clock.pass_days(10 / 86400)
    at_live.strike("Enter")
    assert at_live.complaint.startswith("Look at this too, and say that it is so: Turned and tilted")
    at_live.page.list.setFocus()
    at_live.strike("4")
    assert at_live.at_keyboard().objectName() == "false-alarm-why"
    at_live.strike("Enter")
    assert (last(at_live).kind, last(at_live).content.reason) == ("false-alarm", "meant F11")
    assert at_live.window.context.bench.unit("TB-001").disposition == "quarantine"
    now = at_live.view.state.steps
    gone = {address for address in before if not address.startswith("make-safe") and not now[address].holds}
    assert gone == {"first-power.plug-in"}  # its plug came out on the way back, so it goes in again first
    work_until(at_live, unit_of(), lambda: AT_LIVE.holds(at_live))


def test_a_unit_of_another_design_begins_anew_as_that_and_its_tag_follows(walked_to, path):
    technician = walked_to(Place(at="plug-rewire"))
    before = len(technician.window.context.bench.entries("TB-001"))
    technician.strike("F9", "6")
    assert technician.page.name == "design"
    number = next(n for n, (one, _route) in enumerate(technician.page._pairs) if one == "tb-mu2")
    technician.page.list.go_to(number)
    technician.strike("Enter")
    assert technician.at_keyboard().objectName() == "design-why"
    technician.strike("Enter")
    assert technician.complaint == "Choose what it is, and say how you saw that."
    technician.type("the plate says so")
    technician.strike("Enter")
    bench = technician.window.context.bench
    assert technician.view.plan.equipment_id == "tb-mu2"
    assert (last(technician).kind, last(technician).content.why) == ("run", "the plate says so")
    assert len(bench.entries("TB-001")) == before + 1
    assert tag_content(bench, "TB-001").title == bench.catalogue.equipment["tb-mu2"].title
    assert tag_content(bench, "TB-002").title != tag_content(bench, "TB-001").title
    assert verify_workbook(path) == ()


def test_a_unit_that_may_be_live_is_no_other_design_before_the_way_back(at_live):
    at_live.strike("F9", "6", "Enter")
    at_live.type("the plate says so")
    at_live.strike("Enter")
    assert "Go the way back first" in at_live.complaint
    assert at_live.view.plan.equipment_id == "tb-mu1"


def test_the_bench_is_opened_from_the_board_before_a_unit_is_taken(technician):
    assert technician.window.bench.mark == ""
    technician.strike("F8")
    assert technician.window.stack.currentWidget().objectName() == "bench"
    assert technician.page.name == "opening"
    technician.strike("F2", "F11", "F8")
    assert technician.page.name == "opening"
