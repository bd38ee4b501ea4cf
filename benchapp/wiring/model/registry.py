"""The kinds of part that there are: every module of the room `kinds` is looked through, so a new file is enough.

The rooms below `kinds` reach a kind through here alone; it is looked for when it is first asked for.
"""

import importlib
import pkgutil
from collections.abc import Mapping
from functools import cache
from typing import Annotated, Any

from pydantic import BaseModel, GetCoreSchemaHandler
from pydantic_core import CoreSchema, core_schema

from benchapp.errors import BenchError
from benchapp.files.kinds import kind_key
from benchapp.wiring.model.circuit import PartKind
from benchapp.words import say

ROOM = "benchapp.wiring.kinds"


class KindProblem(BenchError):
    """A kind of part that does not say all that a kind must say, or that is not there at all."""


@cache
def part_models() -> Mapping[str, type[BaseModel]]:
    """The model of every kind of part, by the kind's name."""
    room = importlib.import_module(ROOM)
    modules = [importlib.import_module(f"{ROOM}.{found.name}") for found in pkgutil.iter_modules(room.__path__)]
    models = [
        model
        for module in modules
        for model in vars(module).values()
        if getattr(model, "__module__", "") == module.__name__ and isinstance(getattr(model, "kind", None), PartKind)
    ]
    return {model.kind.name: model for model in sorted(models, key=lambda model: model.kind.place)}


def part_kinds() -> Mapping[str, PartKind]:
    """Every kind of part, by its name."""
    return {name: vars(model)["kind"] for name, model in part_models().items()}


def kind_named(name: str) -> PartKind:
    """The kind of that name; raises KindProblem where there is none."""
    if name not in part_kinds():
        raise KindProblem(
            say("There is no kind of part '{name}'. There are {listed}.", name=name, listed=", ".join(part_kinds()))
        )
    return part_kinds()[name]


def _tag_of(written: Any) -> str | None:  # noqa: ANN401  whatever the file holds
    keys = written if isinstance(written, Mapping) else getattr(type(written), "model_fields", ())
    found = [model.__name__ for name, model in part_models().items() if name in keys]
    return found[0] if len(found) == 1 else None


class OfAnyKind:
    """Marks a part in a model of a file: one of the kinds that there are, told apart by the key that names it."""

    def __get_pydantic_core_schema__(self, source: object, handler: GetCoreSchemaHandler) -> CoreSchema:
        key = kind_key(_tag_of, part_models(), of="part")
        return core_schema.tagged_union_schema(
            {model.__name__: handler.generate_schema(model) for model in part_models().values()},
            _tag_of,
            custom_error_type=key.custom_error_type,
            custom_error_message=key.custom_error_message,
            custom_error_context=key.custom_error_context,
        )


class NameOfKind:
    """Marks a word in a model of a file: the name of one of the kinds that there are."""

    def __get_pydantic_core_schema__(self, source: object, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.literal_schema(list(part_kinds()))


KindName = Annotated[str, NameOfKind()]
