"""Scrap and a destroyed plug say why, and so does what puts them right; both stay on record."""

import pytest

from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.state import StepStatus
from tests.sequences.bench import Refused


def rows(unit):
    return {row.id: row.holds for row in unit.state.interlock[Supply.limited]}


def test_a_plug_is_destroyed_with_a_reason_and_once(unit):
    with pytest.raises(Refused, match="Say why its mains plug is cut off"):
        unit.record(EntryKind.plug_destroyed, note=" ")
    unit.record(EntryKind.plug_destroyed, note="cracked")
    with pytest.raises(Refused, match="destroyed before"):
        unit.record(EntryKind.plug_destroyed, note="cracked")


def test_a_plug_said_to_be_destroyed_by_mistake_is_put_right_with_a_reason_and_looked_at_again(dead_tested):
    with pytest.raises(Refused, match="nothing to put right"):
        dead_tested.record(EntryKind.plug_kept, why="wrong unit")
    dead_tested.record(EntryKind.plug_destroyed, note="cracked")
    assert not rows(dead_tested)["plug there"]
    with pytest.raises(Refused, match="Say why the entry that its plug was destroyed is wrong"):
        dead_tested.record(EntryKind.plug_kept, why="")
    dead_tested.record(EntryKind.plug_kept, why="wrong unit")
    assert rows(dead_tested)["plug there"]
    assert not rows(dead_tested)["plug"]
    assert dead_tested.state.steps["plug-rewire.plug-outside"].status is StepStatus.stale
    assert [words for words, _at, _by in dead_tested.state.put_right] == ["Plug destroyed (cracked): wrong, wrong unit"]


def test_spares_lapse_when_the_plug_is_on_after_all(dead_tested):
    dead_tested.record(EntryKind.plug_destroyed, note="cracked")
    dead_tested.record(EntryKind.disposition, disposition="spares or repair")
    dead_tested.record(EntryKind.plug_kept, why="wrong unit")
    assert dead_tested.state.disposition == "quarantine"


def test_scrap_and_any_way_out_of_it_say_why(unit):
    unit.record(EntryKind.plug_destroyed, note="cracked")
    with pytest.raises(Refused, match="Say why it is scrap"):
        unit.record(EntryKind.disposition, disposition="scrap")
    unit.record(EntryKind.disposition, disposition="scrap", note="charred")
    with pytest.raises(Refused, match="say why it is not"):
        unit.record(EntryKind.disposition, disposition="quarantine")
    unit.record(EntryKind.disposition, disposition="quarantine", note="soot from another one")
    (told,) = unit.state.put_right
    assert told[0] == "Scrap (charred): no longer, soot from another one"
