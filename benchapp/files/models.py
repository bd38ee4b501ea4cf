"""The common base of the models of files, and the one door through which such a model is made.

The models themselves belong to the packages that use them; a house test refuses one that is made past this door.
"""

import math
from collections.abc import Mapping
from decimal import Decimal
from functools import cache
from pathlib import Path
from types import NoneType
from typing import Annotated, Any, TypeVar, get_args, get_origin

from pydantic import BaseModel, ConfigDict, ValidationError, model_validator

from benchapp.errors import BenchError
from benchapp.files.complaints import explain
from benchapp.files.document import Document
from benchapp.files.locations import FileProblems, Key, Mistake
from benchapp.files.reader import read_document
from benchapp.files.scalars import is_of_a_bench
from benchapp.files.wording import shown
from benchapp.words import say


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
    def _numbers_are_of_a_bench(cls, data: Any) -> Any:  # noqa: ANN401 - a file's data
        """No number is beyond all sense; and Python counts true as 1, but whoever writes `tries: true` does not."""
        if not isinstance(data, dict):
            return data
        numbers = _number_names(cls)
        checked = {
            name: _a_number(value, (name,), sized=numbers[name]) for name, value in data.items() if name in numbers
        }
        return {**data, **checked} if checked else data


def _a_number(value: Any, key: Key, *, sized: bool) -> Any:  # noqa: ANN401 - what stands where a number is needed
    """The value, or the words for it that show it to be none; raises Mistake for one beyond all sense."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, list):
        return [_a_number(one, (*key, row), sized=sized) for row, one in enumerate(value)]
    if isinstance(value, dict):
        return {name: _a_number(one, (*key, name), sized=sized) for name, one in value.items()}
    try:
        number = float(value) if isinstance(value, int | float | str) else 0.0
    except (ValueError, OverflowError):
        number = 0.0 if isinstance(value, str) else math.inf
    if sized and not is_of_a_bench(number):
        raise Mistake(f"{shown(value)} is beyond anything at a bench", expected="a number of another size", key=key)
    return value


@cache
def _number_names(model: type[BaseModel]) -> Mapping[str, bool]:
    """How the fields are written that hold numbers alone: one, a list of them, or one for each name.

    With each whether its size is held here: that of a decimal one cannot overflow, and whoever has it knows its sense.
    """
    fields = [(field.alias or name, field.annotation) for name, field in model.model_fields.items()]
    plain = (int, float, NoneType)
    return {
        name: _holds_only(plain, annotation)
        for name, annotation in fields
        if _holds_only((*plain, Decimal), annotation)
    }


def _holds_only(types: tuple[type, ...], annotation: Any) -> bool:  # noqa: ANN401 - any type hint
    alternatives = get_args(annotation) or (annotation,)
    if get_origin(annotation) is Annotated:
        return _holds_only(types, alternatives[0])
    if get_origin(annotation) in (dict, Mapping):
        return _holds_only(types, alternatives[1])
    if len(alternatives) > 1:
        return all(_holds_only(types, one) for one in alternatives if one is not Ellipsis)
    return annotation in types


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
            say(
                "{shown} does not fit as {where}: {wrong}.",
                shown=shown(wrong["input"]),
                where=where or model.__name__,
                wrong=wrong["msg"],
            )
        ) from error


def json_schema(model: type[BaseModel]) -> dict[str, Any]:
    """The model as JSON Schema (draft 2020-12), with keys as they are written in files, each with what it is for."""
    from benchapp.files.described import Described  # reads the source of every model: whoever edits waits for it

    return {"$schema": DRAFT, **model.model_json_schema(by_alias=True, schema_generator=Described)}
