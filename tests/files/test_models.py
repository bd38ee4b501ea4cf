"""From data to checked models: all complaints of a file at once, each at its place and with its cure."""

from datetime import date
from decimal import Decimal
from typing import Annotated, Literal

import pytest
from pydantic import Discriminator, Field, Tag, field_validator, model_validator

from benchapp.errors import BenchError
from benchapp.files.locations import FileProblems
from benchapp.files.models import FileModel, build_model, json_schema
from benchapp.files.reader import parse_document


class Fuse(FileModel):
    fuse: str
    between: list[str]


class Winding(FileModel):
    winding: str
    between: list[str]
    turns_ratio: float = 1


class Inspect(FileModel):
    kind: Literal["inspect"]
    say: str


class Measure(FileModel):
    kind: Literal["measure"]
    say: str
    set_up: dict[str, str] = Field(default_factory=dict)
    at_least: int = Field(default=1, ge=1, le=9)


def _which(part):
    names = {"fuse", "winding"} & set(part)
    return names.pop() if names else None


Part = Annotated[
    Annotated[Fuse, Tag("fuse")] | Annotated[Winding, Tag("winding")],
    Discriminator(_which, custom_error_type="no kind", custom_error_message="this part does not say its kind."),
]


class Circuit(FileModel):
    parts: list[Part]


class SentenceProblem(BenchError):
    def __init__(self, sentence, position):
        super().__init__(sentence)
        self.position = position


class Table(FileModel):
    """More keys than a line can list."""

    size: tuple[int, Fuse] | None = None
    inner: Fuse | None = None
    even: Decimal = Field(default=Decimal(0), multiple_of=Decimal(2))
    named: str = ""
    shape: str = Field(default="", pattern="^[a-z]*$", max_length=4)
    day: date | None = None
    one: int = 1
    two: int = 2
    three: int = 3
    four: int = 4
    five: int = 5
    six: int = 6
    seven: int = 7
    eight: int = 8
    nine: int = 9
    ten: int = 10
    eleven: int = 11
    twelve: int = 12


class Sheet(FileModel):
    title: str
    class_: Literal["I", "II", "III"] = "I"
    parts: tuple[Fuse | Winding, ...] = ()
    steps: tuple[Annotated[Inspect | Measure, Field(discriminator="kind")], ...] = ()
    note: str | None = None
    by_name: dict[str, Fuse] = Field(default_factory=dict)
    spare: bool = False

    @field_validator("note")
    @classmethod
    def _no_question(cls, note):
        if note and "?" in note:
            raise SentenceProblem("A note is no question.", note.index("?"))
        return note

    @model_validator(mode="after")
    def _title_is_not_note(self):
        if self.note == self.title:
            raise BenchError("The note repeats the title.")
        return self


def build(text: str) -> Sheet:
    return build_model(parse_document(text, "a.yaml"), Sheet)


def complaints_of(text: str) -> list[str]:
    with pytest.raises(FileProblems) as caught:
        build(text)
    return [str(complaint) for complaint in caught.value.complaints]


def test_keys_are_written_with_spaces_and_without_trailing_dash():
    sheet = build("title: a\nclass: II\nsteps:\n  - {kind: measure, say: b, set up: {switch: on}, at least: 2}\n")
    assert sheet.class_ == "II"
    assert sheet.steps[0].set_up == {"switch": "on"}
    assert sheet.steps[0].at_least == 2


def test_text_fields_get_numbers_as_they_were_written():
    assert build("title: 010\nnote: 4.70\n").title == "010"
    assert build("title: 010\nnote: 4.70\n").note == "4.70"


def test_models_are_frozen():
    with pytest.raises(ValueError, match="frozen"):
        build("title: a").title = "b"


def test_an_unknown_key_is_told_the_nearest_known_one_at_its_own_place():
    assert complaints_of("title: a\nnotte: b\n") == [
        'a.yaml:2:1: the key "notte" is not known here; did you mean note?'
    ]


def test_an_unknown_key_like_none_is_told_what_there_is():
    assert complaints_of("title: a\nzzz: b\n") == [
        'a.yaml:2:1: the key "zzz" is not known here; expected one of by name, class, note, parts, spare, steps, title'
    ]


def test_a_misspelt_key_is_not_called_missing_as_well():
    assert complaints_of("titel: a\n") == ['a.yaml:1:1: the key "titel" is not known here; did you mean title?']


def test_the_program_s_own_spelling_of_a_key_is_put_right():
    complaints = complaints_of("title: a\nsteps:\n  - {kind: measure, say: b, set_upp: {}}\n")
    assert complaints == ['a.yaml:3:29: the key "set_upp" is not known here; did you mean set up?']


def test_several_problems_are_told_at_once_in_the_order_of_lines():
    text = (
        "title: [a]\n"
        "class: IV\n"
        "spare: perhaps\n"
        "steps:\n"
        "  - {kind: messure, say: b}\n"
        "  - {say: b}\n"
        "  - {kind: measure, say: b, at least: 12}\n"
        "note: is it?\n"
    )
    assert complaints_of(text) == [
        "a.yaml:1:8: [a] does not fit here; expected text",
        'a.yaml:2:8: "IV" is not known here; did you mean I?',
        'a.yaml:3:8: "perhaps" does not fit here; expected true or false',
        'a.yaml:5:12: kind "messure" is not known; did you mean measure?',
        'a.yaml:6:5: the key "kind" is missing',
        'a.yaml:7:39: "12" does not fit here; expected at most 9',
        "a.yaml:8:12: A note is no question",
    ]


def test_a_file_with_hundreds_of_mistakes_is_told_the_first_and_how_many_more():
    complaints = complaints_of("title: a\n" + "".join(f"key{number}: 1\n" for number in range(240)))
    assert len(complaints) == 201
    assert complaints[-1] == "a.yaml:202:9: 40 more things are wrong from here on; mend the others first"


def test_of_a_choice_of_forms_the_nearest_is_complained_about():
    text = "title: a\nparts:\n  - winding: primary\n    betwen: [a, b]\n  - {fuse: f, between: [a, b], rating: 3}\n"
    assert complaints_of(text) == [
        'a.yaml:4:5: the key "betwen" is not known here; did you mean between?',
        'a.yaml:5:32: the key "rating" is not known here; expected one of between, fuse',
    ]


def test_a_problem_inside_a_quoted_value_points_to_the_value():
    assert complaints_of('title: a\nnote: "is it?"\n') == ["a.yaml:2:7: A note is no question"]


def test_a_problem_of_the_whole_stands_at_its_beginning():
    assert complaints_of("title: a\nnote: a\n") == ["a.yaml:1:1: The note repeats the title"]


def test_keys_of_a_mapping_by_name_are_free_but_what_they_hold_is_not():
    assert complaints_of("title: a\nby name:\n  anything: {fuse: f}\n") == ['a.yaml:3:3: the key "between" is missing']


def test_values_of_other_types_are_told_what_is_expected():
    text = (
        "qqq: 1\nsize: [1, {fuze: a, between: []}]\nshape: Q-Q\nday: soon\none: {a: 1}\ntwo: 1.5\nthree: true\nfour:\n"
        "inner: {fuse: a, betwen: []}\neven: 3\nnamed: false\n"
    )
    with pytest.raises(FileProblems) as caught:
        build_model(parse_document(text, "a.yaml"), Table)
    assert [str(complaint) for complaint in caught.value.complaints] == [
        (
            'a.yaml:1:1: the key "qqq" is not known here; '
            "expected a key that benchapp check --schema prints for this kind of file"
        ),
        'a.yaml:2:12: the key "fuze" is not known here; did you mean fuse?',
        'a.yaml:3:8: "Q-Q" does not fit here; expected text of another form',
        'a.yaml:4:6: "soon" does not fit here; expected a date such as 2026-03-31',
        "a.yaml:5:6: a group of keys does not fit here; expected a whole number",
        'a.yaml:6:6: "1.5" does not fit here; expected a whole number',
        'a.yaml:7:8: "true" does not fit here; expected a whole number',
        "a.yaml:8:6: nothing does not fit here; expected a whole number",
        'a.yaml:9:18: the key "betwen" is not known here; did you mean between?',
        'a.yaml:10:7: "3" does not fit here: Input should be a multiple of 2',
        "a.yaml:11:8: false does not fit here; expected text",
    ]


def test_a_key_inside_a_mapping_by_name_is_checked_like_any_other():
    assert complaints_of("title: a\nby name:\n  anything: {fuse: f, between: [], fuze: g}\n") == [
        'a.yaml:3:36: the key "fuze" is not known here; did you mean fuse?'
    ]


def test_a_model_s_own_words_for_an_error_stand_as_they_are():
    with pytest.raises(FileProblems) as caught:
        build_model(parse_document("parts:\n  - between: [a, b]\n  - {winding: w, betwen: []}\n", "a.yaml"), Circuit)
    assert [str(complaint) for complaint in caught.value.complaints] == [
        "a.yaml:2:5: this part does not say its kind",
        'a.yaml:3:18: the key "betwen" is not known here; did you mean between?',
    ]


def test_an_empty_file_is_told_what_is_needed():
    assert complaints_of("") == ["a.yaml:1:1: nothing does not fit here; expected a group of keys, each with a value"]


def test_a_part_of_a_document_can_be_built():
    document = parse_document("a:\n  - fuse: f\n    between: [x, y]\n    wrong: 1\n", "a.yaml")
    with pytest.raises(
        FileProblems, match=r'a\.yaml:4:5: the key "wrong" is not known here; expected one of between, fuse'
    ):
        build_model(document, Fuse, ("a", 0))


def test_the_schema_for_editors_has_keys_as_they_are_written():
    schema = json_schema(Sheet)
    assert {"title", "class", "by name"} <= set(schema["properties"])
    assert schema["additionalProperties"] is False
    assert "set up" in schema["$defs"]["Measure"]["properties"]
