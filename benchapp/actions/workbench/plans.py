"""Plans of runs, made once from the texts that each run pinned; units of a lot share theirs."""

import json
import threading
from collections.abc import Hashable
from dataclasses import asdict, fields, replace
from typing import TYPE_CHECKING

from benchapp.sequences.planning.planned import Workshop
from benchapp.workbook.values import Run
from benchapp.workbook.workbook import Workbook

if TYPE_CHECKING:
    from benchapp.sequences.planning.catalogue import Catalogue
    from benchapp.sequences.planning.planned import Plan

JUDGING = ("region", "guard_factor", "mains_fresh_for")
"""settings that judgements rest on: a run keeps those it began with; the others are the workshop's of today"""


class Plans:
    """Plans by what was pinned."""

    def __init__(self, workbook: Workbook) -> None:
        self._workbook = workbook
        self._plans: dict[Hashable, Plan] = {}
        self._catalogues: dict[Hashable, Catalogue] = {}
        self._guard = threading.Lock()

    def of(self, run: Run, workshop: Workshop | None = None) -> "Plan":
        """The plan of a run under today's settings of the workshop, or wholly under those it pinned."""
        pinned = workshop_from(run.workshop)
        if workshop is not None:
            pinned = replace(workshop, **{name: getattr(pinned, name) for name in JUDGING})
        texts = tuple(sorted(run.texts.items()))
        key = (run.route, run.equipment, texts, pinned)
        with self._guard:
            if key not in self._plans:
                self._plans[key] = self._make(run, texts, pinned)
            return self._plans[key]

    def _make(self, run: Run, texts: tuple[tuple[str, str], ...], workshop: Workshop) -> "Plan":
        from benchapp.sequences.planning.catalogue import catalogue_from_texts
        from benchapp.sequences.planning.plan import make_plan

        if texts not in self._catalogues:
            self._catalogues[texts] = catalogue_from_texts(self._workbook.pinned_texts(run))
        return make_plan(self._catalogues[texts], run.route, run.equipment, workshop, pinned=True)


def workshop_from(text: str) -> Workshop:
    """The settings from the JSON in which the workbook keeps them; what it does not say is as shipped."""
    kept = json.loads(text)
    known = {field.name for field in fields(Workshop)}
    return Workshop(**{name: value for name, value in kept.items() if name in known})


def workshop_text(workshop: Workshop) -> str:
    """The settings as the JSON in which the workbook keeps them."""
    return json.dumps(asdict(workshop), sort_keys=True)
