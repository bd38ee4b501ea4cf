"""What an entry rests on is read through its citations, and must be what was newest when it was recorded."""

import shutil

import pytest

from benchapp.actions.audit.verifying import verify_workbook
from tests.actions.audit.worked import make_worked
from tests.forging import Forger


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    return make_worked(tmp_path_factory.mktemp("made") / "tarnbeck.workbook")


@pytest.fixture
def forger(made, tmp_path):
    return Forger(shutil.copy(made, tmp_path / "tarnbeck.workbook"))


def of_kind(forger, *kinds):
    """The entries of these kinds in chains of the bench and the workshop."""
    units = set(forger.units.values())
    return [
        entry
        for chain, entries in forger.chains.items()
        if chain not in units
        for entry in entries
        if entry["kind"] in kinds
    ]


def citation(entry):
    return {"chain": entry["chain"], "number": entry["number"], "sha256": entry["old"]}


def written(forger):
    forger.write()
    return [(one.unit, one.entry, one.words) for one in verify_workbook(forger.path)]


def test_a_forger_who_changes_nothing_is_not_heard(forger):
    assert written(forger) == []


@pytest.mark.parametrize("which", [0, 1, 2])
def test_an_entry_that_rests_on_an_older_day_is_found(forger, which):
    """The days are an opening, its closing, then the second day's opening."""
    note = next(entry for entry in forger.of("TB-003") if entry["kind"] == "note")
    days = of_kind(forger, "opening", "closing")
    assert note["cites"][1] == citation(days[2])
    note["cites"][1] = citation(days[which])
    found = written(forger)
    if which == 2:
        assert found == []
    else:
        words = "Entry 1 of TB-003 rests on an older day at its bench than entry"
        assert [one for one in found if one[2].startswith(words)]


def test_an_entry_that_rests_on_older_settings_is_found(forger):
    note = next(entry for entry in forger.of("TB-003") if entry["kind"] == "note")
    note["cites"][0] = citation(of_kind(forger, "settings")[0])
    assert written(forger)[0][2] == (
        "Entry 1 of TB-003 rests on older settings than entry 3 of the workshop, recorded before it."
    )


def test_an_entry_that_rests_on_no_day_though_its_bench_had_one_is_found(forger):
    note = next(entry for entry in forger.of("TB-003") if entry["kind"] == "note")
    del note["cites"][1]
    assert "Entry 1 of TB-003 rests on an older day at its bench" in written(forger)[0][2]


def test_an_entry_that_rests_on_no_settings_cannot_be_judged(forger):
    note = next(entry for entry in forger.of("TB-003") if entry["kind"] == "note")
    note["cites"] = []
    assert "It cites no settings of the workshop" in written(forger)[0][2]


@pytest.mark.parametrize("kind", ["beginning", "anchor", "tags-printed", "lot"])
def test_an_entry_that_rests_on_what_it_cannot_rest_on_is_found(forger, kind):
    note = next(entry for entry in forger.of("TB-003") if entry["kind"] == "note")
    note["cites"].append(citation(of_kind(forger, kind)[0]))
    tags_said(forger)[2]["record"] = forger.of("TB-003")[0]["old"][:12]  # the note itself would rest on itself
    assert "of another chain, which is nothing that it can rest on." in written(forger)[0][2]


def test_an_entry_that_rests_on_what_is_not_there_is_found(forger):
    note = next(entry for entry in forger.of("TB-003") if entry["kind"] == "note")
    note["cites"][0]["number"] = 77
    assert "rests on entry 77 of another chain that is not there" in written(forger)[0][2]


def test_a_day_that_another_bench_had_does_not_count(forger):
    note = next(entry for entry in forger.of("TB-003") if entry["kind"] == "note")
    note["bench"] = forger.of("TB-003")[0]["chain"]
    assert "of another chain, which is nothing that it can rest on." in written(forger)[0][2]


def test_a_meter_proved_by_no_opening_is_found(forger):
    """The opening is changed to have proved nothing: what was recorded on the strength of it no longer passes."""
    for opening in of_kind(forger, "opening"):
        opening["content"]["meters"] = []
    assert any(
        "it would have been refused: This is not what the day's bench opening" in one[2] for one in written(forger)
    )


def test_settings_changed_in_their_chain_are_found_where_the_gate_rests_on_them(forger):
    for entry in of_kind(forger, "settings"):
        entry["content"]["settings"]["guard_factor"] = 0.5
    assert any("comes out as" in one[2] or "the record says" in one[2] for one in written(forger))


def test_an_entry_of_another_run_is_found(forger):
    note = next(entry for entry in forger.of("TB-003") if entry["kind"] == "note")
    note["run"] = forger.of("TB-001")[0]["run"]
    assert (
        "it belongs to another run than the one begun last" in written(forger)[0][2]
        or "no run" in written(forger)[0][2]
    )


def test_a_time_that_the_program_would_not_have_given_is_found(forger):
    first, second = forger.of("TB-001")[1:3]
    first["at"], second["at"] = second["at"], first["at"]
    assert any("its time lies before that of the entry before it" in one[2] for one in written(forger))


def test_an_answer_taken_out_of_a_sealed_chain_is_found_by_the_gate(forger):
    entries = forger.of("TB-001")
    entries.remove(forger.answers("TB-001", "look-over.outside")[0])
    assert any("it would have been refused" in one[2] for one in written(forger))


def test_a_supply_told_otherwise_is_found(forger):
    """Of an answer its whole content comes out again, not its judgement alone."""
    answer = forger.answers("TB-001", "coils.coil")[0]
    answer["content"]["supply"] = "full"
    assert any("supply was recorded as full" in one[2] for one in written(forger))


def tags_said(forger):
    (printed,) = of_kind(forger, "tags-printed")
    return printed["content"]["tags"]


def test_a_tag_that_quotes_another_units_record_is_found(forger):
    first, second, _ = tags_said(forger)
    first["record"] = second["record"]
    (found,) = written(forger)
    assert found[2].endswith(
        f"says that a tag of TB-001 was printed from a record {second['record']!r}, of which no entry is here."
    )


@pytest.mark.parametrize("record", ["", "0" * 12, "0" * 64])
def test_a_tag_that_quotes_no_record_is_found(forger, record):
    tags_said(forger)[1]["record"] = record
    (found,) = written(forger)
    assert f"a tag of TB-002 was printed from a record {record!r}" in found[2]


def test_a_tag_that_quotes_an_earlier_entry_of_its_unit_is_not_heard(forger):
    tags_said(forger)[1]["record"] = forger.of("TB-002")[2]["old"][:12]
    assert written(forger) == []


def test_a_tag_with_a_mark_that_its_unit_never_bore_is_found(forger):
    tags_said(forger)[2]["shelf_mark"] = "TB-001"
    (found,) = written(forger)
    assert "says that a tag of TB-003 was printed with the mark 'TB-001', which it never bore" in found[2]
