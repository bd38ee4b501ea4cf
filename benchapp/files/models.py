"""Does the data of a file fit what the program expects, and if not, what is wrong and where?

The models themselves belong to the packages that use them; here is their common base and the one way to build them.
"""

from typing import Any, TypeVar

from pydantic import BaseModel, ConfigDict, ValidationError

from benchapp.files.complaints import explain
from benchapp.files.places import FileProblems, Key
from benchapp.files.reader import Document


def _written_name(field: str) -> str:
    return field.rstrip("_").replace("_", " ")


class FileModel(BaseModel):
    """Base of all that people write in files: frozen, unknown keys refused, keys written with spaces.

    The field `set_up` is written `set up`; a field named `class_` or `from_` is written `class` or `from`.
    Any BenchError raised in a validator becomes a complaint at the place of the value.
    """

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        populate_by_name=True,
        alias_generator=_written_name,
        coerce_numbers_to_str=True,
        allow_inf_nan=False,
        use_attribute_docstrings=True,
    )


Model = TypeVar("Model", bound=BaseModel)


def build_model(document: Document, model: type[Model], key: Key = ()) -> Model:
    """The checked model of a document, or of the part of it under `key`; raises FileProblems with all complaints."""
    data = document.data
    for part in key:
        data = data[part]
    try:
        return model.model_validate(data)
    except ValidationError as error:
        problems = error.errors(include_url=False)
        schema = json_schema(model)
    raise FileProblems(explain(problems, schema=schema, document=document, key=key))


def json_schema(model: type[BaseModel]) -> dict[str, Any]:
    """The model as JSON Schema (draft 2020-12), with keys as they are written in files."""
    return model.model_json_schema(by_alias=True)
