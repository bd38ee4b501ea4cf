"""What keeps a unit away from mains, and what is due, is said in a person's words: no id, no number of an entry."""

import re

import pytest

from tests.sequences.interlock.slips import SLIPS
from tests.sequences.interlock.walking import ready, well
from tests.sequences.interlock.watched import Refused, Watched

IDS = re.compile(
    r"\b[Ee]ntry \d|\btb-\w+|\b(?:visual-inspection|plug-rewire|first-power|live-voltage|make-safe)\b"
    r"|\b(?:mains-live|stored-charge)\b|\b(?:continuity|insulation|function|clean)\.[a-z]"
)


def said(unit: Watched, target: str) -> list[str]:
    """The refusal of that step, what is due with all that is missing, and why each step is as it is."""
    due = unit.state.due
    words = [due.words, *(row.why for row in due.missing), *(state.why for state in unit.state.steps.values())]
    try:
        well(unit, target)
    except Refused as refused:
        words.append(str(refused))
    return words


@pytest.mark.parametrize("name", sorted(SLIPS))
def test_no_refusal_after_a_slip_names_an_id(name):
    slip = SLIPS[name]
    unit = ready(slip.routes[0], slip.target, tester=slip.tester)
    slip.spoil(unit)
    found = [words for words in said(unit, slip.target) if IDS.search(words)]
    assert found == []
