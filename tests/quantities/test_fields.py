"""Values with their unit as fields of file models."""

import pytest

from benchapp.files.locations import FileProblems
from benchapp.files.models import FileModel, build_model, json_schema
from benchapp.files.reader import parse_document
from benchapp.quantities.fields import FormulaText, WrittenArea, WrittenLength, WrittenRatio, WrittenVoltage
from benchapp.quantities.formula import parse_formula


class Cord(FileModel):
    length: WrittenLength
    area: WrittenArea
    spread: WrittenRatio = None
    drop: FormulaText = None
    voltage: WrittenVoltage | None = None


def test_values_are_read_with_their_unit():
    cord = build_model(parse_document("length: 1.8 m\narea: 0.75 mm²\nspread: 0.10\ndrop: 2 * a\n", "a.yaml"), Cord)
    assert str(cord.length) == "1.8 m"
    assert str(cord.spread) == "0.10"
    assert cord.drop.names == {"a"}
    assert cord.voltage is None


def test_a_wrong_value_is_complained_about_at_its_place():
    text = "length: 1.8 V\narea: [0.75 mm²]\nspread: true\ndrop: 9 V * (x\nvoltage: 3 A\n"
    with pytest.raises(FileProblems) as caught:
        build_model(parse_document(text, "a.yaml"), Cord)
    assert [str(complaint) for complaint in caught.value.complaints] == [
        'a.yaml:1:9: "1.8 V" is a voltage; a length is needed here, for example 9.12 m',
        "a.yaml:2:7: An area with its unit is needed here",
        "a.yaml:3:9: A ratio with its unit is needed here",
        'a.yaml:4:15: ")" is missing (character 9 of the formula "9 V * (x")',
        'a.yaml:5:10: "3 A" is a current; a voltage is needed here, for example 9.12 V',
    ]


def test_a_formula_may_be_a_plain_number_but_no_list():
    assert str(Cord(length="1 m", area="1 mm²", drop=2).drop) == "2"
    assert str(Cord(length="1 m", area="1 mm²", drop=parse_formula("2 * a")).drop) == "2 * a"
    with pytest.raises(ValueError, match="A formula is needed here"):
        Cord(length="1 m", area="1 mm²", drop=["2"])


def test_a_value_survives_being_built_again_and_is_written_as_text():
    cord = Cord(length="1.8 m", area="0.75 mm2")
    assert Cord.model_validate(cord.model_dump(mode="python", exclude_defaults=True) | {"area": cord.area}) == cord
    assert cord.model_dump(mode="json", exclude_defaults=True) == {"length": "1.8 m", "area": "0.75 mm²"}


def test_the_schema_shows_an_example():
    properties = json_schema(Cord)["properties"]
    assert properties["length"]["examples"] == ["1.5 m"]
    assert properties["spread"]["type"] == ["string", "number"]
