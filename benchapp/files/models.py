"""The common base of the models of files, and the one door through which such a model is made.

The models themselves belong to the packages that use them; a house test refuses one that is made past this door.
"""

from decimal import Decimal
from pathlib import Path
from types import NoneType
from typing import Any, TypeVar, get_args

from pydantic import BaseModel, ConfigDict, ValidationError, model_validator

from benchapp.errors import BenchError
from benchapp.files.complaints import explain
from benchapp.files.document import Document
from benchapp.files.locations import FileProblems, Key
from benchapp.files.reader import read_document
from benchapp.files.wording import shown


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
    )

    @model_validator(mode="before")
    @classmethod
    def _truth_is_no_number(cls, data: Any) -> Any:  # noqa: ANN401 - a file's data
        """Python counts true as 1; whoever writes `tries: true` does not mean that."""
        if not isinstance(data, dict) or not any(isinstance(value, bool) for value in data.values()):
            return data
        numbers = {field.alias or name for name, field in cls.model_fields.items() if _is_number(field.annotation)}
        return {
            name: str(value).lower() if isinstance(value, bool) and name in numbers else value
            for name, value in data.items()
        }


def _is_number(annotation: Any) -> bool:  # noqa: ANN401 - any type hint
    alternatives = set(get_args(annotation) or (annotation,))
    return alternatives <= {int, float, Decimal, NoneType}


Model = TypeVar("Model", bound=BaseModel)
DRAFT = "https://json-schema.org/draft/2020-12/schema"
"""The dialect of JSON Schema in which editors read the schemas."""


def build_model(document: Document, model: type[Model], key: Key = ()) -> Model:
    """The checked model of a document, or of the part of it under `key`; raises FileProblems with all complaints."""
    data = document.data
    for part in key:
        data = data[part]
    try:
        return model.model_validate(data)
    except ValidationError as error:
        problems = error.errors(include_url=False)
        schema = model.model_json_schema(by_alias=True)
    raise FileProblems(explain(problems, schema=schema, document=document, key=key))


def read_model(path: Path, model: type[Model]) -> Model:
    """The checked model of a file; raises BenchError where it cannot be opened, FileProblems with all complaints."""
    return build_model(read_document(path), model)


def made_of(model: type[Model], **values: object) -> Model:
    """A model of values that other models hold already, such as one figure of a table; raises BenchError."""
    try:
        return model.model_validate(values)
    except ValidationError as error:
        wrong = error.errors(include_url=False)[0]
        where = " ".join(str(part) for part in wrong["loc"])
        raise BenchError(
            f"{shown(wrong['input'])} does not fit as {where or model.__name__}: {wrong['msg']}."
        ) from error


def json_schema(model: type[BaseModel]) -> dict[str, Any]:
    """The model as JSON Schema (draft 2020-12), with keys as they are written in files, each with what it is for."""
    from benchapp.files.described import Described  # reads the source of every model: whoever edits waits for it

    return {"$schema": DRAFT, **model.model_json_schema(by_alias=True, schema_generator=Described)}
