"""Stored readings as columns of numbers, for judging a whole history again: a million rows, so straight to the driver.

numpy is loaded at the first call.
"""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain
from typing import Any

from sqlalchemy import ColumnElement, bindparam, case, func, select, text, true

from benchapp.judgement.statements.statements import Judgement
from benchapp.quantities.quantity import Bound
from benchapp.workbook.file.sqlite import driver_of
from benchapp.workbook.file.store import Store, compiled
from benchapp.workbook.model.tables import ENTRIES, UNITS
from benchapp.workbook.model.values import JudgedRow

BOUNDS = tuple(Bound)
JUDGEMENTS = tuple(Judgement)
Column = Any
"""A numpy array of one dimension, float64."""
_FIELDS = 10
_NOTHING = text("9e999")
"""SQLite has no NaN: what is NULL comes as infinity, which no reading is, and becomes nan"""
_READINGS = (ENTRIES.c.kind == text("'answer'"), ENTRIES.c.judgement.is_not(None), ENTRIES.c.bound.is_not(None))
_EXPANDED: ColumnElement[float] = func.coalesce(
    ENTRIES.c.coverage * ENTRIES.c.standard_uncertainty, ENTRIES.c.expanded_uncertainty
)
_SHAPE = (ENTRIES.c.dominant_half_width, ENTRIES.c.others_standard_uncertainty, ENTRIES.c.over_range_at)
_RUNS_AT_ONCE = 5000
"""runs asked for in one statement: a driver takes some tens of thousands of parameters, no more"""


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
        select(ENTRIES.c.run, ENTRIES.c.address).where(*_READINGS).distinct().order_by(ENTRIES.c.run, ENTRIES.c.address)
    )
    return [(run, address) for run, address in _run(store, compiled(statement), {})]


def read_runs_stating(store: Store, facts: Sequence[str]) -> frozenset[str]:
    """UUIDs of the runs in which somebody stated one of these facts of the unit, by a fact's entry or by an answer."""
    wanted = set(facts)
    statement = select(ENTRIES.c.run, ENTRIES.c.sealed).where(ENTRIES.c.states_facts.is_(true()))
    found = set()
    for run, sealed in _run(store, compiled(statement), {}):
        if run not in found and not wanted.isdisjoint(json.loads(sealed)["content"]["facts"]):
            found.add(run)
    return frozenset(found)


def read_judged_columns(store: Store, runs: Sequence[str], address: str) -> JudgedColumns:
    """The judged readings of these runs at a step; withdrawn ones too."""
    import numpy as np

    statement = select(
        ENTRIES.c.id,
        func.coalesce(ENTRIES.c.value, _NOTHING),
        _place(ENTRIES.c.bound, BOUNDS),
        func.coalesce(ENTRIES.c.standard_uncertainty, _NOTHING),
        func.coalesce(_EXPANDED, _NOTHING),
        _place(ENTRIES.c.judgement, JUDGEMENTS),
        ENTRIES.c.flickers,
        *(func.coalesce(one, _NOTHING) for one in _SHAPE),
    ).where(ENTRIES.c.address == bindparam("address"), *_READINGS)
    rows: list[tuple[Any, ...]] = []
    for start in range(0, len(runs), _RUNS_AT_ONCE):
        asked = {f"run{number}": run for number, run in enumerate(runs[start : start + _RUNS_AT_ONCE])}
        of_runs = statement.where(ENTRIES.c.run.in_([bindparam(name) for name in asked]))
        rows += _run(store, compiled(of_runs), asked | {"address": address})
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
        .join(UNITS, UNITS.c.chain_id == ENTRIES.c.chain_id)
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
