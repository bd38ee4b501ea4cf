"""The JSON Schema of each kind of file that people write, so that any editor completes it."""

from typing import Any

from benchapp.errors import BenchError


class UnknownKind(BenchError):
    """A kind of file that there is not."""


def _models() -> dict[str, Any]:
    from benchapp.paper import LabelSheet
    from benchapp.sequences.catalogue import MODELS

    return {**MODELS, "label sheet": LabelSheet}


def file_schemas() -> dict[str, Any]:
    """The schemas of all kinds, by kind."""
    from benchapp.files import json_schema

    return {kind: json_schema(model) for kind, model in _models().items()}


def file_schema(kind: str) -> dict[str, Any]:
    """The schema of one kind; raises UnknownKind."""
    from benchapp.files import json_schema, nearest

    models = _models()
    asked = kind.replace("-", " ").replace("_", " ")
    if asked not in models:
        near = nearest(asked, models)
        hint = f"Did you mean {near}?" if near else f"There are {', '.join(models)}."
        raise UnknownKind(f"There is no kind of file called {kind!r}. {hint}")
    return json_schema(models[asked])
