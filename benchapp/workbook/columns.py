"""Stored readings as columns of numbers, for judging a whole history again: a million rows, so straight to the driver.

numpy is loaded at the first call.
"""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain
from typing import Any

from sqlalchemy import ColumnElement, bindparam, case, func, literal_column, select, text

from benchapp.workbook.sqlite import driver_of
from benchapp.workbook.store import Store, compiled
from benchapp.workbook.tables import BOUNDS, ENTRIES, JUDGEMENTS, RUNS, UNITS
from benchapp.workbook.values import JudgedRow

Column = Any
"""A numpy array of one dimension, float64."""
_FIELDS = 10
_NOTHING = text("9e999")
"""SQLite has no NaN: what is NULL comes as infinity, which no reading is, and becomes nan"""
_IN_RUNS = text("entries.run_id IN (SELECT runs.id FROM runs, json_each(:runs) AS asked WHERE runs.uuid = asked.value)")
_READINGS = (ENTRIES.c.kind == text("'answer'"), ENTRIES.c.judgement.is_not(None), ENTRIES.c.bound.is_not(None))
# Canonical JSON has one spelling, and a quoted text cannot hold it (its quotes are escaped): looking for it costs a
# tenth of parsing a million entries.


def _number_of(key: str) -> str:
    """The number behind a key of the content, NULL where there is none; SQLite reads the longest number it finds."""
    place = f"instr(entries.content, '\"{key}\":')"
    return f"CASE WHEN {place} THEN CAST(substr(entries.content, {place} + {len(key) + 3}, 25) AS REAL) END"


_EXPANDED: ColumnElement[float] = literal_column(
    f"coalesce({_number_of('coverage')} * entries.standard_uncertainty, "
    "json_extract(entries.content, '$.expanded_uncertainty'))"
)
_SHAPE: tuple[ColumnElement[float], ...] = tuple(
    literal_column(_number_of(key)) for key in ("dominant_half_width", "others_standard_uncertainty", "over_range_at")
)
_FLICKERS: ColumnElement[bool] = literal_column("instr(entries.content, '\"flickers\":true') > 0")
_STATES_FACTS = text(
    "instr(entries.content, '\"facts\":') AND EXISTS (SELECT 1 FROM json_each(:facts) AS asked "
    "WHERE instr(entries.content, '\"' || asked.value || '\"'))"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class JudgedColumns:
    """The readings of one step: values and uncertainties in SI (nan = none), places in BOUNDS and JUDGEMENTS.

    `dominants` and `others` are the shape of an uncertainty that one rectangular source outweighs, `overs` where the
    range of a reading over it ends.
    """

    ids: Column
    values: Column
    bounds: Column
    standards: Column
    expanded: Column
    judgements: Column
    flickers: Column
    dominants: Column
    others: Column
    overs: Column


def read_judged_groups(store: Store) -> list[tuple[str, str]]:
    """(run's UUID, address) of every step at which a reading was judged."""
    statement = (
        select(RUNS.c.uuid, ENTRIES.c.address)
        .join(RUNS, RUNS.c.id == ENTRIES.c.run_id)
        .where(*_READINGS)
        .distinct()
        .order_by(RUNS.c.uuid, ENTRIES.c.address)
    )
    return [(run, address) for run, address in _run(store, compiled(statement), {})]


def read_runs_stating(store: Store, facts: Sequence[str]) -> frozenset[str]:
    """UUIDs of the runs in which somebody stated one of these facts of the unit, by a fact's entry or by an answer."""
    statement = (
        select(RUNS.c.uuid)
        .join(ENTRIES, RUNS.c.id == ENTRIES.c.run_id)
        .where(ENTRIES.c.bound.is_(None), _STATES_FACTS)
        .distinct()
    )
    return frozenset(run for (run,) in _run(store, compiled(statement), {"facts": json.dumps(list(facts))}))


def read_judged_columns(store: Store, runs: Sequence[str], address: str) -> JudgedColumns:
    """The judged readings of these runs at a step; withdrawn ones too."""
    import numpy as np

    statement = (
        select(
            ENTRIES.c.id,
            func.coalesce(ENTRIES.c.value, _NOTHING),
            _place(ENTRIES.c.bound, BOUNDS),
            func.coalesce(ENTRIES.c.standard_uncertainty, _NOTHING),
            func.coalesce(_EXPANDED, _NOTHING),
            _place(ENTRIES.c.judgement, JUDGEMENTS),
            _FLICKERS,
            *(func.coalesce(one, _NOTHING) for one in _SHAPE),
        )
        .where(ENTRIES.c.address == bindparam("address"), _IN_RUNS)
        .where(*_READINGS)
    )
    rows = _run(store, compiled(statement), {"address": address, "runs": json.dumps(list(runs))})
    table = np.fromiter(chain.from_iterable(rows), dtype=np.float64).reshape(-1, _FIELDS)
    table[np.isinf(table)] = np.nan
    ids, values, bounds, standards, expanded, judgements, flickers, dominants, others, overs = table.T
    return JudgedColumns(
        ids=ids,
        values=values,
        bounds=bounds,
        standards=standards,
        expanded=expanded,
        judgements=judgements,
        flickers=flickers,
        dominants=dominants,
        others=others,
        overs=overs,
    )


def read_judged_rows(store: Store, ids: Sequence[int]) -> list[JudgedRow]:
    """These entries one by one, with unit and number, in the order asked for."""
    statement = (
        select(
            UNITS.c.mark,
            ENTRIES.c.number,
            ENTRIES.c.address,
            ENTRIES.c.value,
            ENTRIES.c.bound,
            ENTRIES.c.standard_uncertainty,
            ENTRIES.c.judgement,
            *_SHAPE,
        )
        .join(UNITS, UNITS.c.id == ENTRIES.c.unit_id)
        .where(ENTRIES.c.id == bindparam("entry"))
    )
    sql = compiled(statement)
    with store.reading() as connection:
        driver = driver_of(connection)
        return [JudgedRow(*driver.execute(sql, {"entry": entry}).fetchone()) for entry in ids]


def _place(column: Any, words: Sequence[str]) -> Any:  # noqa: ANN401 (Core expressions)
    """The place of a column's word among the words, as a number."""
    return case(*((column == text(f"'{word}'"), text(str(place))) for place, word in enumerate(words)))


def _run(store: Store, sql: str, values: dict[str, Any]) -> list[tuple[Any, ...]]:
    with store.reading() as connection:
        return driver_of(connection).execute(sql, values).fetchall()
