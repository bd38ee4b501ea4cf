"""Settings that nobody had the right to make, or that no reason was given for, do not verify."""

import pytest

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.days import change_workshop
from benchapp.actions.workbench.plans import workshop_text
from benchapp.actions.workbench.problems import Refused
from benchapp.sequences.planning.planned import Workshop
from tests.people import PEOPLE, staffed

LOOSE = staffed(insulation_tester=False)


def behind_the_gate(bench, settings, by, reason=""):
    bench.workbook.keep_workshop(settings, at=bench.clock(), by=by, reason=reason)


def found(bench, path):
    bench.close()
    return [one.words for one in verify_workbook(path)]


@pytest.mark.parametrize(
    ("settings", "by", "reason", "words"),
    [
        (workshop_text(LOOSE), "AB", "it is away", "Ada Brook (AB) may not do what a supervisor does"),
        (workshop_text(LOOSE), "SV", "", "Say why the settings change (no insulation tester)"),
        (workshop_text(Workshop(people=PEOPLE[1:])), "SV", "left", "Ada Brook stays on the list"),
        ("{}", "SV", "anew", "stays on the list"),
        (workshop_text(staffed(dead_tests_last_days=999)), "SV", "anew", "Dead tests cannot last 999 days"),
        ('{"people": "all of them"}', "SV", "anew", "where a list"),
        ('{"people": [{"name": "A", "initials": "A", "until": "soon"}]}', "SV", "anew", "is no date"),
    ],
)
def test_settings_recorded_behind_the_gate_are_found(bench, path, settings, by, reason, words):
    behind_the_gate(bench, settings, by, reason)
    told = found(bench, path)
    assert any(words in one and "would have been refused" in one for one in told), told


def test_a_supervisor_with_a_reason_is_recorded_and_verifies(bench, path):
    with pytest.raises(Refused, match="are a supervisor's to make"):
        change_workshop(bench, LOOSE, by="AB", reason="it is away")
    change_workshop(bench, LOOSE, by="S.V.", reason="it is away to be calibrated")
    change_workshop(bench, staffed(dead_tests_last_days=7), by="AB")
    assert found(bench, path) == []
