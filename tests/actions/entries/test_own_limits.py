"""A workshop's own limits and cautions from intake to paper: stricter ones are named, looser ones never judge.

Trials in use: with an earth limit of 50 ohm of one's own a path of 12 ohm passed, and the sheet printed that limit with
the source of the published 0.1 ohm; a workbook from a stranger carried such limits in its pinned texts.
"""

import pytest
from pypdf import PdfReader

from benchapp.actions.audit.following import follow_readings
from benchapp.actions.audit.pinned import notes_on_pinned_texts
from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.answers import record_answer
from benchapp.actions.entries.days import open_bench
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.entries.outcome import set_disposition
from benchapp.actions.entries.runs import start_run
from benchapp.actions.papers.printing import export_record_sheet, preview_tag
from benchapp.actions.papers.record_content import record_content
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.plans import Plans
from benchapp.actions.workbench.problems import Refused
from benchapp.cli.command import main
from benchapp.files.shipped import shipped_folder
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.planning.catalogue import catalogue_from_texts, texts_of
from benchapp.sequences.planning.chain_contents import MeterProof
from tests.actions.conftest import Clock
from tests.actions.driving import do_what_is_due
from tests.people import OPENED, staffed
from tests.templates import Template

METERS = ("tb-m1", "tb-m2", "tb-it1", "tb-pm1")
EARTH = "continuity.earth"
OWN = "this workshop's own figure (ours.yaml)"
PUBLISHED = "    value: 0.1\n    unit: ohm\n"


def gb(value: str) -> str:
    text = (shipped_folder("resources") / "limits" / "gb.yaml").read_text(encoding="utf-8")
    assert PUBLISHED in text
    return text.replace(PUBLISHED, PUBLISHED.replace("0.1", value), 1)


def opened(path, clock) -> Bench:
    bench = Bench.create(path, clock=clock, workshop=staffed())
    proofs = tuple(MeterProof(meter=name, proved=True, nulled=True) for name in METERS)
    open_bench(bench, by="AB", meters=proofs, rcd_button_tested=True, **OPENED)
    return bench


def take_in(bench, marks=("TB-001",)):
    return take_in_lot(bench, name="L", equipment="tb-mu1", route="mains-unit", marks=marks, by="AB")


def earth_of(bench) -> str:
    steps = [step.address for step in bench.plan("TB-001").steps if step.accept == "limit earth-continuity"]
    return steps[0]


def sources(lines) -> dict[str, str]:
    return {line.what: line.source for line in lines}


def test_a_path_of_12_ohm_fails_though_an_own_file_would_let_50_ohm_pass(path, clock):
    (path.parent / "ours.yaml").write_text(gb("50"), encoding="utf-8")
    with opened(path, clock) as bench:
        assert "Left out until it is mended: " in take_in(bench).words
        (left_out,) = bench.left_out
        assert "ours.yaml:" in str(left_out)
        assert "50 ohm is looser than the shipped 0.1 ohm (IET Code of Practice" in str(left_out)
        earth = earth_of(bench)
        do_what_is_due(bench, "TB-001", until=earth)
        record_answer(bench, "TB-001", earth, ReadingAnswer(typed="12 ohm", meter="tb-it1"), by="AB")
        content = bench.entries("TB-001")[-1].content
        assert content.judgement == "fail"
        assert (content.derivation[0].what, content.derivation[0].value) == ("base limit", "0.1 ohm")


@pytest.fixture
def stricter(path, clock):
    """A unit read by limits of the workshop's own that are stricter, and by a caution with a sentence more."""
    (path.parent / "ours.yaml").write_text(gb("0.08"), encoding="utf-8")
    caution = (shipped_folder("resources") / "cautions" / "mains-live.yaml").read_text(encoding="utf-8")
    longer = caution.replace("source:", "  - The red lamp is on.\nsource:", 1)
    (path.parent / "lamp.yaml").write_text(longer, encoding="utf-8")
    with opened(path, clock) as bench:
        yield bench


NAMED = (
    "limits gb, earth continuity, base: 0.08 ohm in place of 0.1 ohm, IET Code of Practice for In-service Inspection "
    "and Testing of Electrical Equipment, 4th and 5th ed. (ours.yaml)"
)
LAMP = "caution mains-live: “The red lamp is on.” (lamp.yaml)"


def test_own_texts_are_named_at_intake_at_the_step_on_paper_and_by_verify(stricter, path, capsys, tmp_path):
    from benchapp.sequences.planning.own_texts import own_texts_of_step

    words = take_in(stricter).words
    assert NAMED in words
    assert LAMP in words
    assert NAMED in start_run(stricter, "TB-001", by="AB").words
    do_what_is_due(stricter, "TB-001")
    plan = stricter.plan("TB-001")
    assert [one.words for one in own_texts_of_step(plan, plan.step(earth_of(stricter)))] == [NAMED]
    sheet = record_content(stricter, "TB-001")
    assert set(sheet.own_texts) == {NAMED, LAMP}
    earth = next(row for section in sheet.sections for row in section.rows if sources(row.derivation).get("base limit"))
    assert sources(earth.derivation)["base limit"] == OWN
    assert sources(earth.derivation)["protective conductor of 0.75 mm²"].startswith("IEC 60228:2004")
    assert f"No published document gives {OWN}." in earth.cautions
    export_record_sheet(stricter, "TB-001", out=tmp_path / "sheet.pdf")
    text = " ".join("".join(page.extract_text() for page in PdfReader(tmp_path / "sheet.pdf").pages).split())
    assert "This workshop's own texts and figures" in text
    followed = next(one for one in follow_readings(path, "TB-001") if one["step"] == earth_of(stricter))
    assert {"what": "base limit", "value": "0.08 ohm", "source": OWN} in followed["band"]["derivation"]
    assert followed["differs_when_judged_again"] == []
    stricter.close()
    assert verify_workbook(path) == ()
    assert set(notes_on_pinned_texts(path)) == {f"TB-001: by this workshop's own {one}." for one in (NAMED, LAMP)}
    assert main(["verify", str(path)]) == 0
    out = capsys.readouterr().out
    assert NAMED in out
    assert any(line.startswith("tarnbeck.workbook holds") for line in out.splitlines())


def test_the_published_source_is_printed_nowhere_beside_the_own_figure(stricter):
    take_in(stricter)
    do_what_is_due(stricter, "TB-001")
    rows = [row for section in record_content(stricter, "TB-001").sections for row in section.rows]
    lines = [line for row in rows for line in row.derivation if "0.08 ohm" in line.value]
    assert lines
    assert {line.source for line in lines} == {OWN}


@pytest.fixture(scope="module")
def loosened(tmp_path_factory):
    """A whole unit of a workbook whose pinned texts somebody loosened, by a program that does not look at them."""

    def make(path, clock):
        with pytest.MonkeyPatch.context() as stranger, opened(path, clock) as bench:
            stranger.setattr("benchapp.actions.workbench.plans._looser", lambda *_: "")
            bench._catalogue = catalogue_from_texts({**texts_of(), "resources/limits/gb.yaml": gb("0.9")})
            take_in(bench)
            do_what_is_due(bench, "TB-001")

    return Template(tmp_path_factory.mktemp("loosened"), Clock(), make)


@pytest.fixture
def clock(request):
    """It goes on from where the stranger's unit was made."""
    loosened = "stranger" in request.fixturenames
    return request.getfixturevalue("loosened").clock() if loosened else Clock()


@pytest.fixture
def stranger(loosened, tmp_path):
    return loosened.copied(tmp_path)


def test_a_stranger_s_looser_texts_are_a_difference_though_every_judgement_holds(stranger, capsys):
    (difference,) = verify_workbook(stranger)
    assert difference.unit == "TB-001"
    assert "The texts pinned for TB-001 are looser than what this program ships: resources/limits/gb.yaml:" in (
        difference.words
    )
    assert "earth continuity, base: 0.9 ohm is looser than the shipped 0.1 ohm (IET Code" in difference.words
    assert main(["verify", str(stranger)]) == 1
    assert "0.9 ohm is looser" in capsys.readouterr().out


def test_nothing_new_is_recorded_or_sold_on_a_stranger_s_looser_texts_but_the_way_back_stays(stranger, clock):
    with Bench.open(stranger, clock=clock) as bench:
        state = bench.state("TB-001")
        told = "The texts by which it is tested ask for less than this program: resources/limits/gb.yaml:"
        for rows in state.interlock.values():
            assert next(row for row in rows if not row.holds).why.startswith(told)
        with pytest.raises(Refused, match=r"0\.9 ohm is looser than the shipped 0\.1 ohm"):
            record_answer(bench, "TB-001", earth_of(bench), ReadingAnswer(typed="0.5 ohm", meter="tb-it1"), by="AB")
        with pytest.raises(Refused, match="Begin a new run of this unit"):
            set_disposition(bench, "TB-001", "for sale", by="CD", grade="A", price="£15")
        assert preview_tag(bench, "TB-001").disposition_words == "Not tested, do not plug in"
        assert record_content(bench, "TB-001").cautions[0].startswith(told)
        back = [step for step in bench.plan("TB-001").way_back if step.function][-1]
        record_answer(bench, "TB-001", back.address, ReadingAnswer(typed="0 V", meter="tb-m1"), by="AB")


def test_a_new_run_puts_a_stranger_s_unit_on_the_texts_of_today(stranger, clock):
    with Bench.open(stranger, clock=clock) as bench:
        start_run(bench, "TB-001", by="AB")
        assert bench.plan("TB-001").looser == ""
        assert bench.state("TB-001").due.words
        do_what_is_due(bench, "TB-001")
        set_disposition(bench, "TB-001", "for sale", by="CD", grade="A", price="£15")
        assert preview_tag(bench, "TB-001").disposition_words == "For sale, grade A"


def test_a_text_of_an_earlier_release_is_judged_as_it_was_pinned_and_shut_for_new_work(stranger, monkeypatch):
    """Its SHA-256 stands among the earlier texts: verify tells it, and finds no difference."""
    from hashlib import sha256

    from benchapp.files import shipped

    known = sha256(gb("0.9").encode()).hexdigest()
    monkeypatch.setattr("benchapp.sequences.checks.pinned_texts.earlier_texts", lambda: frozenset({known}))
    assert shipped.earlier_texts() == frozenset()
    assert verify_workbook(stranger) == ()
    (note,) = notes_on_pinned_texts(stranger)
    assert note.startswith("TB-001: judged by the figures of an earlier release, as they were pinned: resources/limits")


def test_only_new_work_is_shut_not_what_is_asked_again(stranger, clock):
    with Bench.open(stranger, clock=clock) as bench:
        plans, run = Plans(bench.workbook), bench.history("TB-001").run
        assert plans.of(run, bench.workshop).looser
        assert plans.of(run, bench.workshop, again=True).looser == ""
        assert plans.of(run).looser == ""
