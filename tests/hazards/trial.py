"""One trial: a unit with one thing wrong (or none), walked by the technician along a route."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from typing import Any

import yaml

from tests.hazards.driver import Workplace
from tests.hazards.outcome import Outcome
from tests.hazards.technician import Guide, Sense, Technician, Truth, sense_of
from tests.hazards.units.bench import Handling
from tests.hazards.units.unit import described, make_unit
from tests.hazards.ways import WAYS

FOLDER = Path(__file__).parent


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """A row put into one design in one way."""

    row: str
    design: str
    number: int = 0
    signs: Sequence[str] = ()
    change: Mapping[str, Any] = field(default_factory=dict)
    truths: Sequence[Mapping[str, Any]] = ()
    facts: Mapping[str, Any] = field(default_factory=dict)
    way: str = ""
    """another way than walking to the sale: see tests/hazards/ways.py"""
    accepts: str = ""
    """what a supervisor accepts of the unit before anybody works on it"""
    mains: float = 240.0
    lamp: float = 60.0

    @property
    def name(self) -> str:
        """The row, the design, and a number where the row is put into it in several ways."""
        return f"{self.row} {self.design}" + (f" ({self.number + 1})" if self.number else "")


@cache
def senses() -> Mapping[str, Sense]:
    """All signs that senses notice, by name."""
    said = yaml.safe_load((FOLDER / "senses.yaml").read_text(encoding="utf-8"))
    return {name: sense_of(name, one) for name, one in said.items()}


@cache
def _common_truths() -> tuple[Mapping[str, Any], ...]:
    return tuple(yaml.safe_load((FOLDER / "truths.yaml").read_text(encoding="utf-8")))


def truths_of(trial: Trial, found: Mapping[str, Any]) -> list[Truth]:
    """What is true of the trial's unit, its own answers first."""
    return list(_truths((*trial.truths, *_common_truths()), found))


def _truths(said: Iterable[Mapping[str, Any]], found: Mapping[str, Any]) -> Iterable[Truth]:
    for one in said:
        if "found" not in one:
            yield Truth(**one)
        elif one["found"] in found:
            told = str(found[one["found"]])
            yield Truth(asked=one["asked"], says=told, value=told)


def routes_of(design: str) -> Sequence[str]:
    """The routes that a unit of that design can be walked on, the usual one first."""
    return tuple(described(design)["routes"])


def technician_at(trial: Trial, guide: Guide, *, seed: int = 0) -> Technician:
    """Somebody with the trial's unit in hands, at the beginning."""
    unit = make_unit(trial.design, trial.change)
    handling = Handling(unit, mains=trial.mains, lamp=trial.lamp)
    noticed = [senses()[name] for name in trial.signs]
    return Technician(guide, handling, noticed, truths_of(trial, unit.about["found"]), Random(f"{seed} {trial.name}"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A row of the list: its words, the latest stage, its trials, or why no shipped design carries it."""

    ident: str
    words: str
    latest: str
    trials: tuple[Trial, ...] = ()
    not_tried: str = ""
    named: str = ""
    """stems of the line of the tag that names it as not tested"""


@cache
def rows() -> Mapping[str, Row]:
    """All rows by id, as the files say them."""
    found: dict[str, Row] = {}
    for file in sorted((FOLDER / "rows").glob("*.yaml")):
        for ident, said in yaml.safe_load(file.read_text(encoding="utf-8")).items():
            found[ident] = _row(ident, said)
    return found


def _row(ident: str, said: Mapping[str, Any]) -> Row:
    trials: list[Trial] = []
    counts: dict[str, int] = {}
    for one in said.get("trials", ()):
        rest = {key: value for key, value in one.items() if key != "designs"}
        for design in one["designs"]:
            number = counts.get(design, 0)
            counts[design] = number + 1
            trials.append(Trial(row=ident, design=design, number=number, **rest))
    return Row(
        ident=ident,
        words=said["words"],
        latest=said["latest"],
        trials=tuple(trials),
        not_tried=said.get("not tried", ""),
        named=said.get("named", ""),
    )


def run(trial: Trial, *, route: str = "", seed: int = 0, region: str = "gb") -> Outcome:
    """Walk it in its way, at a bench of its own: what a trial leaves under power keeps no other waiting."""
    with TemporaryDirectory() as folder:
        workplace = Workplace(Path(folder), region=region)
        try:
            driver = workplace.take_in(trial.design, route or routes_of(trial.design)[0], trial.facts)
            if trial.accepts:
                driver.accept(trial.accepts, "It ran here for ten years.")
            return WAYS[trial.way](technician_at(trial, driver, seed=seed), driver, workplace)
        finally:
            workplace.close()
