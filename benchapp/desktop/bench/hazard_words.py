"""What is said of hazards of old equipment before hands go into a case."""

from typing import TYPE_CHECKING

from benchapp.desktop.keys import key_text
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.desktop.bench.unit_view import UnitView


def before_opening(view: "UnitView", *, short: bool = False) -> str:
    """What may be inside of this design, how it is seen, and whether the eyes are covered; empty for nothing known."""
    asked, presumed = view.plan.hazards_asked, view.plan.hazards_presumed
    if not asked and not presumed:
        return ""
    eyes = tr(" Eye protection on.") if any(one.eyes for one in (*asked, *presumed)) else ""
    titles = ", ".join(one.title for one in asked)
    lines = [tr("Before hands go in, look for: {hazards}.").format(hazards=titles) + eyes] if asked else [eyes.strip()]
    if presumed and not short:
        words = tr("Taken to be there: {hazards}.").format(hazards=", ".join(one.title for one in presumed))
        lines.append(words)
    if asked:
        lines.append(tr("Found one: stop, {key}, and choose it.").format(key=key_text("event")))
    return " ".join(line for line in lines if line)
