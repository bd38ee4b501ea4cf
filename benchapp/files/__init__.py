"""Text of a YAML file -> checked model + the place of every value; knows no model of its own.

Names are fetched from their modules at first use: importing this package loads neither yaml nor pydantic.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from benchapp.files.beside import own_by_id, own_files, own_folder
    from benchapp.files.document import Document
    from benchapp.files.editing import replace_value
    from benchapp.files.forms import Id, TextForm
    from benchapp.files.kinds import kind_key
    from benchapp.files.models import FileModel, build_model, json_schema
    from benchapp.files.places import Complaint, FileProblems, Key, Mistake, Place
    from benchapp.files.reader import parse_document, read_document
    from benchapp.files.shipped import shipped_folder
    from benchapp.files.spelling import nearest

__all__ = [
    "Complaint",
    "Document",
    "FileModel",
    "FileProblems",
    "Id",
    "Key",
    "Mistake",
    "Place",
    "TextForm",
    "build_model",
    "json_schema",
    "kind_key",
    "nearest",
    "own_by_id",
    "own_files",
    "own_folder",
    "parse_document",
    "read_document",
    "replace_value",
    "shipped_folder",
]

_MODULES = {
    "places": ("Complaint", "FileProblems", "Key", "Mistake", "Place"),
    "document": ("Document",),
    "reader": ("parse_document", "read_document"),
    "editing": ("replace_value",),
    "forms": ("Id", "TextForm"),
    "kinds": ("kind_key",),
    "beside": ("own_by_id", "own_files", "own_folder"),
    "models": ("FileModel", "build_model", "json_schema"),
    "shipped": ("shipped_folder",),
    "spelling": ("nearest",),
}
_HOME = {name: module for module, names in _MODULES.items() for name in names}


def __getattr__(name: str) -> Any:  # noqa: ANN401 - whatever the module holds
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
