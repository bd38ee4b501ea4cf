"""One stage across the lot, in words: what waits, what is left out and why, how it ended; Qt-free."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from benchapp.desktop.words import tr
from benchapp.words import shown

if TYPE_CHECKING:
    from collections.abc import Sequence

    from benchapp.lots.pareto import SharedFault
    from benchapp.lots.sweeping import StageWork

_WHY = {"mains": "LIVE", "charge": "may be charged", "hold": "on hold"}
_NAMED = 4
"""units that are named one by one; of more the count is said"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sweep:
    """A stage taken across a lot."""

    lot: str
    stage: str
    title: str = ""


def ready_words(work: "StageWork") -> str:
    """How many units are ready at a stage, and how many have another to come first."""
    if not work.ready and not work.too_early:
        return tr("none waits")
    ready = tr("{count} ready").format(count=len(work.ready)) if work.ready else tr("none ready")
    if not work.too_early:
        return ready
    early = tr("{stage} first: {count}").format(stage=work.first, count=len(work.too_early))
    return f"{ready}; {early}"


def left_out_words(work: "StageWork") -> str:
    """The units that are not offered, with why; empty when there is none."""
    if not work.left_out:
        return ""
    one = tr("{unit} ({why})")
    named = [one.format(unit=mark, why=tr(_WHY.get(why, why))) for mark, why in work.left_out[:_NAMED]]
    if len(work.left_out) > _NAMED:
        named.append(tr("{count} more").format(count=len(work.left_out) - _NAMED))
    return tr("Left out: {units}.").format(units=", ".join(named))


def finished_words(lot: str) -> str:
    """What is said when no unit of the lot has anything to do any more."""
    return tr("Nothing more is to be done in {lot}.").format(lot=lot)


def ended_words(sweep: Sweep, work: "StageWork", why: str = "") -> str:
    """What is said when no unit is ready for the stage any more: why, and which were left out."""
    if why:
        words = tr("No unit of {lot} is taken for {stage} now. {why}")
    elif work.too_early:
        words = tr("No unit of {lot} is ready for {stage}: {first} comes first.")
    elif work.shut:
        words = tr("No unit of {lot} waits for {stage}: it is shut for {units}.")
    else:
        words = tr("{stage} is done as far as it goes in {lot}.")
    units = _marks(work.shut) if work.shut else ""
    said = words.format(lot=sweep.lot, stage=sweep.title, first=work.first, why=shown(why), units=units)
    return f"{said} {left_out_words(work)}".rstrip()


def shared_words(found: "SharedFault", title: str) -> str:
    """What is said when the sweep pauses."""
    words = tr("{fault}: found in {units} of the last {count} units at {stage}.").format(
        fault=found.name[:1].upper() + found.name[1:],
        units=_marks(found.units),
        count=len(found.units) + len(found.others),
        stage=title,
    )
    why = tr(
        "That is more than chance. It may be how these units were made or changed, or how this stage is done here: "
        "a meter, a lead, something misread."
    )
    others = tr("Look at the others again: {units}.").format(units=_marks(found.others)) if found.others else ""
    return "\n".join(filter(None, (words, why, others)))


def _marks(marks: "Sequence[str]") -> str:
    if len(marks) == 1:
        return marks[0]
    return tr("{units} and {last}").format(units=", ".join(marks[:-1]), last=marks[-1])
