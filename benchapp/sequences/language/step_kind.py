"""The kinds of step: one module each in `sequences/kinds`, found when a file is read or a plan is made.

A room states what it asks of every kind in a class of its own (`PlannedKind`, `JudgedKind`, `CheckedKind`), each upon
the one below. A kind answers all of them: one that leaves anything out does not import.
"""

from collections.abc import Iterator, Mapping
from functools import cache
from importlib import import_module
from inspect import get_annotations
from pkgutil import iter_modules
from types import ModuleType
from typing import Any, ClassVar, Self, TypeAlias

from benchapp.errors import BenchError
from benchapp.sequences.language.steps import StepBase
from benchapp.words import say

PACKAGE = "benchapp.sequences.kinds"
Written: TypeAlias = Any
"""A step as its file has it; to a kind, always its own model."""
_ASKING: list[type["StepKind"]] = []


class KindProblem(BenchError):
    """A kind of step that does not say all that is asked of it, or that this program does not know."""


class StepKind:
    """One kind of step, and its register. What stands here without a value has no default: every kind says it."""

    name: ClassVar[str]
    """the key of a file that says the kind, with the step's id for its value; the page of the kind has it too"""
    place: ClassVar[int]
    """where the kind stands among the others wherever they are listed"""
    model: ClassVar[type[StepBase]]
    """what a trainer writes"""
    by_hand: ClassVar[bool]
    """whether hands or an ohmmeter are on the unit: such a step never comes before the way back"""

    def __init_subclass__(cls, *, asks: bool = False) -> None:
        """A class that `asks` says what one room wants of every kind; any other is a kind and must say all of it."""
        super().__init_subclass__()
        if asks:
            _ASKING.append(cls)
            return
        lacking = [name for name in _asked_of(cls) if not _is_said(cls, name)]
        if not lacking and not isinstance(vars(cls).get("by_hand"), bool):  # nor is it taken over from another kind
            lacking = ["by_hand, which is True or False"]
        if lacking:
            raise KindProblem(
                say(
                    "The kind of step {qualname} ({module}) does not say {lacking}.",
                    qualname=cls.__qualname__,
                    module=cls.__module__,
                    lacking=lacking[0],
                )
            )
        if cls.name not in cls.model.model_fields:
            raise KindProblem(
                say(
                    "The model {name} ({module}) has no key “{name_2}”, its kind.",
                    name=cls.model.__name__,
                    module=cls.__module__,
                    name_2=cls.name,
                )
            )

    @classmethod
    def named(cls, name: str) -> Self:
        """The kind of that name; raises KindProblem where there is none that answers what this class asks."""
        kind = known_kinds().get(name)
        if not isinstance(kind, cls):
            raise KindProblem(
                say(
                    "There is no kind of step “{name}”; there are {listed}.", name=name, listed=", ".join(known_kinds())
                )
            )
        return kind

    @classmethod
    def of(cls, step: StepBase) -> Self:
        """The kind of a step, from its model."""
        return cls.named(next((name for name, kind in known_kinds().items() if type(step) is kind.model), ""))


def _asked_of(kind: type[StepKind]) -> Iterator[str]:
    """The names of what the classes above a kind leave to it."""
    for above in reversed(kind.__mro__[1:-1]):
        yield from (name for name in get_annotations(above) if name not in vars(above))
        yield from (name for name, value in vars(above).items() if getattr(value, "__isabstractmethod__", False))


def _is_said(kind: type[StepKind], name: str) -> bool:
    return hasattr(kind, name) and not getattr(getattr(kind, name), "__isabstractmethod__", False)


@cache
def known_kinds() -> Mapping[str, StepKind]:
    """Every kind by its name; the modules of the package are imported when this is first asked."""
    package = import_module(PACKAGE)
    modules = [import_module(f"{PACKAGE}.{found.name}") for found in iter_modules(package.__path__)]
    kinds = sorted(map(_kind_in, modules), key=lambda kind: (kind.place, kind.name))
    if len(kinds) != len({kind.name for kind in kinds}):
        raise KindProblem(
            say("Two kinds of step have one name, among {listed}.", listed=", ".join(kind.name for kind in kinds))
        )
    return {kind.name: kind for kind in kinds}


def _kind_in(module: ModuleType) -> StepKind:
    classes = (value for value in vars(module).values() if isinstance(value, type) and issubclass(value, StepKind))
    own = [kind() for kind in classes if kind.__module__ == module.__name__]
    if len(own) != 1 or not isinstance(own[0], _ASKING[-1]):
        raise KindProblem(
            say(
                "{name} must hold one kind of step, a subclass of {name_2}.",
                name=module.__name__,
                name_2=_ASKING[-1].__name__,
            )
        )
    return own[0]
