"""What a unit and a workshop have of their own: facts, settings, a supervisor's opening, the end of the day."""

import pytest
from PySide6.QtWidgets import QWidget

from benchapp.actions.workbench.bench import Bench
from benchapp.files.shipped import shipped_folder
from tests.actions.driving import do_what_is_due
from tests.desktop.walks import AT_EARTH, Place, unit_of, work_until
from tests.desktop.windows import Clock, prove_meters, take_in, window_on
from tests.people import staffed


def fact(technician, name):
    rows = technician.page.list.rows()
    technician.page.list.go_to(next(number for number, row in enumerate(rows) if row.words.startswith(f"{name}:")))


def test_what_the_unit_has_overrides_the_design(technician):
    technician.take_unit("TB-001")
    technician.strike("Ctrl+U")
    fact(technician, "cord length")
    technician.strike("Enter")
    technician.type("5 m")
    technician.strike("Enter")
    assert technician.view.state.facts["cord length"] == 5.0
    technician.strike("Ctrl+U")
    row = next(row for row in technician.page.list.rows() if row.words.startswith("cord length"))
    assert row.words == "cord length: 5 m"
    assert row.detail == "the design: 1.8 m"


def test_a_second_person_makes_a_plug_moulded_that_the_design_has_rewirable(walked_to):
    technician = walked_to(Place(at="visual-inspection.plug"))
    technician.strike("2")
    assert "If this one is moulded, a second person looks and says so too" in technician.said
    assert technician.view.state.facts["plug"] == "rewirable"
    technician.give_initials("SV")
    technician.strike("Ctrl+U")
    fact(technician, "plug")
    technician.strike("Enter")
    technician.type("moulded")
    technician.strike("Enter")
    assert technician.view.state.facts["plug"] == "moulded"
    assert technician.view.state.steps["plug-rewire.plug-inside"].status == "skipped"


def test_a_longer_cord_moves_the_limit_of_its_earth(walked_to):
    technician = walked_to(AT_EARTH)
    before = technician.page.gauge.content().upper
    technician.strike("Ctrl+U")
    fact(technician, "cord length")
    technician.strike("Enter")
    technician.type("5")
    technician.strike("Enter")
    work_until(
        technician, unit_of(), lambda: technician.address == "continuity.earth" and technician.page.name == "reading"
    )
    assert technician.page.gauge.content().upper == pytest.approx(0.1 + 5 * 0.026)
    assert technician.page.gauge.content().upper > before


def test_own_texts_are_named_on_the_page_that_they_bear_on(look, bench, path):
    """A caution with a sentence more, and an earth limit that is stricter than the published one."""
    for kind, ident, old, new in (
        ("cautions", "unplugged-work", "source:", "  - The red lamp is off.\nsource:"),
        ("limits", "gb", "    value: 0.1\n", "    value: 0.08\n"),
    ):
        text = (shipped_folder("resources") / kind / f"{ident}.yaml").read_text(encoding="utf-8")
        (path.parent / f"our-{ident}.yaml").write_text(text.replace(old, new, 1), encoding="utf-8")
    take_in(bench)
    prove_meters(bench)
    with window_on(look, bench) as technician:
        technician.take_unit("TB-001")
        assert technician.page.name == "caution"
        assert "“The red lamp is off.” (our-unplugged-work.yaml)" in technician.page.own_texts.text()
        assert "this workshop's own words (our-unplugged-work.yaml)" in technician.page.source.text()
        technician.strike("y")
        assert technician.page.own_texts.text() == ""
        assert not technician.page.own_texts.isVisible()
        work_until(
            technician,
            unit_of(),
            lambda: technician.address == "continuity.earth" and technician.page.name == "reading",
        )
        assert "earth continuity, base: 0.08 ohm in place of 0.1 ohm" in technician.page.own_texts.text()
        assert technician.page.own_texts.isVisible()


def test_a_fact_that_cannot_be_is_refused_and_stays_typed(technician):
    technician.take_unit("TB-001")
    technician.strike("Ctrl+U")
    fact(technician, "cord length")
    technician.strike("Enter")
    technician.type("long")
    technician.strike("Enter")
    assert "long" in technician.complaint
    assert technician.reads("facts-field") == "long"


def test_the_bench_is_closed_at_the_end_of_the_day(technician):
    technician.take_unit("TB-001")
    technician.strike("F8")
    technician.tab_to("opening-close")
    technician.strike("Enter")
    assert technician.window.context.bench.opening() is None


def test_the_workshops_settings_are_kept(technician):
    technician.give_initials("SV")
    technician.strike("Ctrl+,")
    technician.tab_to("workshop-days")
    technician.retype("14")
    technician.tab_to("workshop-tester")
    technician.strike("Space", "Enter")
    dialog = technician.window.findChild(QWidget, "workshop-dialog")
    assert "Say why the settings change (no insulation tester)" in dialog.complaint.text()
    technician.tab_to("workshop-reason")
    technician.retype("it is away to be calibrated")
    technician.strike("Enter")
    kept = technician.window.context.bench.workshop
    assert (kept.dead_tests_last_days, kept.insulation_tester, kept.region) == (14, False, "gb")


def test_without_an_insulation_tester_a_supervisor_opens_limited_supply(look, path):
    clock = Clock()
    bench = Bench.create(path, clock=clock, workshop=staffed(insulation_tester=False))
    take_in(bench)
    prove_meters(bench)
    with window_on(look, bench) as technician:
        technician.take_unit("TB-001")
        work_until(technician, unit_of(), lambda: technician.page.name == "shut")
        assert any("supervisor" in row.detail for row in technician.page.list.rows())
        technician.tab_to("shut-reason")
        technician.strike("Enter")
        assert "reason" in technician.complaint
        technician.give_initials("SV")
        technician.tab_to("shut-reason")
        technician.type("double-wound, cord and case sound")
        technician.strike("Enter")
        entry = bench.entries("TB-001")[-1]
        assert (entry.kind, entry.by) == ("supervisor-opening", "SV")
        work_until(
            technician, unit_of(), lambda: technician.view.supply == "limited" and technician.page.name == "reading"
        )
        work_until(technician, unit_of(), lambda: technician.page.name == "shut")
        technician.strike("F6", "1")
        assert "insulation was not tested" in technician.complaint


class PatientClock(Clock):
    """The same, each look fifteen seconds later: whoever works by it has waited where a step asks for it."""

    def __call__(self) -> str:
        return [Clock.__call__(self) for _ in range(3)][-1]


def test_a_supervisor_accepts_220_v_on_230_v_by_name_where_its_page_says_so(look, path):
    """The design bears no more than 242 V by the rule, and 253 V are legal here."""
    design = (shipped_folder("resources") / "equipment" / "tb-mu2.yaml").read_text(encoding="utf-8")
    imported = design.replace("tb-mu2", "tb-mu9").replace("240 V", "220 V").replace("310 ohm", "260 ohm")
    (path.parent / "tb-mu9.yaml").write_text(imported, encoding="utf-8")
    bench = Bench.create(path, clock=PatientClock(), workshop=staffed())
    take_in(bench, equipment="tb-mu9", route="mains-item")
    prove_meters(bench)
    due = do_what_is_due(bench, "TB-001", by="AB")
    assert [missing.id for missing in due.missing] == ["setting"]
    with window_on(look, bench) as technician:
        technician.take_unit("TB-001")
        assert technician.page.name == "shut"
        assert "a 220 V rating on 230 V mains" in technician.reads("shut-reason-head")
        technician.give_initials("SV")
        technician.tab_to("shut-reason")
        technician.type("has run so for years")
        technician.strike("Enter")
        entry = bench.entries("TB-001")[-1]
        assert (entry.kind, entry.by, entry.content.what) == ("acceptance", "SV", "a 220 V rating on 230 V mains")
        assert technician.page.name != "shut"
