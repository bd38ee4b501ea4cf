"""New runs for units of which nothing was recorded yet, so that they work by the files of today."""

from benchapp.actions.entries.runs import start_run
from benchapp.actions.workbench.bench import Bench
from benchapp.errors import BenchError
from benchapp.sequences.planning.entries import EntryKind

_BEGUN = frozenset({EntryKind.beginning, EntryKind.run})


def renew_untouched(bench: Bench, *, by: str) -> tuple[tuple[str, ...], bool]:
    """Begin a new run of every unit that nobody has worked on; their marks, and whether there are others.

    A unit whose design or route is gone, or that is held or lent, keeps its run.
    """
    begun, others = list[str](), False
    for unit in bench.units():
        if any(entry.kind not in _BEGUN for entry in bench.entries(unit.mark)):
            others = True
            continue
        try:
            start_run(bench, unit.mark, by=by)
        except BenchError:
            others = True
        else:
            begun.append(unit.mark)
    return tuple(begun), others
