"""What a lot tells in one look: first goes, faults, what to fetch, who stands where."""

from benchapp.lots.board import UnitRow, lot_board
from benchapp.lots.kit import KitKind
from benchapp.lots.lot_look import lot_look
from benchapp.lots.unit_look import look_at_unit
from benchapp.sequences.kinds.ask import AskAnswer
from tests.sequences.bench import Unit, plan_of

FUSE = "plug-rewire.fuse-rating"


def wrong_fuse():
    """A unit whose plug had the wrong fuse at the first look."""
    unit = Unit(plan_of())
    unit.go_to(FUSE)
    unit.answer(FUSE, AskAnswer(answer="13 A"))
    return unit


def told(unit, mark="TB-001"):
    return look_at_unit(mark, unit.plan, unit.state)


def look_of(units):
    rows = [
        UnitRow(mark=mark, disposition=unit.state.disposition, stages=unit.state.stages, due=unit.state.due.words)
        for mark, unit in units.items()
    ]
    return lot_look(lot_board(rows), [told(unit, mark) for mark, unit in units.items()])


def test_a_stage_whose_first_answers_all_were_good_passed_at_the_first_go():
    unit = Unit(plan_of())
    unit.go_to("continuity.earth")
    assert told(unit).first_goes == {"visual-inspection": True, "plug-rewire": True}


def test_a_stage_that_failed_once_did_not_pass_at_the_first_go_even_mended():
    unit = wrong_fuse()
    assert told(unit).first_goes == {"visual-inspection": True, "plug-rewire": False}
    unit.answer(FUSE, AskAnswer(answer="3 A"))
    unit.go_to("continuity.earth")
    assert told(unit).first_goes["plug-rewire"] is False


def test_an_answer_that_was_taken_back_is_no_first_go():
    unit = Unit(plan_of())
    unit.go_to(FUSE)
    unit.withdraw(unit.answer(FUSE, AskAnswer(answer="13 A")))
    unit.go_to("continuity.earth")
    assert told(unit).first_goes["plug-rewire"] is True


def test_faults_are_counted_by_their_words_and_shared_by_three():
    look = look_of({f"TB-00{number}": wrong_fuse() for number in range(1, 4)})
    (fault,) = look.faults
    assert (fault.count.name, fault.count.units, fault.shared) == ("the fuse in the plug, wrong rating", 3, True)
    assert fault.marks == ("TB-001", "TB-002", "TB-003")
    assert not look_of({"TB-001": wrong_fuse()}).faults[0].shared


def test_what_failed_is_needed_for_sure_and_what_is_ahead_perhaps():
    look = look_of({"TB-001": wrong_fuse(), "TB-002": Unit(plan_of())})
    fuse = next(line for line in look.kit if line.what == "plug fuse of 3 A")
    assert (fuse.kind, fuse.sure, fuse.units) == (KitKind.part, 1, 2)


def test_units_of_several_designs_are_fetched_for_together():
    look = look_of({"TB-001": Unit(plan_of()), "TB-301": Unit(plan_of("loudspeaker", "tb-ls1"))})
    lines = {line.what: line.units for line in look.kit}
    assert lines["meter for resistance"] == 2
    assert lines["meter for insulation"] == 1


def test_each_stage_counts_the_units_that_have_it_in_one_order():
    look = look_of({"TB-001": Unit(plan_of()), "TB-002": wrong_fuse()})
    plug = next(stage for stage in look.stages if stage.stage == "plug-rewire")
    assert plug.counts == (("failed", 1), ("not started", 1))
    assert (plug.first_go.passed, plug.first_go.judged) == (0, 1)
    assert look.stand == (("quarantine", 2),)


def test_units_that_may_hurt_or_are_on_hold_are_named():
    rows = [
        UnitRow(mark="TB-001", disposition="quarantine", stages=(), due="The way back.", live="mains"),
        UnitRow(mark="TB-002", disposition="hold", stages=(), due="It is on hold."),
        UnitRow(mark="TB-003", disposition="scrap", stages=()),
    ]
    look = lot_look(lot_board(rows), ())
    assert look.mind == (("TB-001", "mains", "The way back."), ("TB-002", "hold", "It is on hold."))
    assert dict(look.stand) == {"mains": 1, "hold": 1, "scrap": 1}
