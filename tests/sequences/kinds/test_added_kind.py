"""The walk that DEVELOPERS.md describes: a made-up kind of step is one new file, and everything knows it."""

import sys
from dataclasses import replace
from textwrap import dedent

import pytest

from benchapp.files.models import json_schema
from benchapp.sequences import kinds
from benchapp.sequences.answering.evaluate import answer_from, evaluate
from benchapp.sequences.checks.references import check_references
from benchapp.sequences.checks.worked_cases import run_cases
from benchapp.sequences.interlock.fold import fold
from benchapp.sequences.interlock.gate import refuse
from benchapp.sequences.kinds.wait import WaitAnswer
from benchapp.sequences.language.models import SequenceFile
from benchapp.sequences.language.step_kind import KindProblem, known_kinds
from benchapp.sequences.planning.catalogue import read_alone, read_texts, texts_of
from benchapp.sequences.planning.contents import content_json, read_content
from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.entry_contents import SetUpContent
from benchapp.sequences.planning.plan import make_plan
from benchapp.sequences.planning.state import StepStatus
from tests.people import staffed
from tests.sequences.bench import Refused, Unit, catalogue

MODULE = f"{kinds.__name__}.listen"
LISTEN = '''
from dataclasses import dataclass

from benchapp.files.forms import Id
from benchapp.judgement.statements.statements import Judgement
from benchapp.sequences.answering.answers import asked_at, complain, settled
from benchapp.sequences.checks.checked_kind import CheckedKind, nothing_more
from benchapp.sequences.language.steps import StepBase
from benchapp.sequences.planning.answer_content import AnswerContent
from benchapp.sequences.planning.entries import StepAnswer
from benchapp.sequences.planning.planned_kind import OnTag, one_step


class ListenStep(StepBase):
    """Listen at the closed case."""

    listen: Id
    """the step's own id"""
    allowed: tuple[str, ...] = ()
    """what may be heard"""


@dataclass(frozen=True, slots=True, kw_only=True)
class ListenContent(AnswerContent):
    """What was heard."""

    heard: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ListenAnswer(StepAnswer):
    """What was heard; nothing is an answer too."""

    heard: str = ""


class Listen(CheckedKind):
    """Good when nothing is heard but what may be."""

    name = "listen"
    place = 9
    model = ListenStep
    answer = ListenAnswer
    content = ListenContent
    by_hand = True
    on_tag = OnTag.test
    digest_keys = ("allowed",)
    shows = {}
    plan = one_step
    check = nothing_more

    def evaluate(self, plan, state, step, given, at):
        if given.heard == "?":
            return complain("Say what is heard.")
        good = given.heard in ("", *step.model.allowed)
        judgement = Judgement.passed if good else Judgement.failed
        sentence = given.heard or "Silent."
        return settled(ListenContent(**asked_at(step), judgement=judgement, sentence=sentence, heard=given.heard))

    def answer_from(self, content):
        return ListenAnswer(heard=content.heard)

    def case_answer(self, step, line, facts):
        return ListenAnswer(heard=line.answer)
'''
SEQUENCE = """
    sequence: quiet
    title: Listening at the case
    steps:
      - listen: case
        say: Hold an ear to the case.
        allowed: [a faint click]
    worked cases:
      - case: It rattles
        equipment: tb-mu1
        answers:
          - {step: case, answer: a faint click, judgement: pass}
          - {step: case, answer: a rattle, judgement: fail}
"""
MEMBERS = {
    "name": "    name =",
    "place": "    place =",
    "model": "    model =",
    "by_hand": "    by_hand =",
    "on_tag": "    on_tag =",
    "digest_keys": "    digest_keys =",
    "shows": "    shows =",
    "answer": "    answer =",
    "content": "    content =",
    "plan": "    plan =",
    "check": "    check =",
    "evaluate": "    def evaluate",
    "answer_from": "    def answer_from",
    "case_answer": "    def case_answer",
}
"""What every kind says, with the words in the made-up one that say it."""


@pytest.fixture
def add(tmp_path, monkeypatch):
    """Puts a module among the kinds of step, and takes it out again."""

    def look_again():
        sys.modules.pop(MODULE, None)
        vars(kinds).pop("listen", None)
        known_kinds.cache_clear()
        read_alone.cache_clear()
        SequenceFile.model_rebuild(force=True)

    def put(text=LISTEN, /):
        (tmp_path / "listen.py").write_text(text, encoding="utf-8")
        monkeypatch.setattr(kinds, "__path__", [*kinds.__path__, str(tmp_path)])
        look_again()

    yield put
    monkeypatch.undo()
    look_again()


def files(**changes):
    """The shipped files with the made-up sequence, on a route that ends in it."""
    text = dedent(SEQUENCE)
    for old, new in changes.values():
        text = text.replace(old, new)
    usual = catalogue().routes["mains-unit"]
    route = {
        "route": "quiet-unit",
        "title": "Mains unit, and listening",
        "equipment": ["tb-mu1"],
        "sequences": [*usual.sequences, "quiet"],
        "way back": usual.way_back,
    }
    lines = "\n".join(f"{key}: {value}" for key, value in route.items())
    return read_texts({**texts_of(), "quiet.yaml": text, "quiet-unit.yaml": lines})


def plan(**changes):
    found, _, complaints = files(**changes)
    assert not complaints
    return make_plan(found, "quiet-unit", "tb-mu1", staffed())


def answer(heard):
    return sys.modules[MODULE].ListenAnswer(heard=heard)


def test_it_is_in_the_schema_by_itself(add):
    assert "ListenStep" not in json_schema(SequenceFile)["$defs"]
    add()
    schema = json_schema(SequenceFile)
    assert schema["$defs"]["ListenStep"]["properties"]["allowed"]["description"] == "what may be heard"
    assert {"$ref": "#/$defs/ListenStep"} in schema["properties"]["steps"]["items"]["oneOf"]


def test_a_file_with_it_is_read_checked_and_complained_about_at_its_place(add):
    _, _, before = files()
    assert "expected one of the keys inspect, work, probe, measure, ask, wait, compute, photo" in str(before[0])
    add()
    found, documents, complaints = files()
    assert complaints == []
    assert check_references(found, documents) == []
    _, _, wrong = files(key=("allowed:", "alowed:"))
    assert "quiet.yaml:7:" in str(wrong[0])
    assert "allowed" in str(wrong[0])


def test_it_is_planned_and_what_it_names_enters_the_digest(add):
    add()
    step = plan().step("quiet.case")
    assert (step.kind, step.by_hand, step.energises) == ("listen", True, False)
    assert plan(why=("say:", "why: it may rattle\n    say:")).step("quiet.case").digest == step.digest
    assert plan(allowed=("a faint click]", "a hum]")).step("quiet.case").digest != step.digest


def test_it_is_judged_by_its_own_rules_and_its_worked_case_is_run(add):
    add()
    unit = Unit(plan())
    worth = [evaluate(unit.plan, unit.state, "quiet.case", answer(heard), at=unit.at) for heard in ("", "a hum")]
    assert [one.judgement for one in worth] == ["pass", "fail"]
    assert evaluate(unit.plan, unit.state, "quiet.case", answer("?"), at=unit.at).complaint == "Say what is heard."
    assert answer_from(worth[1].content) == answer("a hum")
    other = evaluate(unit.plan, unit.state, "quiet.case", WaitAnswer(seconds=1.0), at=unit.at)
    assert other.complaint == "quiet.case is a step to listen: that is no answer to it."
    found, _, _ = files()
    assert [(one.found, one.complaint) for one in run_cases(found, "quiet")] == [("pass", ""), ("fail", "")]


@pytest.mark.parametrize(("by_hand", "refused"), [(True, True), (False, False)])
def test_done_by_hand_it_is_refused_until_the_way_back_was_gone(add, by_hand, refused):
    add(LISTEN.replace("by_hand = True", f"by_hand = {by_hand}"))
    unit = Unit(plan())
    unit.go_to("first-power.current")
    unit.reads("first-power.current", "0.015 A")
    try:
        unit.answer("quiet.case", answer(""))
    except Refused as sentence:
        said = str(sentence)
    else:
        said = ""
    assert ("Go the way back first" in said) is refused


@pytest.mark.parametrize(("more", "by_hand"), [("", False), ("opens: [enclosure]\n    ", True)])
def test_what_is_opened_takes_hands_whatever_its_kind_says(add, more, by_hand):
    add(LISTEN.replace("by_hand = True", "by_hand = False"))
    assert plan(opens=("say:", f"{more}say:")).step("quiet.case").by_hand is by_hand


def test_a_meter_takes_hands_whatever_the_kind_says(add):
    metered = "lambda _kind, circuit, step: iter([SingleStep(circuit=circuit, function=Function.resistance)])"
    text = LISTEN.replace("by_hand = True", "by_hand = False").replace("plan = one_step", f"plan = {metered}")
    functions = "from benchapp.judgement.meters.functions import Function\n"
    add(functions + text.replace("import OnTag, one_step", "import OnTag, SingleStep"))
    assert plan().step("quiet.case").by_hand


@pytest.mark.parametrize("member", MEMBERS)
def test_a_kind_that_leaves_anything_out_does_not_import(add, member):
    assert MEMBERS[member] in LISTEN
    with pytest.raises(KindProblem, match=rf"The kind of step Listen \(.*\) does not say {member}\."):
        add(LISTEN.replace(MEMBERS[member], MEMBERS[member].replace(member, f"no_{member}")))


@pytest.mark.parametrize("said", ["None", "'yes'"])
def test_whether_it_is_by_hand_is_yes_or_no(add, said):
    with pytest.raises(KindProblem, match="does not say by_hand"):
        add(LISTEN.replace("by_hand = True", f"by_hand = {said}"))


def test_whether_it_is_by_hand_is_taken_over_from_no_other_kind(add):
    text = LISTEN.replace("(CheckedKind)", "(Wait)").replace("    by_hand = True\n", "")
    with pytest.raises(KindProblem, match="does not say by_hand"):
        add(f"from benchapp.sequences.kinds.wait import Wait\n{text}")


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('name = "listen"', 'name = "wait"', "has no key “wait”"),
        ("    listen: Id", "    wait: Id", "has no key “listen”"),
        ("Listen(CheckedKind)", "Listen", "must hold one kind of step, a subclass of CheckedKind"),
    ],
)
def test_a_kind_that_no_file_could_name_does_not_import(add, old, new, words):
    with pytest.raises(KindProblem, match=words):
        add(LISTEN.replace(old, new))


def test_two_kinds_of_one_name_do_not_import(add):
    with pytest.raises(KindProblem, match="have one name"):
        add(LISTEN.replace('name = "listen"', 'name = "wait"').replace("    listen: Id", "    wait: Id"))


def test_a_step_of_a_kind_that_nobody_knows_is_shut_and_takes_no_answer_and_no_set_up(add):
    add()
    unit = Unit(plan())
    known = unit.plan.step("quiet.case")
    content = evaluate(unit.plan, unit.state, "quiet.case", answer(""), at=unit.at).content
    lost = replace(known, kind="hark")
    rest = tuple(lost if step is known else step for step in unit.plan.steps)
    stages = tuple(
        replace(stage, steps=tuple(lost if step is known else step for step in stage.steps))
        for stage in unit.plan.stages
    )
    unit.plan = replace(unit.plan, steps=rest, stages=stages, by_address={**unit.plan.by_address, lost.address: lost})
    assert unit.state.steps["quiet.case"].status is StepStatus.shut
    assert "no kind of step “hark”" in unit.state.steps["quiet.case"].why
    given = unit.draft(EntryKind.answer, "quiet.case", "KT", replace(content, step="hark"))
    assert "no answer to one that this program knows" in refuse(unit.plan, unit.entries, given)
    set_up = unit.draft(EntryKind.set_up, "quiet.case", "KT", SetUpContent(items=()))
    assert "no kind of step “hark”" in refuse(unit.plan, [], set_up)
    assert not fold(unit.plan, [given], at=unit.at).steps["quiet.case"].holds
    with pytest.raises(KindProblem, match="no kind of step “hark”; there are inspect, work, "):
        answer_from(given.content)
    with pytest.raises(KindProblem, match="no kind of step “hark”; there are inspect, work, "):
        read_content("answer", content_json(given.content))
    with pytest.raises(KindProblem):
        evaluate(unit.plan, unit.state, "quiet.case", answer(""), at=unit.at)
