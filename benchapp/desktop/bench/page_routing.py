"""Which page shows what is due; Qt-free. The engine has decided what that is, this only finds the page for it."""

from benchapp.desktop.bench.unit_view import UnitView

STEP_PAGES = {
    "inspect": "inspect",
    "work": "work",
    "probe": "reading",
    "measure": "reading",
    "ask": "ask",
    "wait": "wait",
    "compute": "compute",
    "photo": "photo",
}

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
    return STEP_PAGES[str(view.step.kind)] if view.step is not None else "shut"
