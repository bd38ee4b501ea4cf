"""The failed reading from which the search for a fault can begin. Qt-free; the engine has judged them."""

from dataclasses import dataclass

from benchapp.desktop.bench.unit_view import UnitView
from benchapp.desktop.words import tr
from benchapp.judgement.statements.statements import opens_fault_search


def searchable(view: UnitView) -> str:
    """The address of the failed reading between two terminals that the search would explain; empty when none failed.

    The reading at hand comes first, then the one that showed an open fault, then any other that failed.
    """
    open_faults = [fault.address for fault in view.state.faults if str(fault.status) == "open"]
    at_hand = view.step.address if view.step is not None else ""
    failed = [address for address, step in view.state.steps.items() if str(step.status) == "failed"]
    wanted = [*([at_hand] if at_hand in (*failed, *open_faults) else []), *open_faults, *failed]
    return next((address for address in wanted if _is_reading(view, address)), "")


def _is_reading(view: UnitView, address: str) -> bool:
    """Whether that step reads something that the circuit explains, and read it wrong; leads and mains are not of it."""
    step, entry = view.plan.by_address.get(address), view.state.readings.get(address)
    if step is None or not step.function or step.way_back or {"leads proved", "mains"} & set(step.shows):
        return False
    return entry is not None and opens_fault_search(entry.content.judgement)


def why_no_live_probe(view: UnitView) -> str:
    """Why no live reading can be taken beside the route now; empty when one can."""
    from benchapp.sequences.interlock.gate import why_no_live_probe as asked

    return asked(view.state) or ""


def way_back_first(view: UnitView) -> bool:
    """Whether plug out, discharged and proved low come before any search: it may be live, and nothing is read live."""
    return view.state.energised and bool(why_no_live_probe(view))


@dataclass(slots=True)
class PendingSearch:
    """A search that was asked for and has to wait: for the reading on the page, or for the way back.

    With `stopping` nothing waits, and the way back is gone to its end.
    """

    for_reading: bool = False
    for_way_back: bool = False
    stopping: bool = False

    def forget(self) -> None:
        """Another unit is at hand."""
        self.for_reading = self.for_way_back = self.stopping = False

    def why_here(self, view: UnitView) -> str:
        """Why a step of the way back is shown; empty on any other page, and where nothing waits for it."""
        if view.step is None or not view.step.way_back:
            return ""
        if self.stopping:
            return tr("You stop here: plug out, discharged, proved low. Then it can be left.")
        return tr("It may still be live: make it safe first, then the search goes on.") if self.for_way_back else ""

    def turn(self, view: UnitView) -> str:
        """What the waiting search asks for now: "search", "way back", or nothing yet."""
        if self.for_reading:
            self.for_reading = False
            if not searchable(view):
                return ""
            return "way back" if way_back_first(view) else "search"
        self.stopping = self.stopping and view.state.energised
        if self.stopping:
            return "way back"
        if self.for_way_back and not view.state.energised:
            self.for_way_back = False
            return "search" if searchable(view) else ""
        return ""
