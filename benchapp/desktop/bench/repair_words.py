"""What the repair page says: the fault in a line, the cautions, what will be taken again stage by stage."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from benchapp.desktop.widgets.choices import Row
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.desktop.bench.unit_view import UnitView
    from benchapp.sequences.planning.planned import Plan
    from benchapp.sequences.planning.state import FaultState

_CODES = "Follow your local codes"
"""how the line of a caution begins that is said once for all of them"""


def fault_words(fault: "FaultState", view: "UnitView") -> str:
    """A fault in a line: the part in words and what is wrong with it; the sentence where no part is named."""
    from benchapp.sequences.history.repairs import part_words

    named = part_words(view.plan, fault.part) if fault.part else ""
    return ", ".join(part for part in (named, fault.mode) if part) if named else fault.words


def caution_texts(view: "UnitView", cautions: Sequence[str]) -> tuple[str, str]:
    """The cautions of the list by their titles, and where one defers to; then what each of them says, a line each."""
    known = [view.plan.cautions[one] for one in cautions if one in view.plan.cautions]
    titles = " ".join([*(f"{caution.title}." for caution in known), tr("Follow your local codes.")])
    said = [" ".join(words for words in caution.words if not words.startswith(_CODES)) for caution in known]
    return titles, "\n".join([*said, tr("What you are not trained for is work for a licensed or competent person.")])


def step_words(count: int) -> str:
    """How many steps, in words."""
    return tr("{count} step(s)", "", count).format(count=count)


def retest_words(count: int, due: int) -> str:
    """How many steps are taken again after the repair, and how many of them were due without it."""
    if not count:
        return tr("To be taken again after this repair")
    words = tr("{count} step(s) (is|are) to be taken again.", "", count).format(count=count)
    if not due:
        return words
    were = tr("{count} of them (was|were) due already.", "", due).format(count=due)
    return f"{words} {were}"


def scope_rows(plan: "Plan", scope: Sequence[str], *, short: bool) -> list[Row]:
    """Per stage how many steps are taken again, and, unless `short`, which; one row where there are none."""
    from benchapp.sequences.planning.step_names import name_within

    rows = []
    for stage in plan.stages:
        steps = [step for step in stage.steps if step.address in scope]
        names = "" if short else ", ".join(dict.fromkeys(name_within(step) for step in steps))
        words = tr("{stage}: {steps}").format(stage=stage.title, steps=step_words(len(steps)))
        rows += [Row(words=words, detail=names)] if steps else []
    return rows or [Row(words=tr("Nothing that was done already."))]
