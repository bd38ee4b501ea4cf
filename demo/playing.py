"""A unit is taken through its route by keys alone: one method for each thing that can be due."""

from collections.abc import Callable
from math import ceil
from typing import Any

from benchapp.desktop.bench.page_routing import page_for
from demo.clock import STEP
from demo.simulated_bench import SimulatedUnit
from demo.technician import Technician

MOST_PAGES = 400
"""pages after which a unit that does not come to an end is given up"""
MOST_PROBES = 12
"""probes after which a search is given up, with whatever it suspects then"""
DISPOSITION_KEYS = {"for sale": "1", "spares or repair": "2", "keep": "3", "hold": "4", "scrap": "5"}


class Player:
    """Works one unit after the other in the window, with the answers of the simulated bench."""

    def __init__(self, technician: Technician, see: Callable[[str], None]) -> None:
        self._technician = technician
        self._see = see

    def work(self, unit: SimulatedUnit) -> str:
        """Take the unit from the board to its disposition; returns it in words."""
        self._technician.take_unit(unit.mark)
        for _ in range(MOST_PAGES):
            page = page_for(self._technician.view)
            if page != "reading":
                self._see(page)
            if page == "outcome" or (page in ("repair", "shut") and not self._can_mend(unit)):
                return self._settle(unit)
            self.do_what_is_due(unit)
        raise AssertionError(f"{unit.mark} never comes to an end")

    def do_what_is_due(self, unit: SimulatedUnit) -> None:
        """Do what the page asks for; raises AssertionError when the page does not turn after it."""
        self._technician.take_in_hand()
        page, address = page_for(self._technician.view), self._technician.address
        before = (self._technician.view.state.last_entry, page, address)
        getattr(self, f"_do_{page.replace('-', '_')}")(unit)
        if before == (
            self._technician.view.state.last_entry,
            page_for(self._technician.view),
            self._technician.address,
        ):
            raise AssertionError(f"{unit.mark} stands still at {address}: {self._technician.complaint}")

    def _can_mend(self, unit: SimulatedUnit) -> bool:
        return bool(unit.wrong.repair) and not unit.mended

    def _do_caution(self, _unit: SimulatedUnit) -> None:
        self._technician.strike("y")
        while "There is more below" in self._technician.complaint:
            self._technician.strike("y")

    def _do_meter(self, _unit: SimulatedUnit) -> None:
        self._technician.strike("1")  # the most capable one that is proved stands first

    def _do_set_up(self, _unit: SimulatedUnit) -> None:
        self._technician.confirm_rows()

    def _do_inspect(self, unit: SimulatedUnit) -> None:
        self._technician.mark_rows(unit.marks(self._step()))

    def _do_work(self, _unit: SimulatedUnit) -> None:
        self._technician.confirm_rows()

    def _do_reading(self, unit: SimulatedUnit) -> None:
        view = self._technician.view
        self._technician.retype(unit.reading(view.plan, self._step()))
        self._see(f"{self._step().function.replace(' ', '-')}-typed")
        self._technician.strike("Enter")

    def _do_wait(self, _unit: SimulatedUnit) -> None:
        clock, needed = self._technician.page.context.bench.clock, self._step().lasts or 0.0
        for _ in range(ceil(needed / STEP.total_seconds())):
            clock()  # each look moves the clock of the played day
        self._technician.strike("Enter")

    def _do_ask(self, unit: SimulatedUnit) -> None:
        step, answer = self._step(), unit.answer(self._step())
        answers = [str(one.answer) for one in step.model.answers]
        if answers:
            self._technician.strike(str(answers.index(answer) + 1))
        else:
            self._technician.retype(answer)
            self._technician.strike("Enter")

    def _do_fault(self, unit: SimulatedUnit) -> None:
        """Find the part by probes where its circuit is broken; a unit that may be live goes the way back first."""
        if unit.hidden.defect:
            self._technician.strike("F10")
            if self._technician.page.name != "search":
                return
            self._find_the_fault(unit)
        self._technician.tab_to("fault-words")
        self._technician.strike("Enter")

    def _find_the_fault(self, unit: SimulatedUnit) -> None:
        """Read what the page asks for until it asks no more, then take its first suspect over."""
        page: Any = self._technician.page
        for _ in range(MOST_PROBES):
            asked = page.asked()
            if asked is None:
                break
            if self._technician.view.state.energised and not asked.live:
                self._technician.strike("Enter")  # the way back; the search goes on behind it
                while self._technician.page.name != "search":
                    self.do_what_is_due(unit)
                continue
            self._technician.retype(unit.probe(self._technician.view.plan, asked, page.set_up()))
            self._see("search-live-typed" if asked.live else "search-typed")
            self._technician.strike("Enter")
        self._see("search-ended")
        self._technician.strike("Ctrl+Enter")
        self._see("fault-found")

    def _do_repair(self, unit: SimulatedUnit) -> None:
        """Tick the list line by line, name the parts used, look at what is taken again, agree."""
        repair, page = unit.wrong.repair, self._technician.page
        if page.part.part() != repair["part"]:  # type: ignore[attr-defined]
            self._fill("repair-part", repair["part"])
        if repair["parts"]:
            self._fill("repair-parts", repair["parts"])
        self._technician.tick(f"repair-opened-{repair['opened']}")
        self._technician.tab_to("repair-list")
        self._see("repair")
        for _ in page.names:  # type: ignore[attr-defined]
            self._technician.strike("Enter")
        self._see("repair-ticked")
        unit.mended = True
        self._technician.strike("Enter")

    def _settle(self, unit: SimulatedUnit) -> str:
        """Disposition, grade and price by key; what cannot be mended is not sold."""
        hidden = unit.hidden
        disposition = hidden.disposition or ("hold" if hidden.defect or hidden.marks or hidden.answers else "for sale")
        if page_for(self._technician.view) != "outcome":
            self._technician.strike("F6")
        if disposition == "for sale":
            self._fill("outcome-grade", unit.lot.grade)
            self._fill("outcome-price", unit.lot.price)
            self._technician.strike("Enter")
        view = self._technician.view
        if disposition in ("scrap", "spares or repair") and view.plan.mains_fed and not view.state.destroyed:
            self._technician.strike("d")
            self._be_sure(unit)
        self._technician.strike(DISPOSITION_KEYS[disposition])
        if disposition == "scrap":
            self._be_sure(unit)
        self._see("outcome-settled")
        if self._technician.complaint:
            raise AssertionError(f"{unit.mark}: {self._technician.complaint}")
        return disposition

    def _be_sure(self, unit: SimulatedUnit) -> None:
        """Say of which unit it is true, and why."""
        self._technician.type(unit.mark[-2:])
        self._technician.tab_to("sure-why")
        self._technician.type("past mending")
        self._see("outcome-asked")
        self._technician.strike("Enter")
        if page_for(self._technician.view) != "outcome" and self._technician.page.name != "outcome":
            self._technician.strike("F6")

    def _step(self):  # noqa: ANN202 - a PlannedStep of the engine
        step = self._technician.view.step
        assert step is not None
        return step

    def _fill(self, name: str, text: str) -> None:
        self._technician.tab_to(name)
        self._technician.retype(text)
