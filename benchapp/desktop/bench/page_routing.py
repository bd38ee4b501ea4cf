"""The page that shows what is due; Qt-free. The engine has decided what that is, this only finds the page for it."""

from benchapp.desktop.bench.unit_view import UnitView

SHARED_PAGES = {"probe": "reading", "measure": "reading"}
"""Kinds of step that share a page; any other kind has the page of its own name."""
DUE_PAGES = {
    "caution": "caution",
    "meter": "meter",
    "set-up": "set-up",
    "fault": "fault",
    "repair": "repair",
    "shut": "shut",
    "held": "outcome",
    "finished": "outcome",
}


def page_for(view: UnitView) -> str:
    """The name of the page for the unit as it stands."""
    due = str(view.state.due.kind)
    if due in DUE_PAGES:
        return DUE_PAGES[due]
    return SHARED_PAGES.get(view.step.kind, view.step.kind) if view.step is not None else "shut"
