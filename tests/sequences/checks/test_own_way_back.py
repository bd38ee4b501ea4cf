"""A way back under another id is never shorter than what the design asks for."""

import pytest

from benchapp.files.locations import FileProblems
from benchapp.files.shipped import shipped_folder
from benchapp.sequences.interlock.way_back import is_energised
from benchapp.sequences.planning.catalogue import catalogue_from_texts
from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.plan import make_plan
from benchapp.sequences.planning.state import DueKind
from tests.people import staffed
from tests.sequences.bench import Refused, Unit, catalogue
from tests.sequences.loaded import load_catalogue

SHIPPED = (shipped_folder("sequences") / "make-safe.yaml").read_text(encoding="utf-8").partition("\nworked cases:")[0]
LEFT_OUT = {
    "prove-again": ("tb-mu1", "the meter is not proved again after its last reading"),
    "low-to-touched": ("tb-mu1", "against the bare metal of the case"),
    "low-outputs": ("tb-rec1", "across outputs"),
    "low-switched-off": ("tb-rec1", "past the switch"),
    "low-inside": ("tb-rec1", "nothing is read across"),
}


def without(name):
    """The shipped way back under another id, less one step."""
    steps = SHIPPED.replace("sequence: make-safe", "sequence: own-way").split("\n  - ")
    kept = [one for one in steps if one.splitlines()[0].partition(": ")[2] != name]
    assert len(kept) == len(steps) - 1
    return "\n  - ".join(kept) + "\n"


def route(equipment):
    names = "visual-inspection, plug-rewire, continuity, insulation, first-power, live-voltage, clean"
    return f"route: own\ntitle: Own\nequipment: [{equipment}]\nsequences: [{names}]\nway back: own-way\n"


@pytest.mark.parametrize("name", LEFT_OUT)
def test_a_shorter_way_back_under_another_id_is_complained_about(tmp_path, name):
    equipment, words = LEFT_OUT[name]
    (tmp_path / "own-way.yaml").write_text(without(name), encoding="utf-8")
    (tmp_path / "own.yaml").write_text(route(equipment), encoding="utf-8")
    with pytest.raises(FileProblems, match=f"“own-way” is not whole on {equipment}: .*{words}"):
        load_catalogue(tmp_path)


WEAKER = {
    "on direct voltage alone": ("    also: AC voltage\n", ""),
    "behind an open switch": ("    set up: [switch on, fuse in]\n", ""),
    "on some units": ("    path: live to what", "    when: {class: II}\n    path: live to what"),
}


@pytest.mark.parametrize("edit", WEAKER.values(), ids=WEAKER)
def test_a_reading_that_shows_less_does_not_count(tmp_path, edit):
    whole = SHIPPED.replace("sequence: make-safe", "sequence: own-way") + "\n"
    before, touched, after = whole.partition("  - measure: low-to-touched\n")
    assert edit[0] in after
    (tmp_path / "own-way.yaml").write_text(before + touched + after.replace(*edit, 1), encoding="utf-8")
    (tmp_path / "own.yaml").write_text(route("tb-mu1"), encoding="utf-8")
    with pytest.raises(FileProblems, match="is not whole on tb-mu1"):
        load_catalogue(tmp_path)


PEEK = """  - measure: peek
    say: Read the outlet.
    function: AC voltage
    at: [outlet.1, outlet.2]
    accept: at most 400 V
"""
LOOK = """  - inspect: look
    say: Cover off.
    opens: [enclosure]
    checkpoints: [{check: dust, say: No dust.}]
"""
TOO_SOON = {
    "bare probes before the plug is out": ("steps:\n", "steps:\n" + PEEK),
    "bare probes at any voltage": ("  - wait: discharge\n", PEEK + "  - wait: discharge\n"),
    "a look inside before it reads low": ("  - wait: discharge\n", LOOK + "  - wait: discharge\n"),
}


@pytest.mark.parametrize("edit", TOO_SOON.values(), ids=TOO_SOON)
def test_nothing_else_is_done_on_a_way_back(tmp_path, edit):
    whole = SHIPPED.replace("sequence: make-safe", "sequence: own-way") + "\n"
    (tmp_path / "own-way.yaml").write_text(whole.replace(*edit, 1), encoding="utf-8")
    (tmp_path / "own.yaml").write_text(route("tb-mu1"), encoding="utf-8")
    with pytest.raises(FileProblems, match="is not whole on tb-mu1"):
        load_catalogue(tmp_path)


def test_a_shorter_way_back_that_was_never_checked_leads_nowhere():
    texts = {**catalogue().texts, "sequences/own-way.yaml": without("prove-again"), "own.yaml": route("tb-mu1")}
    unit = Unit(plan=make_plan(catalogue_from_texts(texts), "own", "tb-mu1", staffed()))
    due = unit.go(lambda due: due.kind is DueKind.way_back and not due.address)
    assert "no way back: ask the supervisor" in due.words
    assert is_energised(unit.state.evaluation)
    with pytest.raises(Refused, match="way back"):
        unit.record(EntryKind.repair, part="high-b", done="mended", opened=[], fault=None)
