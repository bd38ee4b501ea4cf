"""Values with their unit as fields of file models."""

from typing import Annotated

import pytest

from benchapp.files.locations import FileProblems
from benchapp.files.models import FileModel, build_model, json_schema
from benchapp.files.reader import parse_document
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.fields import Written, WrittenVoltage
from benchapp.quantities.quantity import Quantity


class Cord(FileModel):
    length: Annotated[Quantity, Written(Kind.length)]
    area: Annotated[Quantity, Written(Kind.area)]
    spread: Annotated[Quantity, Written(Kind.ratio)] = None
    voltage: WrittenVoltage | None = None


def test_values_are_read_with_their_unit():
    cord = build_model(parse_document("length: 1.8 m\narea: 0.75 mm²\nspread: 0.10\n", "a.yaml"), Cord)
    assert str(cord.length) == "1.8 m"
    assert str(cord.spread) == "0.10"
    assert cord.voltage is None


def test_a_wrong_value_is_complained_about_at_its_place():
    text = "length: 1.8 V\narea: [0.75 mm²]\nspread: true\nvoltage: 3 A\n"
    with pytest.raises(FileProblems) as caught:
        build_model(parse_document(text, "a.yaml"), Cord)
    assert [str(complaint) for complaint in caught.value.complaints] == [
        'a.yaml:1:9: "1.8 V" is a voltage; a length is needed here, for example 9.12 m',
        "a.yaml:2:7: An area with its unit is needed here",
        "a.yaml:3:9: A ratio with its unit is needed here",
        'a.yaml:4:10: "3 A" is a current; a voltage is needed here, for example 9.12 V',
    ]


def test_a_value_survives_being_built_again_and_is_written_as_text():
    cord = Cord(length="1.8 m", area="0.75 mm2")
    assert Cord.model_validate(cord.model_dump(mode="python", exclude_defaults=True) | {"area": cord.area}) == cord
    assert cord.model_dump(mode="json", exclude_defaults=True) == {"length": "1.8 m", "area": "0.75 mm²"}


def test_the_schema_shows_an_example():
    properties = json_schema(Cord)["properties"]
    assert properties["length"]["examples"] == ["1.5 m"]
    assert properties["spread"]["type"] == ["string", "number"]
