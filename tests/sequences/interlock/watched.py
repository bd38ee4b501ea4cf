"""The one place where the program and its oracle meet: a unit at the bench, with the oracle looking on.

The program gets entries; the oracle gets the texts of the files and what a person said, as plain words and numbers.
"""

from dataclasses import dataclass, field, replace
from datetime import timedelta
from functools import cache
from pathlib import Path
from typing import Any

from benchapp.sequences.answering.evaluate import evaluate
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.interlock.fold import fold
from benchapp.sequences.interlock.gate import refuse_entry, refuse_in
from benchapp.sequences.interlock.set_up import items_due
from benchapp.sequences.interlock.unit_walk import UnitWalk
from benchapp.sequences.kinds.ask import AskAnswer
from benchapp.sequences.kinds.inspect import InspectAnswer
from benchapp.sequences.kinds.photo import PhotoAnswer
from benchapp.sequences.kinds.wait import WaitAnswer
from benchapp.sequences.kinds.work import WorkAnswer
from benchapp.sequences.planning.catalogue import catalogue_from_texts
from benchapp.sequences.planning.content import Content
from benchapp.sequences.planning.contents import content_json
from benchapp.sequences.planning.entries import Entry, EntryKind, StepAnswer
from benchapp.sequences.planning.plan import make_plan
from benchapp.sequences.planning.planned import Plan, PlannedStep
from tests.people import PEOPLE, staffed
from tests.sequences.bench import METERS, SETTLED, START, TICK, Refused, Unit
from tests.sequences.interlock.oracle.files import Files
from tests.sequences.interlock.oracle.judge import complaints
from tests.sequences.interlock.oracle.typed import Told

ROOT = next(folder for folder in Path(__file__).parents if (folder / "pyproject.toml").exists())
OF_EVERY_PLAN = ("resources/meters/", "resources/connectors/", "resources/cautions/", "resources/hazards/")
IN_WORDS = tuple((one.initials.lower(), tuple(map(str, one.rights)), one.until) for one in PEOPLE)
"""the list of people, for the oracle"""
Edit = tuple[str, str, str]
"""file without its folder's name, the words in it, the words in their place"""
__all__ = [
    "METERS",
    "SETTLED",
    "START",
    "TICK",
    "AskAnswer",
    "Edit",
    "Entry",
    "EntryKind",
    "InspectAnswer",
    "PlannedStep",
    "ReadingAnswer",
    "Refused",
    "StepAnswer",
    "Watched",
    "Workplace",
    "fold",
    "make_workplace",
]
"""What the walks and the machine need of the program, through this one place."""


@cache
def shipped() -> dict[str, str]:
    """The text of every shipped file by its name."""
    found = [*(ROOT / "sequences").rglob("*.yaml"), *(ROOT / "resources").rglob("*.yaml")]
    return {path.relative_to(ROOT).as_posix(): path.read_text(encoding="utf-8") for path in found}


def plain(given: StepAnswer) -> dict[str, Any]:
    """What a person gave, without the program's own class of it."""
    match given:
        case ReadingAnswer():
            more = {"why": given.why, "source": given.source.value if given.sent else ""}
            said = {name: words for name, words in more.items() if words}
            return {"typed": given.typed, "meter": given.meter, **said}
        case InspectAnswer():
            return {"marks": dict(given.marks)}
        case WorkAnswer():
            return {"done": list(given.done)}
        case AskAnswer():
            return {"answer": given.answer}
        case WaitAnswer():
            return {"seconds": given.seconds}
        case PhotoAnswer():
            return {"photos": len(given.photos)}
    raise AssertionError(given)


@dataclass(frozen=True, kw_only=True)
class Workplace:
    """The same files as the program plans by them and as the oracle reads them."""

    plan: Plan
    files: Files


@cache
def make_workplace(
    route: str = "mains-unit",
    design: str = "tb-mu1",
    edits: tuple[Edit, ...] = (),
    *,
    tester: bool = True,
    days: int = 30,
    more: tuple[tuple[str, str], ...] = (),
) -> Workplace:
    """The shipped files with these words changed, and these files added, whether or not they still fit each other."""
    needed = ("resources/limits/gb", f"resources/equipment/{design}.", f"sequences/routes/{route}.", *OF_EVERY_PLAN)
    texts = {name: text for name, text in {**shipped(), **dict(more)}.items() if name.startswith(needed)}
    texts |= {name: text for name, text in shipped().items() if name.count("/") == 1}
    for file, old, new in edits:
        name = f"{file}.yaml" if file.startswith("resources/") else f"sequences/{file}.yaml"
        assert old in texts[name], (name, old)
        texts[name] = texts[name].replace(old, new)
    workshop = staffed(insulation_tester=tester, dead_tests_last_days=days)
    plan = make_plan(catalogue_from_texts(texts), route, design, workshop, pinned=bool(edits))
    return Workplace(plan=plan, files=Files(texts, route, design, tester=tester, days=days, people=IN_WORDS))


@dataclass
class Watched(Unit):
    """A unit of which the oracle hears everything; what is recorded against its word fails the test at once."""

    files: Files = field(default=None)  # type: ignore[arg-type]
    told: list[Told] = field(default_factory=list)
    live_accepted: int = 0
    silent: bool = False
    """whether a failed reading is read again without a word"""
    _along: tuple[UnitWalk, int] = field(default_factory=lambda: (UnitWalk(), 0))

    @classmethod
    def of(cls, place: Workplace) -> "Watched":
        """A unit straight from intake."""
        return cls(plan=place.plan, files=place.files)

    def copy(self) -> "Watched":
        """Another unit of the same history."""
        return Watched(plan=self.plan, files=self.files, entries=list(self.entries), told=list(self.told), now=self.now)

    def move_to(self, place: Workplace) -> None:
        """From here on it is worked by these files."""
        self.plan, self.files = place.plan, place.files

    def answer(self, address: str, given: StepAnswer) -> Any:
        """Give an answer; raises Refused where the program does not take it."""
        given = given if self.silent else self.explained(address, given)
        tried = evaluate(self.plan, self.state, address, given, at=self.at)
        if tried.complaint:
            raise Refused(tried.complaint)
        return self._record(EntryKind.answer, address, self.hand, tried.content, plain(given))

    def record_content(self, kind: EntryKind, content: Content, address: str = "", by: str = "") -> Any:
        """Record it; raises Refused where the program refuses it."""
        return self._record(kind, address, by or self.hand, content, content_json(content))

    def _record(self, kind: EntryKind, address: str, by: str, content: Content, said: dict[str, Any]) -> Entry:
        """Ask the gate, and hold what it lets through against the oracle's word; a tick passes with each."""
        entry = self.draft(kind, address, by, content)
        complaint = refuse_in(self.state, entry)
        self._hold_the_walk_against_the_fold(entry, complaint)
        if complaint:
            raise Refused(complaint)
        self.entries.append(entry)
        now = Told(
            number=entry.number, kind=kind.value, at=entry.at, by=by, address=address, said=said, files=self.files
        )
        against = complaints(self.told, now)
        assert against == [], (kind.value, address, said, against)
        self.told.append(now)
        self.now += TICK
        self.live_accepted += kind is EntryKind.answer and now.step is not None and now.step.live
        return entry

    def _hold_the_walk_against_the_fold(self, entry: Entry, complaint: str | None) -> None:
        """Whoever walks along the history finds the same unit, and the gate says the same, at every entry tried."""
        along, taken = self._along
        for one in self.entries[taken:]:
            along.take(one)
        self._along = (along, len(self.entries))
        standing, state = along.before(self.plan, entry.at), self.state
        assert refuse_entry(standing.engine, entry) == complaint
        for name in ("facts", "readings", "meters", "set_up", "last_entry"):
            assert getattr(standing.state, name) == getattr(state, name), name

    def good_reading(self, step: Any) -> str:
        """What a sound unit shows, band or none: an edited step may have lost its own, careless hands read the current
        before they have said what limits it.
        """
        if step.address == "continuity.primary" and step.band is None:
            return "480 ohm"
        if step.function == "AC current" and self.try_current(step).band is None:
            return "0.015 A"
        return super().good_reading(step)

    def against(self, kind: str, address: str = "", **said: Any) -> list[str]:
        """What the oracle would have against recording this now."""
        at = self.now.isoformat()
        now = Told(
            number=len(self.entries) + 1, kind=kind, at=at, by=self.hand, address=address, said=said, files=self.files
        )
        return complaints(self.told, now)

    def has_read(self, caution: str) -> bool:
        """Whether the caution was read within the hour and nothing has disturbed the unit since."""
        for one in reversed(self.told):
            if one.kind in ("repair", "opened", "event", "hazard"):
                return False
            if one.kind == "caution" and one.said["caution"] == caution and one.by == self.hand:
                return self.is_of_this_hour(one)
        return False

    def holds(self, meter: str) -> bool:
        """Whether the meter was taken in hand, proved, within the hour."""
        taken = [one for one in self.told if one.kind == "meter" and one.said["meter"] == meter]
        return bool(taken) and taken[-1].said.get("proved", "") != "" and self.is_of_this_hour(taken[-1])

    def is_of_this_hour(self, told: Told) -> bool:
        """Whether it is not more than an hour ago."""
        return timedelta() <= self.now - START.fromisoformat(told.at) < timedelta(hours=1)

    def set_up_for(self, address: str) -> tuple[str, ...]:
        """What is confirmed before that step."""
        return items_due(self.state.evaluation, self.plan.step(address))


def told_again(unit: Watched, place: Workplace) -> Watched:
    """The same history, taken under these files from the beginning."""
    told = [replace(one, files=place.files) for one in unit.told]
    return Watched(plan=place.plan, files=place.files, entries=list(unit.entries), told=told, now=unit.now)
