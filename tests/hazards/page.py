"""What one page of the program shows a technician, as plain data: words, fields, and what may be answered."""

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True, kw_only=True)
class Checkpoint:
    """A line of an inspection: its words, the handle it is answered by, whether it may be answered as not applying."""

    handle: str
    words: str
    may_not_apply: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """A page. `address` is handed back with the answer and means nothing to a technician.

    `kind` is one of caution, meter, set-up, inspect, work, ask, reading, wait, photo, compute, and fault, repair, shut,
    held, finished: the program has stopped, or has come to its end.
    """

    kind: str
    address: str = ""
    words: str = ""
    checkpoints: tuple[Checkpoint, ...] = ()
    do: tuple[str, ...] = ()
    answers: tuple[str, ...] = ()
    number: str = ""
    """the unit of a number that is asked for"""
    function: str = ""
    unit: str = ""
    terminals: tuple[str, ...] = ()
    set_up: tuple[str, ...] = ()
    supply: str = "none"
    """none, limited or full: what the page says the unit is fed by"""
    alarms: tuple[str, ...] = ()
    """what the page's large key for danger offers"""
    way_back: bool = False
    """whether the page says that it makes the unit safe to handle"""
    seconds: float = 0.0
    photos: int = 0
    why_shut: tuple[str, ...] = field(default=())
