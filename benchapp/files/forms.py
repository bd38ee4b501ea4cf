"""Text that must have a form, said in words: an id has small letters, digits and dashes, a status begins in a set way.

The form is a regular expression for editors (JSON Schema) and a few words for people; nobody is shown the expression.
"""

import re
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from benchapp.files.locations import Mistake


@dataclass(frozen=True, slots=True)
class TextForm:
    """Marks a text field that must match `pattern` from its beginning; `words` say to people what is expected."""

    pattern: str
    words: str
    longest: int = 200

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:  # noqa: ANN401
        return core_schema.no_info_after_validator_function(self.check, handler(source))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        return {**handler(schema), "pattern": self.pattern, "maxLength": self.longest}

    def check(self, text: str) -> str:
        """The text itself; raises Mistake where it has another form."""
        if len(text) > self.longest:
            raise Mistake(f'"{text[:60]}…" is too long', expected=f"at most {self.longest} characters")
        if re.match(self.pattern, text) is None:
            raise Mistake(f'"{text[:60]}" does not fit here', expected=self.words, nearest=self._mended(text))
        return text

    def _mended(self, text: str) -> str:
        """The same text as an id would be written, where that has the form."""
        slug = re.sub(r"[^a-z0-9]+", "-", text.casefold()).strip("-")
        return slug if re.match(self.pattern, slug) else ""


ID = TextForm(
    pattern=r"^[a-z][a-z0-9]*(-[a-z0-9]+)*$",
    words="small letters and digits with dashes between them, a letter first, as in live-voltage",
    longest=40,
)
Id = Annotated[str, ID]
"""What files are known by and steps are called: "live-voltage"."""
