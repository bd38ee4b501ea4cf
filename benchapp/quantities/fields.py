"""Types for the fields of file models whose value is written with its unit: `voltage: 230 V`.

    class Cord(FileModel):
        voltage: WrittenVoltage
        area: Annotated[Quantity, Written(Kind.area)]

The field holds a Quantity; a wrong unit becomes a complaint with line and column. JSON Schema shows
text with an example.
"""

from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from benchapp.quantities.dimensions import Kind
from benchapp.quantities.entry import read_quantity
from benchapp.quantities.problems import EntryProblem
from benchapp.quantities.quantity import Quantity
from benchapp.quantities.units import SI_UNITS
from benchapp.words import say


@dataclass(frozen=True, slots=True)
class Written:
    """Marks a Quantity field as written in text, of one kind; a ratio may be a plain number too."""

    kind: Kind
    positive: bool = False
    """whether zero and less make no sense"""

    def __get_pydantic_core_schema__(self, _source: Any, _handler: GetCoreSchemaHandler) -> CoreSchema:  # noqa: ANN401
        return core_schema.no_info_plain_validator_function(
            self._read, serialization=core_schema.plain_serializer_function_ser_schema(str)
        )

    def __get_pydantic_json_schema__(self, _schema: CoreSchema, _handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        example = f"1.5 {SI_UNITS[self.kind].symbol}".strip()
        types = ["string", "number"] if self.kind is Kind.ratio else "string"
        return {"type": types, "description": f"{self.kind.with_article} with its unit", "examples": [example]}

    def _read(self, written: Any) -> Quantity:  # noqa: ANN401 - whatever stands in the file
        if isinstance(written, Quantity):
            return written
        if isinstance(written, bool) or not isinstance(written, str | int | float):
            raise EntryProblem(
                say("{with_article} with its unit is needed here.", with_article=self.kind.with_article.capitalize())
            )
        found = read_quantity(str(written), kind=self.kind)
        if self.positive and found.value <= 0:
            raise EntryProblem(
                say('"{written}" is not more than nothing. Write a value above zero.', written=str(written).strip())
            )
        return found


WrittenVoltage = Annotated[Quantity, Written(Kind.voltage, positive=True)]
WrittenCurrent = Annotated[Quantity, Written(Kind.current, positive=True)]
PositiveResistance = Annotated[Quantity, Written(Kind.resistance, positive=True)]
WrittenResistance = Annotated[Quantity, Written(Kind.resistance)]
