"""The JSON Schema of each kind of file that people write, so that any editor completes it."""

from typing import Any

from benchapp.errors import BenchError
from benchapp.files.models import FileModel, json_schema
from benchapp.files.spelling import nearest
from benchapp.meters.stored import StoredReadings
from benchapp.paper.tags.labels import LabelSheet
from benchapp.sequences.planning.catalogue import MODELS
from benchapp.wiring.faults.weights import FaultWeights
from benchapp.wiring.model.templates import Shared, Template
from benchapp.words import say


class UnknownKind(BenchError):
    """A kind of file that there is not."""


def models_elsewhere() -> dict[str, type[FileModel]]:
    """Models of files that a catalogue does not hold, by the key that says what the file is."""
    return {
        "label sheet": LabelSheet,
        "faults": FaultWeights,
        "stored readings": StoredReadings,
        "template": Template,
        "template parts": Shared,
    }


def _models() -> dict[str, type[FileModel]]:
    return {**MODELS, **models_elsewhere()}


def file_schemas() -> dict[str, Any]:
    """The schemas of all kinds, by kind."""
    return {kind: json_schema(model) for kind, model in _models().items()}


def file_schema(kind: str) -> dict[str, Any]:
    """The schema of one kind; raises UnknownKind."""
    models = _models()
    asked = kind.replace("-", " ").replace("_", " ")
    if asked not in models:
        near = nearest(asked, models)
        hint = f"Did you mean {near}?" if near else f"There are {', '.join(models)}."
        raise UnknownKind(say("There is no kind of file called {kind!r}. {hint}", kind=kind, hint=hint))
    return json_schema(models[asked])
