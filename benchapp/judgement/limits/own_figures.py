"""A workshop's own limits with the source that each figure really has: the published one, or the workshop's own file.

A figure with the published value keeps the published source, whatever the own file names; any other is the workshop's.
"""

from collections.abc import Mapping
from typing import Any

from pydantic import BaseModel

from benchapp.judgement.limits.figures import Figure, Statement, Table
from benchapp.judgement.limits.profiles import CoreColour, LimitProfile
from benchapp.judgement.limits.stricter import Place, Stated, name_in_list, name_of_area, same_value, stated_in


def with_own_sources(own: LimitProfile, shipped: LimitProfile | None, file: str) -> LimitProfile:
    """The same limits with true sources; `shipped` are those of the same id, None where the region is not shipped."""
    published = stated_in(shipped) if shipped is not None else {}
    marked = _marked(own, (), published, file)
    assert isinstance(marked, LimitProfile)
    return marked


def own_places(own: LimitProfile) -> dict[Place, Stated]:
    """What of limits with true sources is the workshop's own, by its place."""
    return {place: stated for place, stated in stated_in(own).items() if stated.item.own}


def _marked(value: Any, place: Place, published: Mapping[Place, Stated], file: str) -> Any:  # noqa: ANN401  any field
    if isinstance(value, Table):
        return _marked_table(value, place, published, file)
    if isinstance(value, Figure | CoreColour | Statement):
        theirs = published.get(place)
        return theirs.item if theirs is not None and same_value(value, theirs.item) else value.as_own(file)
    if isinstance(value, BaseModel):
        names = type(value).model_fields
        fields = {n: _marked(getattr(value, n), (*place, n.replace("_", " ")), published, file) for n in names}
        return value.model_copy(update=fields)
    if isinstance(value, dict):
        return {name: _marked(inner, (*place, str(name)), published, file) for name, inner in value.items()}
    if isinstance(value, tuple):
        many = len(value)
        return tuple(_marked(v, (*place, name_in_list(v, n, many)), published, file) for n, v in enumerate(value))
    return value


def _marked_table(table: Table, place: Place, published: Mapping[Place, Stated], file: str) -> Table:
    """Rows with published values under the published source, the others each as the workshop's own."""
    rows = {area: (row, published.get((*place, name_of_area(area)))) for area, row in table.figures().items()}
    theirs = {a: other.item for a, (row, other) in rows.items() if other is not None and same_value(row, other.item)}
    first = next(iter(theirs.values()), None)
    if first is None:
        return table.with_own_rows(dict.fromkeys(rows, file))
    statuses = {area: item.status for area, item in theirs.items() if item.status != first.status}
    sources: dict[str, object] = {"source": first.source, "status": first.status, "note": first.note}
    same = table.model_copy(update={**sources, "less_certain": statuses})
    return same.with_own_rows({area: file for area in rows if area not in theirs})
