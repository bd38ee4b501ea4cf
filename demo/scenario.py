"""The invented day as plain values: lots, and what is wrong with which unit."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from benchapp.files.reader import read_document
from benchapp.sequences.planning.people import ListedPerson, Right

FILE = Path(__file__).with_name("tarnbeck.yaml")


@dataclass(frozen=True, slots=True, kw_only=True)
class Hidden:
    """What is wrong with one unit, how it is mended, or what becomes of it when it is not."""

    answers: Mapping[str, str] = field(default_factory=dict)
    marks: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    defect: Mapping[str, str] = field(default_factory=dict)
    repair: Mapping[str, str] = field(default_factory=dict)
    disposition: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LotOfTheDay:
    """Units of one design that came in together."""

    lot: str
    equipment: str
    first: str
    count: int
    grade: str = ""
    price: str = ""
    answers: Mapping[str, str] = field(default_factory=dict)
    hidden: Mapping[str, Hidden] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """The whole day; `seed` makes the scatter of the readings the same every time."""

    technician: str
    people: tuple[ListedPerson, ...]
    mains: str
    seed: int
    leads: Mapping[str, str]
    answers: Mapping[str, str]
    lots: tuple[LotOfTheDay, ...]


def read_day(path: Path = FILE) -> Day:
    """Read the day from its file; raises FileProblems where the file cannot be read."""
    data: dict[str, Any] = dict(read_document(path).data)
    people, lots = tuple(map(_person, data["people"])), tuple(map(_lot, data["lots"]))
    return Day(**{**data, "people": people, "seed": int(data["seed"]), "lots": lots})


def _person(data: Mapping[str, Any]) -> ListedPerson:
    return ListedPerson(**{**data, "rights": tuple(map(Right, data["rights"]))})


def _lot(data: Mapping[str, Any]) -> LotOfTheDay:
    hidden = {mark: Hidden(**wrong) for mark, wrong in data["hidden"].items()}
    return LotOfTheDay(**{**data, "count": int(data["count"]), "hidden": hidden})
