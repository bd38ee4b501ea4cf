"""How fast a chain is checked, against hashing the same bytes and nothing else.

Times are those of this process: what else the machine does meanwhile is no part of the question.
"""

import time
from hashlib import sha256

import pytest

from benchapp.workbook.checks.checking_chains import NAMED, STORED, Named, StoredEntry, check_chain
from benchapp.workbook.checks.checking_citations import Kept
from benchapp.workbook.file.store import Store
from tests.actions.audit.worked import make_worked

pytestmark = pytest.mark.performance
ROUNDS = 200
ASKED = 50_000
"""entries a second, on one core of a machine with nothing else to do"""


def least(work) -> float:
    best = float("inf")
    for _ in range(ROUNDS):
        begun = time.process_time()
        work()
        best = min(best, time.process_time() - begun)
    return best


def test_a_chain_is_checked_at_a_few_times_the_cost_of_its_hashes(tmp_path, capsys):
    store = Store(make_worked(tmp_path / "worked.workbook"), look_only=True)
    with store.looking() as connection:
        chains = [Named(*row) for row in connection.execute(NAMED + " ORDER BY chains.kind = 'unit', chains.id")]
        rows = [[StoredEntry._make(row) for row in connection.execute(STORED, (chain.chain_id,))] for chain in chains]

        def whole() -> None:
            kept = Kept()
            for chain in chains:
                found = map(StoredEntry._make, connection.execute(STORED, (chain.chain_id,)))
                assert not any(check_chain(chain, found, kept))

        count = sum(map(len, rows))
        texts = [row.sealed.encode() for some in rows for row in some]
        size = sum(map(len, texts))
        floor = least(lambda: [sha256(text).hexdigest() for text in texts])
        asked = least(whole)
    store.close()
    with capsys.disabled():
        print(
            f"\n{count} entries of {size / count:.0f} bytes: {count / asked:.0f} a second checked (asked: {ASKED}), "
            f"bare hashes {count / floor:.0f}: {asked / floor:.2f} ×"
        )
    assert asked <= 27.0 * floor  # where a processor hashes 1.35 million such texts a second, this is the figure asked
