"""The first day of a new workshop, by keys alone: from an empty workbook to its first recorded reading."""

from benchapp.actions.standalone.checking import check_files
from benchapp.actions.workbench.bench import Bench
from benchapp.desktop.workshop_dialogs import ask_first_person
from benchapp.sequences.planning.answer_content import is_reading
from tests.desktop.windows import window_on

MOST_PAGES = 60
TYPED = {"cord-length": "2", "cord-area": "0.75", "fuse-rating": "3"}


def test_a_new_workshop_comes_from_nothing_to_its_first_recorded_reading(look, path, clock, record_property):
    keys = []
    with window_on(look, Bench.create(path, clock=clock), initials="") as technician:
        count_keys(technician, keys)
        begin(technician)
        enter_a_meter(technician)
        take_in_what_nobody_knows(technician)
        open_the_bench(technician)
        work_until_a_reading(technician)
        context = technician.window.context
        readings = [entry for entry in context.bench.entries("S-001") if is_reading(entry) and entry.content.meter]
        assert [entry.content.meter for entry in readings] == ["m1"]
        assert set(context.bench.catalogue.meters) == {"m1"}
        assert not any(one.startswith("tb-") for one in context.bench.catalogue.equipment)
    record_property("keys to the first reading", len(keys))
    assert len(keys) <= 500
    assert all(report.good for report in check_files([path.parent / "meters" / "m1.yaml"]))


def count_keys(technician, keys):
    """Note every key that is struck, and every character that is typed."""
    strike, typed = technician.strike, technician.type
    technician.strike = lambda *struck: (keys.extend(struck), strike(*struck))[1]
    technician.type = lambda text: (keys.extend(text), typed(text))[1]


def begin(technician):
    ask_first_person(technician.window.context, technician.window)
    technician.settle()
    technician.type("Ada Brook")
    technician.tab_to("first-person-initials")
    technician.type("AB")
    technician.strike("Enter")
    assert technician.window.context.bench.workshop.people[0].name == "Ada Brook"


def enter_a_meter(technician):
    technician.strike("Ctrl+Shift+E")
    technician.type("Insulation tester")
    technician.tab_to("meter-category")
    technician.type("CAT III 600 V")
    technician.strike("Tab")
    technician.type("2026-04-14")
    lines = (
        ("resistance", 0, "600 ohm", "60 Mohm", "0.1 ohm"),
        ("continuity", 1, "20 ohm", "", "0.01 ohm"),
        ("insulation", 2, "20 Mohm", "1 Gohm", "0.01 Mohm"),
    )
    for name, down, *fields in lines:
        technician.tab_to("meter-function")
        technician.strike(*["Down"] * down)
        technician.tab_to("meter-smallest")
        for field in fields:
            technician.type(field)
            technician.strike("Tab")
        technician.type("3 % + 2 counts")
        if name == "insulation":
            technician.strike("Tab")
            technician.type("250 V, 500 V")
        technician.strike("Enter")
    technician.tab_to("meter-keep")
    technician.strike("Enter")
    technician.strike("Esc")


def take_in_what_nobody_knows(technician):
    technician.strike("F2", "Ctrl+N")
    technician.type("Shed")
    technician.tab_to("new-lot-count")
    technician.retype("2")
    technician.tab_to("new-lot-first")
    technician.type("S-001")
    technician.tab_to("new-lot-class")
    technician.strike("Down", "Enter")
    technician.take_unit("S-001")


def open_the_bench(technician):
    technician.open_the_bench({"m1": "0.2"})


def work_until_a_reading(technician):
    for _ in range(MOST_PAGES):
        page = technician.page.name
        if page == "reading":
            technician.type("0.3")
            technician.strike("Enter")
            return
        answer(technician, page)


def answer(technician, page):
    if page == "inspect":
        technician.mark_rows()
        technician.strike("Enter")
    elif page in ("work", "set-up"):
        technician.confirm_rows()
    elif page == "ask" and not technician.view.step.model.answers:
        technician.retype(TYPED[technician.address.partition(".")[2]])
        technician.strike("Enter")
    elif page == "caution":
        technician.strike("y")
    else:
        technician.strike("1")
