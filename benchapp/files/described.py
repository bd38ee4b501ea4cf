"""JSON Schema in which every key is described by the text that stands below its field in the model's source."""

import ast
import inspect
import textwrap
from functools import cache
from itertools import pairwise

from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema


class Described(GenerateJsonSchema):
    """Adds the descriptions; made only when a schema is asked for, since a bench needs none of them."""

    def model_schema(self, schema: core_schema.ModelSchema) -> JsonSchemaValue:
        """The schema of one model."""
        found = super().model_schema(schema)
        model = schema["cls"]
        for name, field in model.model_fields.items():
            described = found.get("properties", {}).get(field.alias or name)
            words = next((docs[name] for one in model.__mro__ if name in (docs := _texts_below_fields(one))), "")
            if described is not None and words:
                described["description"] = words
        return found


@cache
def _texts_below_fields(model: type) -> dict[str, str]:
    """The texts by the names of the fields that a class itself has."""
    if "__annotations__" not in vars(model):
        return {}
    body = ast.parse(textwrap.dedent(inspect.getsource(model))).body[0]
    assert isinstance(body, ast.ClassDef), "the source of a class"
    return {
        field.target.id: inspect.cleandoc(text.value.value)
        for field, text in pairwise(body.body)
        if isinstance(field, ast.AnnAssign)
        and isinstance(field.target, ast.Name)
        and isinstance(text, ast.Expr)
        and isinstance(text.value, ast.Constant)
        and isinstance(text.value.value, str)
    }
