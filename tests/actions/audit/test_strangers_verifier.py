"""A stranger's forty lines and ours agree on each chain's first bad number."""

import shutil

import pytest

from benchapp.workbook.checks.checking import check_records
from benchapp.workbook.file.store import Store
from tests.actions.audit.worked import make_worked
from tests.forging import ANOTHER_HASH, Forger, without_guards
from tests.workbook import strangers_verifier
from tests.workbook.strangers_verifier import first_bad_numbers


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    return make_worked(tmp_path_factory.mktemp("made") / "tarnbeck.workbook")


@pytest.fixture
def path(made, tmp_path):
    return shutil.copy(made, tmp_path / "tarnbeck.workbook")


def ours(path):
    """The same as the stranger's: by UUID of the chain, the first number of which something is said."""
    forger = Forger(path)
    store = Store(path, look_only=True)
    try:
        first: dict[str, int] = {}
        for one in check_records(store):
            if one.unit and one.entry is not None:
                chain = forger.units[one.unit]
                first[chain] = min(one.entry, first.get(chain, one.entry))
        return first
    finally:
        store.close()


def of_units(path, found):
    """Of units alone: ours names the other chains in words."""
    return {chain: number for chain, number in found.items() if chain in Forger(path).units.values()}


def test_the_verifier_is_about_forty_lines_of_the_standard_library_alone():
    lines = strangers_verifier.__loader__.get_source(strangers_verifier.__name__).splitlines()
    assert len([line for line in lines if line.strip()]) <= 45
    imports = [line.split()[1] for line in lines if line.startswith(("import", "from"))]
    assert imports == ["json", "sqlite3", "sys", "hashlib"]


def test_an_untouched_file_holds_for_both(path):
    assert first_bad_numbers(path) == ours(path) == {}


ONE = "(SELECT chain_id FROM units WHERE mark = 'TB-001')"
WHERE = "number = {} AND chain_id = (SELECT chain_id FROM units WHERE mark = '{}')"
BY_SQL = {
    "content": "UPDATE entries SET sealed = replace(sealed, 'All good.', 'All bad.') WHERE "
    + WHERE.format(1, "TB-001"),
    "by": 'UPDATE entries SET sealed = replace(sealed, \'"by":"AB"\', \'"by":"XY"\') WHERE '
    + WHERE.format(3, "TB-002"),
    "hash": f"UPDATE entries SET {ANOTHER_HASH} WHERE " + WHERE.format(2, "TB-001"),
    "deleted": "DELETE FROM entries WHERE " + WHERE.format(4, "TB-001"),
    "deleted beginning": "DELETE FROM entries WHERE " + WHERE.format(0, "TB-003"),
    "moved": "UPDATE entries SET number = number + 100 WHERE " + WHERE.format(5, "TB-001"),
    "cut tail": f"DELETE FROM entries WHERE number > 3 AND chain_id = {ONE}",
    "to another chain": "UPDATE entries SET chain_id = (SELECT chain_id FROM units WHERE mark = 'TB-003'), number = 9 "
    "WHERE " + WHERE.format(6, "TB-001"),
    "swapped": "UPDATE entries SET number = CASE number WHEN 2 THEN 3 ELSE 2 END WHERE number IN (2, 3) AND chain_id = "
    "(SELECT chain_id FROM units WHERE mark = 'TB-001')",
    "head": "UPDATE chains SET last_sha256 = 'x' WHERE id = (SELECT chain_id FROM units WHERE mark = 'TB-002')",
}


@pytest.mark.parametrize("what", BY_SQL)
def test_what_is_changed_by_sql_is_bad_from_the_same_number_on(path, what):
    without_guards(path, lambda connection: connection.execute(BY_SQL[what]))
    theirs = of_units(path, first_bad_numbers(path))
    assert theirs == ours(path)
    assert theirs


def changed_content(forger):
    forger.answers("TB-001", "look-over.outside")[0]["content"]["judgement"] = "fail"


def changed_by(forger):
    forger.of("TB-002")[2]["by"] = "XY"


def deleted(forger):
    del forger.of("TB-001")[3]


def inserted(forger):
    entries = forger.of("TB-003")
    entries.insert(1, entries[1] | {"uuid": "made up", "old": "of nobody"})


def swapped(forger):
    entries = forger.of("TB-001")
    entries[2], entries[3] = entries[3], entries[2]


def cut_tail(forger):
    del forger.of("TB-001")[-3:]


@pytest.mark.parametrize("forge", [changed_content, changed_by, deleted, inserted, swapped, cut_tail])
def test_a_chain_sealed_again_under_anchors_left_as_they_were_is_bad_from_the_same_number_on(path, forge):
    forger = Forger(path)
    forge(forger)
    forger.write(anchors=False)
    theirs = of_units(path, first_bad_numbers(path))
    assert theirs == ours(path)
    assert theirs


@pytest.mark.parametrize("forge", [changed_content, changed_by, deleted, inserted, swapped, cut_tail])
def test_where_anchors_are_sealed_again_too_both_are_silent_of_the_chains(path, forge):
    """Then only the gate, the judgements and heads outside of the file tell: `verify` asks those as well."""
    forger = Forger(path)
    forge(forger)
    forger.write()
    assert of_units(path, first_bad_numbers(path)) == ours(path) == {}
