"""What people who never programmed write by mistake is told in plain words: kinds, ids, lists, commas in braces."""

import re
from typing import Annotated

import pytest
from pydantic import Tag

from benchapp.files.forms import Id, TextForm
from benchapp.files.kinds import kind_key
from benchapp.files.locations import FileProblems
from benchapp.files.models import FileModel, build_model, json_schema
from benchapp.files.reader import parse_document as parse
from benchapp.files.spelling import nearest


class Coil(FileModel):
    coil: Id
    rated: str = ""
    ends: tuple[str, str] | None = None


class Wire(FileModel):
    wire: Id


def _which(written):
    keys = written if isinstance(written, dict) else getattr(type(written), "model_fields", ())
    found = [name for name in ("coil", "wire") if name in keys]
    return found[0].capitalize() if len(found) == 1 else None


class Thing(FileModel):
    parts: tuple[
        Annotated[
            Annotated[Coil, Tag("Coil")] | Annotated[Wire, Tag("Wire")], kind_key(_which, ("coil", "wire"), of="part")
        ],
        ...,
    ]
    status: Annotated[str, TextForm(pattern=r"^(known|guessed)", words="known, or guessed")] = "known"


def complaints_of(text: str) -> list[str]:
    with pytest.raises(FileProblems) as caught:
        build_model(parse(text, "a.yaml"), Thing)
    return [str(one) for one in caught.value.complaints]


@pytest.mark.parametrize(
    ("text", "complaint"),
    [
        ("parts: [{coyl: a}]", '1:10: the key "coyl" is no kind here; did you mean coil?'),
        ("parts: [{zzz: a}]", "1:9: this part does not say its kind; expected one of the keys coil, wire"),
        ("parts: [a]", "1:9: this part does not say its kind; expected one of the keys coil, wire"),
        (
            "parts: [{coil: a, wire: b}]",
            '1:19: "coil" and "wire" both say a kind here; expected each of them in an entry of its own',
        ),
        (
            "parts: [{coil: Big Coil}]",
            (
                '1:16: "Big Coil" does not fit here; expected small letters and digits with dashes between them, '
                "a letter first, as in live-voltage; did you mean big-coil?"
            ),
        ),
        ("parts: [{coil: a, ends: [x]}]", "1:25: [x] is too short; expected 2 entries"),
        ("parts: [{coil: a, ends: []}]", "1:25: a list is too short; expected 2 entries"),
        ("parts: [{coil: a, ends: [x, y, z]}]", "1:25: [x, y, z] does not fit here; expected 2 entries"),
        ("parts: [{coil: a, ends: x}]", '1:25: "x" does not fit here; expected a list in brackets: [x, …]'),
        ("parts:\n  - coil: a\n    ends: x, y", '3:11: "x, y" does not fit here; expected a list in brackets: [x, y]'),
        (
            "parts: [{coil: a, rated: 9,5 V}]",
            (
                '1:28: inside braces a comma ends a value, so "5 V" is no longer part of "9"; '
                "expected 9.5 with a point, or quotes round the whole value"
            ),
        ),
        (
            "parts: [{coil: a, rated: one, or two, or 3}]",
            (
                '1:31: inside braces a comma ends a value, so "or two" is no longer part of "one"; '
                "expected quotes round the whole value"
            ),
        ),
        ("parts: []\nstatus: perhaps", '2:9: "perhaps" does not fit here; expected known, or guessed'),
    ],
)
def test_a_mistake_is_told_in_plain_words_at_its_place(text, complaint):
    assert complaints_of(text) == [f"a.yaml:{complaint}"]


def test_a_text_that_is_too_long_is_not_quoted_whole():
    (complaint,) = complaints_of(f"parts: [{{coil: {'a' * 300}}}]")
    assert complaint.endswith("is too long; expected at most 40 characters")
    assert len(complaint) < 200


def test_a_key_without_a_value_outside_braces_is_unknown_and_no_comma_is_blamed():
    assert complaints_of("parts:\n  - coil: a\n    loud:") == [
        'a.yaml:3:5: the key "loud" is not known here; expected one of coil, ends, rated'
    ]


def test_the_form_of_a_text_is_in_the_schema_for_editors():
    coil = json_schema(Thing)["$defs"]["Coil"]["properties"]["coil"]
    assert re.match(coil["pattern"], "live-voltage")
    assert not re.match(coil["pattern"], "Live Voltage")


@pytest.mark.parametrize(
    ("written", "known", "meant"),
    [
        ("2", ("0", "I", "II", "III"), "II"),
        ("1", ("0", "I", "II", "III"), "I"),
        ("max", ("steady", "highest", "lowest"), "highest"),
        ("dgt", ("count", "range"), "count"),
        ("ohms", ("resistance", "AC voltage"), "resistance"),
        ("VAC", ("resistance", "AC voltage", "DC voltage"), "AC voltage"),
        ("wire", ("link", "winding"), "link"),
        ("serious", ("note", "mend", "do not use"), "mend"),
        ("max", ("link", "winding"), None),
    ],
)
def test_another_word_of_the_trade_leads_to_ours(written, known, meant):
    assert nearest(written, known) == meant
