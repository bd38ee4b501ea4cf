"""Plans of runs, made once from the texts that each run pinned; units of a lot share theirs."""

import json
import threading
from collections.abc import Hashable, Mapping
from dataclasses import asdict, fields, replace
from typing import TYPE_CHECKING, Protocol

from benchapp.sequences.planning.content_fields import read_fields
from benchapp.sequences.planning.planned import Workshop
from benchapp.words import say
from benchapp.workbook.model.values import Run

if TYPE_CHECKING:
    from benchapp.sequences.planning.catalogue import Catalogue
    from benchapp.sequences.planning.planned import Plan

JUDGING = ("region", "mains", "guard_factor", "mains_fresh_for", "largest_lamp")
"""settings that judgements rest on: a run keeps those it began with; the others are the workshop's of today"""

NEW_RUN = "Begin a new run of this unit: it works by the texts of today."
"""what to do about pinned texts that are looser than what is shipped"""


class PinnedTexts(Protocol):
    """Whoever knows what a run pinned: a workbook."""

    def pinned_texts(self, run: Run) -> Mapping[str, str]:
        """The texts by file name."""


class Plans:
    """Plans by what was pinned."""

    def __init__(self, workbook: PinnedTexts) -> None:
        self._workbook = workbook
        self._plans: dict[Hashable, Plan] = {}
        self._catalogues: dict[Hashable, Catalogue] = {}
        self._last: tuple[Run, Workshop | None, bool, Plan] | None = None
        """what was asked for last: by the very same run and settings the same plan is asked for at each page"""
        self._guard = threading.Lock()

    def of(self, run: Run, workshop: Workshop | None = None, *, again: bool = False) -> "Plan":
        """The plan of a run: for new work under today's settings of the workshop, or wholly under those it pinned.

        New work is shut where the pinned texts are looser than what this program ships. What is judged again, or asked
        of the gate `again` under the settings of its day, is not.
        """
        last = self._last
        if last is not None and last[0] is run and last[1] is workshop and last[2] is again:
            return last[3]
        pinned = workshop_from(run.workshop)
        if workshop is not None:
            pinned = replace(workshop, **{name: getattr(pinned, name) for name in JUDGING})
        texts = tuple(sorted(run.texts.items()))
        new_work = workshop is not None and not again
        key = (run.route, run.equipment, texts, pinned, new_work)
        with self._guard:
            if key not in self._plans:
                self._plans[key] = self._make(run, texts, pinned, new_work=new_work)
            self._last = (run, workshop, again, self._plans[key])
            return self._plans[key]

    def _make(self, run: Run, texts: tuple[tuple[str, str], ...], workshop: Workshop, *, new_work: bool) -> "Plan":
        from benchapp.sequences.planning.catalogue import catalogue_from_texts
        from benchapp.sequences.planning.plan import make_plan

        if texts not in self._catalogues:
            self._catalogues[texts] = catalogue_from_texts(self._workbook.pinned_texts(run))
        plan = make_plan(self._catalogues[texts], run.route, run.equipment, workshop, pinned=True)
        return replace(plan, looser=_looser(self._catalogues[texts], workshop)) if new_work else plan


def _looser(pinned: "Catalogue", workshop: Workshop) -> str:
    """Why new work on these texts is shut; empty where they are no looser than what this program ships."""
    from benchapp.sequences.checks.pinned_texts import looser_than_shipped

    found = looser_than_shipped(pinned, workshop.region)
    more = f" (and {len(found) - 1} more)" if len(found) > 1 else ""
    return (
        say(
            "The texts by which it is tested ask for less than this program: {found}{more}. {NEW_RUN}",
            found=found[0],
            more=more,
            NEW_RUN=NEW_RUN,
        )
        if found
        else ""
    )


def workshop_from(text: str) -> Workshop:
    """The settings from the JSON in which the workbook keeps them; what it does not say is as shipped."""
    kept = json.loads(text)
    known = {field.name for field in fields(Workshop)}
    return read_fields(Workshop, {name: value for name, value in kept.items() if name in known}, "The settings")


def workshop_text(workshop: Workshop) -> str:
    """The settings as the JSON in which the workbook keeps them."""
    return json.dumps(asdict(workshop), sort_keys=True)
