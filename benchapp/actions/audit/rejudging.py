"""What would change if a workbook's readings were judged again, by the texts of their runs or by a new sequence.

Readings of one step whose band is the same for every unit are judged in one go, column by column; the others one by
one, as the engine judges them. Nothing is written.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import inf, isnan
from pathlib import Path

from benchapp.actions.audit.reverify import reverify
from benchapp.actions.workbench.plans import Plans, workshop_from
from benchapp.errors import BenchError, Cancelled
from benchapp.files.locations import FileProblems
from benchapp.files.models import build_model
from benchapp.files.reader import read_document
from benchapp.judgement.acceptance.accept_text import parse_accept
from benchapp.judgement.acceptance.acceptance import Form
from benchapp.judgement.decision.columns import judge_columns
from benchapp.judgement.decision.decision import decide
from benchapp.judgement.meters.functions import kind_of
from benchapp.judgement.statements.band import Band
from benchapp.judgement.uncertainty.budget import stored_uncertainty
from benchapp.quantities.quantity import Bound
from benchapp.sequences.answering.bands import OF_OUR_OWN
from benchapp.sequences.checks.references import check_references
from benchapp.sequences.language.models import SequenceFile
from benchapp.sequences.planning.catalogue import catalogue_from_texts, read_texts, texts_of
from benchapp.sequences.planning.entries import Entry
from benchapp.sequences.planning.facts import WINDING_TEMPERATURE
from benchapp.sequences.planning.plan import make_plan
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.wiring.assembly.unit import FACTS
from benchapp.words import say
from benchapp.workbook.model.values import JudgedRow, Run
from benchapp.workbook.opened.workbook import Workbook
from benchapp.workbook.record.columns import BOUNDS, JUDGEMENTS, JudgedColumns

_Pinned = tuple[str, str, str, tuple[tuple[str, str], ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rejudged:
    """One reading that would be judged otherwise."""

    unit: str
    entry: int
    address: str
    before: str
    after: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Rejudging:
    """How many readings were judged again, and those that would change."""

    readings: int
    changes: tuple[Rejudged, ...]


def rejudge_workbook(
    path: Path,
    *,
    sequence: Path | None = None,
    progress: Callable[[int, int], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> Rejudging:
    """Judge every stored reading again; with a sequence file, those of that sequence by the file's text.

    Raises WorkbookProblem, FileProblems, RevisionProblem, Cancelled.
    """
    workbook = Workbook.look_at(path)
    try:
        again = _Again(workbook, sequence)
        groups = again.groups()
        changes: list[Rejudged] = []
        for number, (address, runs) in enumerate(groups):
            if cancelled is not None and cancelled():
                raise Cancelled("Judging again")
            changes += again.judge(runs, address)
            if progress is not None:
                progress(number + 1, len(groups))
    finally:
        workbook.close()
    changes.sort(key=lambda change: (change.unit, change.entry))
    return Rejudging(readings=again.readings, changes=tuple(changes))


class _Again:
    """The plans by which one workbook's readings are judged again."""

    def __init__(self, workbook: Workbook, sequence: Path | None) -> None:
        self.readings = 0
        self._workbook = workbook
        self._sequence = _Revision(sequence) if sequence else None
        self._pinned = Plans(workbook)
        self._runs = workbook.runs_by_uuid()
        self._plans: dict[str, Plan] = {}
        self._entries: dict[str, tuple[Entry, ...]] = {}
        self._with_own = workbook.runs_stating(own_facts())

    def groups(self) -> list[tuple[str, list[str]]]:
        """Each step at which something was read, with the runs that pinned the same; of the new sequence alone.

        Units that have something of their own, which may move a band, come apart from those that are as designed.
        """
        alike: defaultdict[tuple[str, bool, _Pinned], list[str]] = defaultdict(list)
        wanted = f"{self._sequence.ident}." if self._sequence else ""
        for uuid, address in self._workbook.judged_groups():
            if address.startswith(wanted):
                run = self._runs[uuid]
                pins = (run.route, run.equipment, run.workshop, tuple(sorted(run.texts.items())))
                alike[address, uuid in self._with_own, pins].append(uuid)
        if self._sequence and not alike:
            used = sorted({address.partition(".")[0] for _, address in self._workbook.judged_groups()})
            raise RevisionProblem(
                say(
                    "Nothing was read by a sequence {ident!r} in this workbook. It has readings of {listed}.",
                    ident=self._sequence.ident,
                    listed=", ".join(used) or "none",
                )
            )
        return [(address, runs) for (address, _, _), runs in alike.items()]

    def judge(self, runs: Sequence[str], address: str) -> list[Rejudged]:
        """The readings of one step of the runs that pinned the same: those that change."""
        columns = self._workbook.judged_columns(runs, address)
        self.readings += len(columns.ids)
        try:
            plan = self._plan(self._runs[runs[0]])
        except RevisionProblem:
            raise
        except BenchError as problem:
            return self._all_changed(columns, problem.sentence)
        step = plan.by_address.get(address)
        if step is None and self._sequence:
            return self._all_changed(columns, "This step is not there any more.")
        band = None if step is None or runs[0] in self._with_own else _band_for_all(step)
        if band is None:
            return [change for row in self._rows(columns.ids) for change in self._judge_one(plan, row)]
        factor = plan.workshop.guard_factor
        found = judge_again(columns, band, guard_factor=factor)
        changed = zip(self._rows(found.changed), found.statements, strict=True)
        changes = [_changed(row, after, _sentence(band, row, factor)) for row, after in changed]
        return changes + [change for row in self._rows(found.unusual) for change in self._judge_one(plan, row)]

    def _rows(self, ids: Iterable[float]) -> list[JudgedRow]:
        return self._workbook.judged_rows([int(entry) for entry in ids])

    def _all_changed(self, columns: JudgedColumns, words: str) -> list[Rejudged]:
        return [_changed(row, "not judged", words) for row in self._rows(columns.ids)]

    def _plan(self, run: Run) -> Plan:
        if run.uuid not in self._plans:
            revision = self._sequence
            self._plans[run.uuid] = (
                revision.plan(run, self._workbook.pinned_texts(run)) if revision else self._pinned.of(run)
            )
        return self._plans[run.uuid]

    def _judge_one(self, plan: Plan, row: JudgedRow) -> Iterable[Rejudged]:
        if row.unit not in self._entries:
            self._entries[row.unit] = self._workbook.entries(row.unit)
        tried = reverify(plan, self._entries[row.unit], row.number - 1)
        after = "not judged" if tried.complaint else tried.judgement
        if after != row.judgement:
            yield _changed(row, after, tried.complaint or tried.sentence)


class _Revision:
    """A sequence file that takes the place of the pinned text of the same id."""

    def __init__(self, path: Path) -> None:
        document = read_document(path)
        if not isinstance(document.data, dict) or "sequence" not in document.data:
            raise FileProblems([document.complaint((), "this file holds no sequence", "the file of a sequence")])
        self.path = path
        self.text = document.text
        self.ident = build_model(document, SequenceFile).sequence
        cases = document.locations.get(("worked cases",))
        self._end_of_steps = inf if cases is None else cases.line
        self._fits: set[tuple[tuple[str, str], ...]] = set()

    def plan(self, run: Run, texts: Mapping[str, str]) -> Plan:
        """The plan of the run with this text in it; the run's own where its route has no such sequence."""
        name = catalogue_from_texts(texts).names.get(("sequence", self.ident))
        changed = dict(texts)
        if name is not None:
            changed = {other: text for other, text in texts.items() if other != name} | {str(self.path): self.text}
        self._refuse_what_does_not_fit(changed, instead_of=name)
        return make_plan(catalogue_from_texts(changed), run.route, run.equipment, workshop_from(run.workshop))

    def _refuse_what_does_not_fit(self, texts: Mapping[str, str], *, instead_of: str | None) -> None:
        """The steps held against what the run pinned, and what is shipped beside that; worked cases judge nothing."""
        pinned = tuple(sorted(texts.items()))
        if pinned in self._fits:
            return
        shipped = {name: text for name, text in texts_of().items() if name != instead_of}
        catalogue, documents, complaints = read_texts({**shipped, **texts})
        found = complaints or check_references(catalogue, documents)
        own = [one for one in found if one.location.file == str(self.path) and one.location.line < self._end_of_steps]
        if own:
            raise RevisionProblem(FileProblems(own).sentence)
        self._fits.add(pinned)


class RevisionProblem(BenchError):
    """A file that cannot take the place of the sequence that was worked through."""


def own_facts() -> tuple[str, ...]:
    """The facts of a unit that move bands which are the same for all others."""
    return (*FACTS, WINDING_TEMPERATURE)


def _band_for_all(step: PlannedStep) -> Band | None:
    """The band that is the same for every unit: dead readings from the wiring, and plain numbers."""
    if getattr(step.model, "stop_above", "") or not step.function:
        return None
    if step.band is not None:
        return step.band
    if not step.accept or step.accept in OF_OUR_OWN:
        return None
    accept = parse_accept(step.accept)
    if accept.form in (Form.wiring, Form.limit) or accept.names:
        return None
    return accept.band({}, kind=kind_of(step.read_on))


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """Ids of the readings that come out otherwise with what they come out as, and of those to judge one by one."""

    changed: list[float]
    statements: list[str]
    unusual: list[float]


def judge_again(columns: JudgedColumns, band: Band, *, guard_factor: float) -> Found:
    """The readings of one step under one band, in one go; flickering ones are left over.

    Each keeps the uncertainty that it was judged with. Those with few repeats, and “more than” and “less than” a value,
    are left over where they would change.
    """
    import numpy as np

    codes = judge_columns(
        band=band,
        values=columns.values,
        bounds=columns.bounds,
        expanded=columns.expanded,
        overs=columns.overs,
        r=guard_factor,
    )
    otherwise = codes != columns.judgements
    unusual = (columns.flickers != 0.0) | (otherwise & (columns.bounds != BOUNDS.index("exact")))
    for place in np.flatnonzero(otherwise & ~unusual).tolist():
        unusual[place] = _has_few_repeats(columns, place)
    changed = np.flatnonzero(otherwise & ~unusual)
    return Found(
        changed=columns.ids[changed].tolist(),
        statements=[str(JUDGEMENTS[code]) for code in codes[changed]],
        unusual=columns.ids[unusual].tolist(),
    )


def _has_few_repeats(columns: JudgedColumns, place: int) -> bool:
    """Whether the coverage factor is that of few readings, not the one that follows from the stored shape."""
    standard, expanded, dominant, others = (
        float(column[place]) for column in (columns.standards, columns.expanded, columns.dominants, columns.others)
    )
    if isnan(standard):
        return False
    dominant, others = (0.0 if isnan(number) else number for number in (dominant, others))
    usual = stored_uncertainty(standard, dominant=dominant, others=others).expanded
    return abs(expanded - usual) > 1e-12 * expanded


def _sentence(band: Band, row: JudgedRow, guard_factor: float) -> str:
    known = None
    if row.standard_uncertainty is not None:
        known = stored_uncertainty(row.standard_uncertainty, dominant=row.dominant or 0.0, others=row.others or 0.0)
    decision = decide(
        value=row.value, bound=Bound(row.bound), band=band, uncertainty=known, r=guard_factor, over=row.over
    )
    return decision.sentence


def _changed(row: JudgedRow, after: str, words: str) -> Rejudged:
    return Rejudged(
        unit=row.unit, entry=row.number, address=row.address, before=row.judgement, after=after, words=words
    )
