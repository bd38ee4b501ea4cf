"""Errors planted in the interlock: every one of them must be found by the walks or by the random machine."""

import pytest

from tests.sequences.interlock.mutants import Mutant, killers, mutants, source


def test_mutants_have_names_of_their_own():
    assert len({mutant.name for mutant in mutants()}) == len(mutants()) >= 12


@pytest.mark.parametrize("mutant", mutants(), ids=lambda mutant: mutant.name)
def test_the_line_that_a_mutant_changes_stands_there_once(mutant):
    text = source(mutant).read_text(encoding="utf-8")
    assert compile(mutant.changed(text), mutant.file, "exec")


def test_a_mutant_whose_line_has_moved_is_refused():
    gone = Mutant(name="gone", file="interlock/gate.py", old="nowhere to be found", new="")
    with pytest.raises(ValueError, match="stands there 0 times"):
        gone.changed(source(gone).read_text(encoding="utf-8"))


@pytest.mark.thorough
def test_the_copy_without_a_change_passes():
    assert killers(None) == ()


@pytest.mark.thorough
@pytest.mark.parametrize("mutant", mutants(), ids=lambda mutant: mutant.name)
def test_a_planted_error_is_found(mutant, record_property):
    found = killers(mutant)
    assert found, f"nothing found: {mutant.name}"
    record_property(f"mutant: {mutant.name}", f"found by {found[0]}")
