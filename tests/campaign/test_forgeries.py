"""Cut tails and entries changed by somebody who can hash: chains made to fit again, with anchors and without.

What nobody can see in the file alone is said by verify itself, and listed here.
"""

import json
import shutil
import sqlite3
from contextlib import closing
from hashlib import sha256
from uuid import uuid4

import pytest

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.errors import BenchError
from tests.campaign.worked import ELSEWHERE
from tests.forging import Forger, canonical, without_guards


def seen(path):
    try:
        return bool(verify_workbook(path))
    except BenchError:
        return True


def answer(forger, mark="TB-001"):
    return forger.answers(mark, "coils.coil")[0]


def of_kind(forger, kind):
    return next(one for chain in forger.chains.values() for one in chain if one["kind"] == kind)


def judged_better(forger):
    answer(forger)["content"]["judgement"] = "conditional pass"


def read_otherwise(forger):
    answer(forger)["content"]["value"] += 0.2


def dearer(forger):
    of_kind(forger, "disposition")["content"]["price"] = "£99"


def by_another(forger):
    answer(forger)["by"] = "ZZ"


def earlier(forger):
    answer(forger)["at"] = "2026-05-04T08:00:00.000Z"


def at_another_bench(forger):
    answer(forger)["bench"] = "00000000-0000-4000-8000-00000000000b"


def under_other_settings(forger):
    of_kind(forger, "settings")["content"]["settings"]["guard_factor"] = 0.0


def proved_after_all(forger):
    opening = of_kind(forger, "opening")
    opening["content"]["meters"][0]["lead_resistance"] = 0.0


def another_lot_title(forger):
    of_kind(forger, "lot")["content"]["title"] = "Gold"


def answered_early(forger):
    entries = forger.of("TB-001")
    entries.insert(1, entries.pop(entries.index(answer(forger))))


def left_out(forger):
    entries = forger.of("TB-001")
    entries.remove(answer(forger))


def tag_of_another_record(forger):
    of_kind(forger, "tags-printed")["content"]["tags"][0]["record"] = "0" * 64


FORGERIES = (
    judged_better,
    read_otherwise,
    dearer,
    by_another,
    earlier,
    at_another_bench,
    under_other_settings,
    proved_after_all,
    another_lot_title,
    answered_early,
    left_out,
    tag_of_another_record,
)


@pytest.mark.parametrize("forge", FORGERIES, ids=lambda forge: forge.__name__)
@pytest.mark.parametrize("anchors", [False, True], ids=["anchors as they were", "anchors made anew"])
def test_a_forgery_is_seen(path, tell, forge, anchors):
    forger = Forger(path)
    forge(forger)
    forger.write(anchors=anchors)
    tell(f"forged: {forge.__name__.replace('_', ' ')}, {'with' if anchors else 'without'} anchors", seen=seen(path))
    assert seen(path)


@pytest.mark.timeout(600)
def test_a_tail_that_was_cut_off_is_seen(path, tmp_path, times, tell):
    tried, unseen = 0, []
    for chain in Forger(path).chains:
        for cut in range(1, 1 + min(times(500), 12)):
            copy = shutil.copy(path, tmp_path / "cut.workbook")
            forger = Forger(copy)
            if len(forger.chains[chain]) <= cut:
                continue
            del forger.chains[chain][-cut:]
            forger.write(anchors=False)
            tried += 1
            if not seen(copy):
                unseen.append((kind_of(path, chain), cut))
    tell("tails cut off", tried=tried, unseen=len(unseen))
    assert unseen == []


def kind_of(path, chain):
    with closing(sqlite3.connect(path)) as connection:
        return connection.execute("SELECT kind FROM chains WHERE uuid = ?", (chain,)).fetchone()[0]


BY_THE_DOOR = ELSEWHERE.uuid


def on_another_computer(monkeypatch, tmp_path):
    monkeypatch.setenv("BENCHAPP_DATA", str(tmp_path / "another"))


def first_bench(forger):
    return next(chain for chain, entries in forger.chains.items() if entries[-1]["bench"] == chain != BY_THE_DOOR)


def said_to_be_imported(forger, at, chains):
    """A bench is made to say that it took in a day file; all its entries are said to come from there."""
    forger.add(at, "imported", {"chains": chains, "file": "e" * 64})


@pytest.mark.parametrize("known", [True, False], ids=["where it was made", "elsewhere"])
@pytest.mark.parametrize("numbers", [[0, 5], [0, 999999], [-5, 5]], ids=str)
@pytest.mark.parametrize("at_the_door", [True, False], ids=["in the other bench", "in the same bench"])
def test_an_invented_import_excuses_no_changed_entry(path, tmp_path, monkeypatch, known, numbers, at_the_door):
    forger = Forger(path)
    first = first_bench(forger)
    chain = BY_THE_DOOR if at_the_door else first
    dearer(forger)
    said_to_be_imported(forger, chain, {first: numbers, BY_THE_DOOR: [0, 4]})
    forger.write(anchors=False)
    forger = Forger(path)
    unit = forger.units["TB-001"]
    last = forger.chains[unit][-1]
    forger.add(chain, "anchor", {"heads": {unit: [last["number"], last["old"]]}, "reason": "workbook closed"})
    forger.write(anchors=False)
    if not known:
        on_another_computer(monkeypatch, tmp_path)
    assert any("TB-001 is not the one that was anchored" in one.words for one in verify_workbook(path))


@pytest.mark.parametrize("known", [True, False], ids=["where it was made", "elsewhere"])
@pytest.mark.parametrize("at_the_door", [True, False], ids=["in the other bench", "in the same bench"])
def test_an_invented_import_excuses_no_end_that_was_cut_off(path, tmp_path, monkeypatch, known, at_the_door):
    forger = Forger(path)
    first = first_bench(forger)
    del forger.of("TB-003")[1:]
    said_to_be_imported(forger, BY_THE_DOOR if at_the_door else first, {first: [0, 5], BY_THE_DOOR: [0, 4]})
    forger.write(anchors=False)
    if not known:
        on_another_computer(monkeypatch, tmp_path)
    assert any("TB-003 is not the one that was anchored" in one.words for one in verify_workbook(path))


@pytest.mark.parametrize("known", [True, False], ids=["where it was made", "elsewhere"])
@pytest.mark.parametrize("excused", [True, False], ids=["with an invented import", "alone"])
def test_a_second_side_of_the_workshops_record_never_takes_the_place_of_the_first(
    path, tmp_path, monkeypatch, known, excused
):
    forger = Forger(path)
    workshop = next(iter(forger.chains))
    if excused:
        said_to_be_imported(forger, BY_THE_DOOR, {workshop: [4, 4]})
        forger.write(anchors=False)
    without_guards(path, lambda connection: put_beside(connection, forger.chains[workshop][4]))
    if not known:
        on_another_computer(monkeypatch, tmp_path)
    found = [one.words for one in verify_workbook(path)]
    assert any(one.startswith("Of the two records of the workshop the one counts that was not here") for one in found)
    brought = "The workshop has two records from entry 4 on, and no import brought one of them."
    assert (brought in found) is not excused


def put_beside(connection, entry):
    """Other settings under the same number, in force."""
    sealed = json.loads(json.dumps({name: value for name, value in entry.items() if name != "old"}))
    sealed["content"]["settings"]["dead_tests_last_days"] = 900
    sealed["uuid"] = str(uuid4())
    link = sha256(canonical(sealed).encode()).hexdigest()
    rows = connection.execute("SELECT * FROM entries WHERE uuid = ?", (entry["uuid"],))
    columns = [column[0] for column in rows.description]
    row = dict(zip(columns, rows.fetchone(), strict=True))
    (row["id"],) = connection.execute("SELECT max(id) + 1 FROM entries").fetchone()
    row |= {"sealed": canonical(sealed), "sha256": link, "uuid": sealed["uuid"]}
    names = ", ".join(f'"{name}"' for name in row)
    connection.execute(f"INSERT INTO entries ({names}) VALUES ({', '.join('?' * len(row))})", list(row.values()))
    connection.execute("UPDATE chains SET forked_at = 4, last_sha256 = ? WHERE uuid = ?", (link, sealed["chain"]))
    settings = (canonical(sealed["content"]["settings"]), link)
    connection.execute("UPDATE workbook SET settings = ?, settings_sha256 = ?", settings)
