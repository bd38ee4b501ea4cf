"""Answers that rest on a circuit and plain values alone, kept with the circuit that they were worked out from."""

from collections.abc import Callable
from functools import wraps
from typing import Concatenate, Generic, ParamSpec, TypeVar, cast

from benchapp.wiring.model.circuit import Circuit

MOST_KEPT = 4096
"""answers for one circuit; a design of the largest size asks for some hundreds"""

Asked = ParamSpec("Asked")
Answer = TypeVar("Answer")
Thing = TypeVar("Thing")


class Itself(Generic[Thing]):
    """A thing that is never changed as a key: equal to itself alone, however large it is."""

    __slots__ = ("thing",)

    def __init__(self, thing: Thing) -> None:
        self.thing = thing

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Itself) and other.thing is self.thing

    def __hash__(self) -> int:
        return id(self.thing)


def remembered(ask: Callable[Concatenate[Circuit, Asked], Answer]) -> Callable[Concatenate[Circuit, Asked], Answer]:
    """The same question, answered once for each circuit; all that is asked with must be hashable.

    What it raises is worked out again each time.
    """

    @wraps(ask)
    def answer(circuit: Circuit, /, *words: Asked.args, **named: Asked.kwargs) -> Answer:
        kept, key = circuit.worked_out, (ask, words, frozenset(named.items()))
        if key in kept:
            return cast(Answer, kept[key])
        found = ask(circuit, *words, **named)
        if len(kept) >= MOST_KEPT:
            kept.clear()
        kept[key] = found
        return found

    return answer
