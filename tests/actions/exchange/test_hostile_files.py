"""A day file that does not hold is refused whole, with a sentence; the workbook is as it was."""

import base64
import json
from hashlib import sha256

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from benchapp.actions.exchange.importing import import_day_file
from benchapp.actions.workbench.problems import Refused
from benchapp.workbook.exchange.day_file import DayFileProblem
from tests.actions.driving import do_what_is_due
from tests.actions.exchange.benches import HUB, YARD, at, export, held, make


@pytest.fixture(scope="module")
def sound(tmp_path_factory):
    """A hub with nothing of the yard's, and the bytes of a day file of the yard."""
    folder = tmp_path_factory.mktemp("hostile")
    yard = make(folder / "yard.workbook", marks=("TB-020",), at=YARD)
    with at(yard, YARD) as bench:
        do_what_is_due(bench, "TB-020", until="coils.coil")
    return make(folder / "hub.workbook", marks=("TB-001",)), export(yard, YARD, folder / "y.dayfile").read_bytes()


def canonical(value):
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False)


def resealed(lines):
    """The file of these lines with entries, heads and seal made to fit, as somebody who knows how would."""
    heads, previous, new, done = {}, {}, {}, []
    for line in lines:
        said = json.loads(line) if isinstance(line, str) else line
        if "previous" in said:
            old = sha256(line.encode()).hexdigest() if isinstance(line, str) else said.pop("old")
            said["previous"] = previous.get(said["chain"], "")
            for cited in said["cites"]:
                cited["sha256"] = new.get(cited["sha256"], cited["sha256"])
            line = canonical(said)
            link = sha256(line.encode()).hexdigest()
            new[old] = previous[said["chain"]] = link
            heads[said["chain"]] = [said["number"], link]
        done.append(line)
    before = "".join(f"{line}\n" for line in done).encode()
    return before + (canonical({"heads": heads, "sha256": sha256(before).hexdigest()}) + "\n").encode()


def parts(content):
    return content.decode().split("\n")[:-2]


def changed(content, choose, change):
    """The file with the first entry that `choose` takes changed, and sealed anew."""
    lines, done = [], False
    for line in parts(content):
        said = json.loads(line)
        if not done and "previous" in said and choose(said):
            said["old"] = sha256(line.encode()).hexdigest()
            change(said)
            lines.append(said)
            done = True
        else:
            lines.append(line)
    assert done
    return resealed(lines)


@pytest.fixture
def refused(sound, tmp_path):
    """Bring these bytes into the hub: they are refused, and nothing of it changes."""
    hub, _ = sound

    def bring(content):
        path = tmp_path / "strange.dayfile"
        path.write_bytes(content)
        before = held(hub, but=HUB)
        with at(hub, HUB) as bench, pytest.raises(DayFileProblem) as caught:
            import_day_file(bench, path, by="AB")
        assert held(hub, but=HUB) == before
        assert caught.value.sentence.startswith("strange.dayfile is no sound day file (")
        return caught.value.sentence

    return bring


def test_sealing_anew_without_a_change_gives_the_same_file(sound):
    assert resealed(parts(sound[1])) == sound[1]


def is_answer(said):
    return said["kind"] == "answer" and "value" in said["content"]


def is_beginning(said):
    return said["kind"] == "beginning" and "lot" in said["content"]


CHANGES = {
    "a content that no program wrote": (lambda said: said["kind"] == "answer", {"content": {}}),
    "a value that is a list": (is_answer, {"content": {"value": [1]}}),
    "a number beyond all columns": (is_answer, {"content": {"value": 10**30}}),
    "a word for a number": (is_answer, {"content": {"value": "much"}}),
    "a kind that nobody knows": (is_answer, {"kind": "spell"}),
    "a number that is none": (is_answer, {"number": True}),
    "a number far away": (is_answer, {"number": 10**17}),
    "another chain": (is_answer, {"chain": "somewhere else"}),
    "the UUID of another entry": (is_answer, {"uuid": "its beginning's"}),
    "a citation of nothing": (is_answer, {"cites": [{"chain": "x", "number": 1, "sha256": "y"}]}),
    "a citation that is none": (is_answer, {"cites": [{"chain": "x", "number": "y", "sha256": "z"}]}),
    "a unit of no lot": (is_beginning, {"content": {"lot": "none"}}),
    "a unit without a mark": (is_beginning, {"content": {}}),
    "pins that are not there": (is_beginning, {"content": {"pins": "0" * 64}}),
    "a bench that does not say its name": (lambda said: said["chain"] == YARD.uuid, {"content": {"name": 7}}),
}


@pytest.mark.parametrize("name", CHANGES)
def test_what_no_program_wrote_is_a_sentence_though_every_hash_fits(sound, refused, name):
    choose, change = CHANGES[name]
    content = change.get("content")

    def apply(said):
        if content == {}:
            said["content"] = {"lot": said["content"]["lot"]} if "lot" in said["content"] else {}
        elif content:
            said["content"] |= content
        said.update({key: value for key, value in change.items() if key != "content"})
        if said["uuid"] == "its beginning's":
            said["uuid"] = said["chain"]

    refused(changed(sound[1], choose, apply))


def with_line(content, line):
    head, *others = parts(content)
    return resealed([head, line, *others])


@pytest.mark.parametrize(
    ("line", "words"),
    [
        (canonical({"text": "a text that nobody pins"}), "belongs to none of its units"),
        (canonical({"image": base64.b64encode(b"x").decode(), "media_type": "image/png"}), "belongs to none"),
        ('{"text":"a","text":"b"}', "is not spelled"),
        ('{"text":1e999}', "says what no entry says"),
        ('{"text":"\\ud800"}', "is not spelled"),
        ('{"text":' + "[" * 100_000 + "]" * 100_000 + "}", "says what no entry says"),
        ('{"text":' + "9" * 10_000 + "}", "says what no entry says"),
        ("[]", "is not spelled"),
        ('{"image":"?","media_type":"image/png"}', "says what no entry says"),
        ('{"wishes":3}', "neither text, photo nor entry"),
    ],
)
def test_a_strange_line_is_a_sentence(sound, refused, line, words):
    before, _, behind = sound[1].partition(b"\n")
    lines = [before.decode(), line, *behind.decode().split("\n")[:-2]]
    body = "".join(f"{one}\n" for one in lines).encode()
    seal = json.loads(behind.decode().split("\n")[-2]) | {"sha256": sha256(body).hexdigest()}
    assert words in refused(body + canonical(seal).encode() + b"\n")


def test_a_text_that_is_missing_or_another_is_a_sentence(sound, refused):
    lines = parts(sound[1])
    (at_,) = [number for number, line in enumerate(lines) if "text" in json.loads(line)][:1]
    assert "missing in it" in refused(resealed(lines[:at_] + lines[at_ + 1 :]))
    other = canonical({"text": json.loads(lines[at_])["text"] + " "})
    refused(resealed([*lines[:at_], other, *lines[at_ + 1 :]]))


def test_a_file_that_is_cut_or_none_is_a_sentence(sound, refused, tmp_path):
    content = sound[1]
    for size in (0, 1, 20, len(content) // 2, len(content) - 1):
        refused(content[:size])
    for other in (b"SQLite format 3\0" * 40, b"\xff" * 100, b"\n" * 100, content + content, content + b"\n"):
        refused(other)
    with at(sound[0], HUB) as bench, pytest.raises(Refused, match="cannot be read"):
        import_day_file(bench, tmp_path / "nothing.dayfile", by="AB")


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_no_changed_byte_is_taken_over(sound, data):
    from benchapp.workbook.exchange.day_file import read_day_file

    content = sound[1]
    place = data.draw(st.integers(0, len(content) - 1))
    other = data.draw(st.integers(0, 255).filter(lambda byte: byte != content[place]))
    with pytest.raises(DayFileProblem):
        read_day_file(content[:place] + bytes([other]) + content[place + 1 :], "changed.dayfile")
