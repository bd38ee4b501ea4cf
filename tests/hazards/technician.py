"""A tireless but naive technician: does what the page says, answers what the unit shows, and never volunteers.

It looks only where words send it: a checkpoint is bad where its words match the list of what a sense would notice
(senses.yaml), a question is answered from what is true of the unit (truths.yaml). It knows no rows and no programs.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from random import Random
from typing import Any, Protocol

from tests.hazards.matching import says, says_any
from tests.hazards.outcome import ENERGIES, Outcome
from tests.hazards.page import Page
from tests.hazards.units.bench import Handling

MOST_PAGES = 160
SAME_PAGE = 4
"""times that a page may come back unchanged before the unit counts as stuck"""
BESIDE = ("caution", "meter", "set-up")
STOPPED = ("fault", "repair", "held", "shut")
SECONDS_A_PAGE, SECONDS_A_LINE = 25.0, 8.0
"""what a careful person takes for a page, and more for each line to look at or to do"""


class Unanswerable(Exception):
    """A question that the lists of what is true of a unit have no answer to: they want a line more."""


class Guide(Protocol):
    """What shows pages and takes answers (tests/hazards/driver.py)."""

    def page(self) -> Page: ...
    def confirm(self, page: Page) -> str: ...
    def mark(self, page: Page, marks: Mapping[str, str]) -> str: ...
    def tick(self, page: Page) -> str: ...
    def answer(self, page: Page, words: str) -> str: ...
    def read(self, page: Page, typed: str) -> str: ...
    def wait(self, page: Page) -> str: ...
    def photograph(self, page: Page) -> str: ...
    def compute(self, page: Page) -> str: ...
    def alarm(self, what: str) -> str: ...
    def pass_seconds(self, seconds: float) -> None: ...
    def dispose(self, disposition: str) -> str: ...
    def not_tested(self) -> tuple[str, ...]: ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Truth:
    """What is true of a unit, for questions: `asked` in any of these words, it `says` that, or a number."""

    asked: Sequence[str]
    says: str = ""
    value: str = ""
    shown: str = ""
    """what the unit or the bench shows there and then: lamp, watts, selector"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sense:
    """A sign that a sense would notice: words that send it there, and what such a unit's answer says."""

    name: str
    looks: Sequence[str]
    says: Sequence[str] = ()
    alarm: str = ""
    makes: str = ""
    """what answering so does to the unit: wet"""
    fed: bool = False
    """whether it is there only under power"""


@dataclass
class Technician:
    """One person at one unit."""

    guide: Guide
    handling: Handling
    senses: Sequence[Sense]
    truths: Sequence[Truth]
    noise: Random
    energy: str = "none"
    last: Page = field(default_factory=lambda: Page(kind="none"))
    told: str = ""
    walked: list[tuple[Page, str]] = field(default_factory=list)
    readings: list[tuple[Page, str, str]] = field(default_factory=list)
    """page, what was told there, what was typed"""

    def work(self, *, sell: bool = True) -> Outcome:
        """Go on until the program stops or comes to its end; then ask for the sale."""
        same = 0
        for _ in range(MOST_PAGES):
            page = self.guide.page()
            if page.kind in STOPPED:
                return self._caught(page)
            if page.kind == "finished":
                return self.sell() if sell else Outcome(left=True, energy=self.energy)
            same = same + 1 if page == self.last else 0
            if same >= SAME_PAGE:
                return Outcome(stuck=f"{page.address}: {self.told}", energy=self.energy, where=page.address)
            self._take_time(page)
            if by_hand(page) and (charge := self.handling.pinches()):
                return Outcome(hurt=f"{charge}, before {page.address}", energy=self.energy, where=page.address)
            self.last = page
            self.told = self._do(page)
            self.handling.take_advice(self.told)
            self.walked.append((page, self.told))
        return Outcome(stuck=f"no end after {MOST_PAGES} pages", energy=self.energy)

    def _take_time(self, page: Page) -> None:
        seconds = SECONDS_A_PAGE + SECONDS_A_LINE * len((*page.checkpoints, *page.do))
        self.handling.pass_time(seconds)
        self.guide.pass_seconds(seconds)

    def _caught(self, page: Page) -> Outcome:
        told = self._told_by(page)
        return Outcome(
            caught=stage_of(told),
            energy=self.energy,
            where=told.address,
            words=f"{self.told} {page.words} {' '.join(page.why_shut)}".strip(),
        )

    def _told_by(self, stop: Page) -> Page:
        """The page whose answer stopped it: the one that the stop names, else the last that was no way back."""
        before = [page for page, _ in self.walked if not page.way_back and page.kind not in BESIDE]
        named = [page for page in before if page.address == stop.address]
        return (named or before or [self.last])[-1]

    def sell(self) -> Outcome:
        """Ask for the disposition "for sale"."""
        refused = self.guide.dispose("for sale")
        if refused:
            return Outcome(caught="R", energy=self.energy, where="for sale", words=refused)
        return Outcome(left=True, energy=self.energy, not_tested=self.guide.not_tested())

    def _do(self, page: Page) -> str:
        if page.kind in ("caution", "meter", "set-up"):
            return self.guide.confirm(page)
        self.handling.follow(page)
        if page.supply != "none" and self.handling.unit.feed is not None:
            self._raise_energy(page.supply)
        if page.alarms and (what := self._alarm(page)):
            self.walked.append((page, what))
            return self.guide.alarm(what)
        if page.kind != "reading":
            return self._do_without_meter(page)
        return self._read(page)

    def _do_without_meter(self, page: Page) -> str:
        match page.kind:
            case "inspect":
                return self.guide.mark(page, self._marks(page))
            case "ask":
                return self.guide.answer(page, self._answer(page))
            case "wait":
                self.handling.pass_time(page.seconds)
                return self.guide.wait(page)
            case "photo":
                return self.guide.photograph(page)
            case "compute":
                return self.guide.compute(page)
        return self.guide.tick(page)

    def _read(self, page: Page) -> str:
        if page.function == "insulation":
            self._raise_energy("500 V")
        typed = self.handling.reading(page, self.noise)
        told = self.guide.read(page, typed)
        self.readings.append((page, told, typed))
        return told

    def _raise_energy(self, energy: str) -> None:
        self.energy = max(self.energy, energy, key=ENERGIES.index)

    def _alarm(self, page: Page) -> str:
        noticed = {one.alarm for one in self._noticed() if one.alarm} | set(self.handling.alarms())
        return next((word for word in page.alarms if says_any(word, noticed)), "")

    def _marks(self, page: Page) -> dict[str, str]:
        marks = {}
        for point in page.checkpoints:
            bad = any(says_any(point.words, one.looks) for one in self._noticed())
            marks[point.handle] = "bad" if bad else "good"
        return marks

    def _answer(self, page: Page) -> str:
        text = f"{page.words} {' '.join(page.answers)}"
        for sense in self._noticed():
            if sense.says and says_any(text, sense.looks) and (found := _offered(page.answers, sense.says)):
                if sense.makes == "wet" and not self.handling.unit.wet:
                    self.handling.unit.wet, self.energy = True, "none"
                return found
        for truth in self.truths:
            if says_any(page.words, truth.asked):
                shown = self.handling.shown(truth.shown) if truth.shown else truth.says
                if page.number:
                    return truth.value or shown
                if found := _offered(page.answers, (shown,)):
                    return found
        raise Unanswerable(f"{page.address}: {page.words} {list(page.answers)}")

    def _noticed(self) -> list[Sense]:
        alarms = self.handling.alarms()
        fed = [Sense(name=one, looks=(one,), says=("yes", one), alarm=one) for one in alarms]
        powered = self.handling.unit.feed is not None
        return [*(one for one in self.senses if powered or not one.fed), *fed]


def stage_of(page: Page) -> str:
    """The stage that a page belongs to, by what is done there."""
    if page.supply != "none":
        return "L" if page.supply == "limited" else "M"
    if page.function == "insulation":
        return "I"
    return "D" if page.kind == "reading" else "V"


def by_hand(page: Page) -> bool:
    """Whether the page sends hands to the unit: no feed, no voltage reading, and nothing said about its charge."""
    reads_volts = page.kind == "reading" and "voltage" in page.function
    about_charge = says(f"{page.words} {' '.join(page.do)}", "charge") or any(says(one, "plug out") for one in page.do)
    handled = page.kind in ("inspect", "work", "reading", "repair")
    return handled and page.supply == "none" and not reads_volts and not about_charge


def _offered(answers: Sequence[str], wanted: Sequence[str]) -> str:
    """The first answer offered that says one of these."""
    return next((one for stems in wanted for one in answers if says(one, stems)), "")


def sense_of(name: str, said: Mapping[str, Any]) -> Sense:
    """A sense from its lines in the file."""
    return Sense(name=name, **said)
