"""A workshop's own limits held against the published ones of the same id: stricter is allowed, looser is not.

Figures are compared by their rules (`strictness.py`); words of the published file may be added to, never taken away.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from pydantic import BaseModel

from benchapp.errors import BenchError
from benchapp.files.locations import Key
from benchapp.files.looser import Looser, keeps_words
from benchapp.judgement.limits.figures import Figure, Sourced, Statement, Table
from benchapp.judgement.limits.profiles import CoreColour, LimitProfile
from benchapp.judgement.limits.strictness import OF_A_TABLE, FigureRule, Stricter, rule_of
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.entry import read_quantity

Place = tuple[str, ...]
AREA = " mm²"
"""the unit in which areas are named here"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stated:
    """One figure, colour or rule of a file with its key there; the figures of a table stand one by one."""

    key: Key
    item: Figure | CoreColour | Statement


def stated_in(profile: LimitProfile) -> dict[Place, Stated]:
    """Everything that a limits file states, by its place: the same in every file, whatever the order of its lists."""
    return dict(_stated(profile, (), ()))


def _stated(value: object, key: Key, place: Place) -> Iterator[tuple[Place, Stated]]:
    if isinstance(value, Table):
        for area, figure in value.figures().items():
            yield (*place, name_of_area(area)), Stated(key=(*key, "values", area), item=figure)
    elif isinstance(value, Figure | CoreColour | Statement):
        yield place, Stated(key=key, item=value)
    elif isinstance(value, BaseModel):
        for name in type(value).model_fields:
            written = name.replace("_", " ")
            yield from _stated(getattr(value, name), (*key, written), (*place, written))
    elif isinstance(value, dict):
        for name, inner in value.items():
            yield from _stated(inner, (*key, str(name)), (*place, str(name)))
    elif isinstance(value, tuple):
        for number, inner in enumerate(value):
            yield from _stated(inner, (*key, number), (*place, name_in_list(inner, number, len(value))))


def name_of_area(written: str) -> str:
    """One name for every way to write an area."""
    try:
        return f"{read_quantity(written, kind=Kind.area).si * 1e6:g}{AREA}"
    except BenchError:
        return written


def name_in_list(item: object, number: int, many: int) -> str:
    """Ratings go by their ends, what has a title or a core by that, a rule by its words."""
    if isinstance(item, Figure):
        return "smallest" if number == 0 else "largest" if number == many - 1 else f"number {number + 1}"
    return next((str(said) for name in ("title", "core", "words") if (said := getattr(item, name, ""))), str(number))


def looser_than(own: LimitProfile, shipped: LimitProfile) -> Iterator[Looser]:
    """Everything in a workshop's own limits that is looser than in those shipped under the same id."""
    mine, published = stated_in(own), stated_in(shipped)
    yield from _looser_words(own, shipped)
    for place, theirs in published.items():
        yield from _looser(place, mine.get(place), theirs, mine)
    for place, stated in mine.items():
        if place not in published and isinstance(stated.item, Figure):
            yield from _looser_addition(place, stated, published)


def _looser_words(own: LimitProfile, shipped: LimitProfile) -> Iterator[Looser]:
    if not keeps_words(own.caution, shipped.caution):
        yield Looser(key=("caution",), what="the shipped caution is not in this one", expected=f"“{shipped.caution}”")
    earth, theirs = own.earth_continuity, shipped.earth_continuity
    if earth and theirs and earth.conductor != theirs.conductor:
        what = (
            f"earth continuity, conductor: “{earth.conductor}” is another limit than “{theirs.conductor}”, as shipped"
        )
        yield Looser(key=("earth continuity", "conductor"), what=what, expected=theirs.conductor)


def _looser(place: Place, stated: Stated | None, theirs: Stated, mine: Mapping[Place, Stated]) -> Iterator[Looser]:
    said = theirs.item
    if isinstance(said, Statement):
        kept = any(isinstance(one.item, Statement) and keeps_words(one.item.words, said.words) for one in mine.values())
        if not kept:
            yield Looser(
                key=theirs.key[:1], what=f"the shipped rule “{said.words}” is missing", expected="all of its words"
            )
    elif stated is None or type(stated.item) is not type(said):
        what = f"{_words(place)} is missing: shipped is {said.words} ({said.cited})"
        yield Looser(key=theirs.key, what=what, expected=said.words)
    elif isinstance(said, Figure) and isinstance(stated.item, Figure):
        yield from _looser_figure(place, stated, said)
    elif stated.item.words != said.words:
        what = f"{_words(place)}: “{stated.item.words}” is not “{said.words}”, as shipped ({said.cited})"
        yield Looser(key=stated.key, what=what, expected=said.words)


def _looser_addition(place: Place, stated: Stated, published: Mapping[Place, Stated]) -> Iterator[Looser]:
    """A figure that the shipped file lacks is judged by the one that it takes the place of."""
    rule = rule_of(_of_table(stated.key))
    if not any(other[0] == place[0] for other in published):
        return  # the region states nothing of the kind: bounds of sense alone
    if not rule.may_be_added:
        what = f"{_words(place)}: {stated.item.words} is an exception that the shipped limits do not make"
        yield Looser(key=stated.key, what=what, expected="it left out")
    row = place[-1:] if "values" in stated.key else ()
    instead = published.get((*(str(part) for part in rule.beside), *row)) if rule.beside else None
    if instead is not None and isinstance(instead.item, Figure):
        yield from _looser_figure(place, stated, instead.item)


def _looser_figure(place: Place, stated: Stated, shipped: Figure) -> Iterator[Looser]:
    own, rule = stated.item, rule_of(_of_table(stated.key))
    assert isinstance(own, Figure)
    if not _is_looser(rule, own, shipped):
        return
    how = "another than" if rule.stricter is Stricter.exactly else "looser than"
    what = f"{_words(place)}: {own.words} is {how} the shipped {shipped.words} ({shipped.cited})"
    yield Looser(key=_value_key(stated.key), what=what, expected=f"{rule.stricter} {shipped.words}")


def same_value(one: Sourced, other: Sourced) -> bool:
    """Whether two figures, colours or rules say the same, whatever their sources."""
    if not isinstance(one, Figure) or not isinstance(other, Figure):
        return type(one) is type(other) and getattr(one, "words", one) == getattr(other, "words", other)
    if OF_A_TABLE & {one.unit, other.unit}:
        return (one.unit, one.value) == (other.unit, other.value)
    return one.kind is other.kind and one.exact == other.exact


def _is_looser(rule: FigureRule, own: Figure, shipped: Figure) -> bool:
    if OF_A_TABLE & {own.unit, shipped.unit}:
        if own.unit != shipped.unit:
            return True
        mine, theirs = own.value, shipped.value
    elif own.kind is not shipped.kind:
        return True
    else:
        mine, theirs = own.exact, shipped.exact
    if rule.stricter is Stricter.exactly:
        return mine != theirs
    return mine > theirs if rule.stricter is Stricter.at_most else mine < theirs


def senseless_in(profile: LimitProfile) -> Iterator[Looser]:
    """Figures that no standard states anywhere, areas that stand twice in a table, and fuse ratings out of order."""
    for key, figure in figures_by_key(profile):
        if isinstance(figure, Table):
            yield from _senseless_table(key, figure)
        else:
            yield from _senseless(key, figure)
    ratings = [one.exact for one in profile.fuses.ratings] if profile.fuses else []
    if ratings != sorted(ratings):
        yield Looser(key=("fuses", "ratings"), what="the fuse ratings are out of order", expected="the smallest first")


def _senseless(key: Key, figure: Figure) -> Iterator[Looser]:
    rule = rule_of(_of_table(key))
    if _of_its_kind(rule, figure) and not rule.makes_sense(_compared(rule, figure)):
        what = f"{_words(_place(key))}: {figure.words} makes no sense as a limit"
        yield Looser(key=_value_key(key), what=what, expected=rule.sensible)


def _senseless_table(key: Key, table: Table) -> Iterator[Looser]:
    seen: set[str] = set()
    for area, figure in table.figures().items():
        at, name = (*key, "values", area), name_of_area(area)
        yield from _senseless(at, figure)
        if not name.endswith(AREA):
            yield Looser(key=at, what=f"{_words(_place(key))}: “{area}” is no area of a core", expected="0.75 mm²")
        if name in seen:
            yield Looser(key=at, what=f"{_words(_place(key))}: {name} stands here twice", expected="each area once")
        seen.add(name)


def figures_by_key(profile: LimitProfile) -> Iterator[tuple[Key, Figure | Table]]:
    """Every figure and table with its key in the file."""
    yield from _by_key(profile, ())


def _by_key(value: object, key: Key) -> Iterator[tuple[Key, Figure | Table]]:
    if isinstance(value, Figure | Table):
        yield key, value
    elif isinstance(value, BaseModel):
        for name in type(value).model_fields:
            yield from _by_key(getattr(value, name), (*key, name.replace("_", " ")))
    elif isinstance(value, dict):
        for name, inner in value.items():
            yield from _by_key(inner, (*key, str(name)))
    elif isinstance(value, tuple):
        for number, inner in enumerate(value):
            yield from _by_key(inner, (*key, number))


def _of_its_kind(rule: FigureRule, figure: Figure) -> bool:
    """Whether it is in a unit of the right kind; another is complained about by itself."""
    if rule.kind is None:
        return figure.unit == rule.unit
    return figure.unit not in OF_A_TABLE and figure.kind is rule.kind


def _compared(rule: FigureRule, figure: Figure) -> Decimal:
    return figure.value if rule.kind is None else figure.exact


def _of_table(key: Key) -> Key:
    """The key of a figure, or of the table that it stands in."""
    return key[: key.index("values")] if "values" in key else key


def _value_key(key: Key) -> Key:
    return key if "values" in key else (*key, "value")


def _place(key: Key) -> Place:
    return tuple(str(part + 1) if isinstance(part, int) else part for part in key if part != "values")


def _words(place: Place) -> str:
    return ", ".join(place)
