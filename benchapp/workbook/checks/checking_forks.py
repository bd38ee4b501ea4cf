"""Whether an import explains that the own workshop has two records, and the one goes on that was here before."""

import sqlite3
from collections.abc import Iterator, Sequence

from benchapp.words import say
from benchapp.workbook.checks.checking_chains import Named
from benchapp.workbook.checks.checking_citations import Kept
from benchapp.workbook.model.values import Difference
from benchapp.workbook.record.imports import Imports
from benchapp.workbook.record.standing import Standing


def own_fork_differs(connection: sqlite3.Connection, kept: Kept, chains: Sequence[Named]) -> Iterator[Difference]:
    """What is wrong with a fork of the own workshop's chain."""
    (own,) = connection.execute("SELECT uuid FROM workbook").fetchone()
    fork = next((chain.forked_at for chain in chains if chain.uuid == own and own not in kept.broken), None)
    if fork is None:
        return
    imports, standing = Imports(connection), Standing(connection)
    if not imports.brought(own, fork):
        words = say("The workshop has two records from entry {fork} on, and no import brought one of them.", fork=fork)
        yield Difference(unit="", entry=fork, words=words)
    for anchor in kept.anchors:
        number, link = anchor.content.heads.get(own, (-1, ""))
        if number < fork or standing.stands(own, number, link):
            continue
        place = (anchor.chain, anchor.number)
        made_here = standing.stands(*place, anchor.sha256) and not imports.came(*place)
        if made_here and not imports.brought(own, number, before=place):
            words = say("Of the two records of the workshop the one counts that was not here at {at}.", at=anchor.at)
            yield Difference(unit="", entry=number, words=words)
            return
