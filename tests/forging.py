"""Changing a workbook as somebody would who knows SQL, the format and how to hash: nothing of benchapp is imported.

`Forger` opens the file behind its guards, lets any entry be changed, taken out or put in, and then makes chains,
columns, citations and (if asked) anchors agree with it again.
"""

import json
import sqlite3
import sys
from contextlib import closing
from hashlib import sha256
from pathlib import Path


def canonical(value):
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False)


def without_guards(path: Path, change):
    """Call `change` on a connection on which the guards are off; they are put back after."""
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        guards = connection.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
        for name, _ in guards:
            connection.execute(f"DROP TRIGGER {name}")
        try:
            return change(connection)
        finally:
            for _, sql in guards:
                connection.execute(sql)


class Forger:
    """The entries of a workbook as plain objects, by chain (UUID) and number."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.chains: dict[str, list[dict]] = {}
        with closing(sqlite3.connect(path)) as connection:
            rows = connection.execute("SELECT sealed, sha256 FROM entries ORDER BY chain_id, number")
            for sealed, link in rows:
                said = json.loads(sealed)
                self.chains.setdefault(said["chain"], []).append(said | {"old": link})
            marks = "SELECT units.mark, chains.uuid FROM units JOIN chains ON chains.id = units.chain_id"
            self.units = dict(connection.execute(marks))

    def of(self, mark: str) -> list[dict]:
        """The entries of a unit; number 0 is its beginning."""
        return self.chains[self.units[mark]]

    def answers(self, mark: str, address: str) -> list[dict]:
        """A unit's answers at a step."""
        return [one for one in self.of(mark) if (one["address"], one["kind"]) == (address, "answer")]

    def write(self, *, anchors: bool = True) -> None:
        """Put everything back into the file, sealed anew; without `anchors` these stay as they were."""
        before = sys.getrecursionlimit()
        sys.setrecursionlimit(100_000)
        try:
            self._seal(anchors=anchors)
        finally:
            sys.setrecursionlimit(before)  # what reads hostile files rests on it

    def _seal(self, *, anchors: bool) -> None:
        new: dict[str, str] = {}
        places = {one["old"]: (chain, at) for chain, all_ in self.chains.items() for at, one in enumerate(all_)}

        def link(chain: str, at: int) -> str:
            one = self.chains[chain][at]
            key = f"{chain} {at}"
            if key not in new:
                one["previous"] = link(chain, at - 1) if at else ""
                one["number"] = at
                for cited in one["cites"]:
                    cited["sha256"] = again(cited["sha256"])
                _say_again(one, again, follow if anchors else None)
                sealed = {name: value for name, value in one.items() if name != "old"}
                new[key] = sha256(canonical(sealed).encode()).hexdigest()
            return new[key]

        def again(old: str) -> str:
            return link(*places[old]) if old in places else old

        def follow(uuid: str, old: str) -> list:
            if old in places:
                return [places[old][1], again(old)]
            last = len(self.chains[uuid]) - 1
            return [last, link(uuid, last)]

        for chain, entries in self.chains.items():
            for at in range(len(entries)):
                link(chain, at)
        without_guards(self.path, lambda connection: self._store(connection, new))

    def _store(self, connection: sqlite3.Connection, new: dict[str, str]) -> None:
        connection.execute("BEGIN")
        columns = [row[1] for row in connection.execute("PRAGMA table_info(entries)")]
        ids = dict(connection.execute("SELECT uuid, id FROM entries"))
        for chain, entries in self.chains.items():
            (chain_id,) = connection.execute("SELECT id FROM chains WHERE uuid = ?", (chain,)).fetchone()
            connection.execute("DELETE FROM entries WHERE chain_id = ?", (chain_id,))
            for at, one in enumerate(entries):
                sealed = {name: value for name, value in one.items() if name != "old"}
                row = _row(columns, sealed) | {"chain_id": chain_id, "sha256": new[f"{chain} {at}"]}
                _insert(connection, row | ({"id": ids[one["uuid"]]} if one["uuid"] in ids else {}))
                if one["kind"] == "tags-printed":
                    _print_again(connection, ids.get(one["uuid"]), one["content"]["tags"])
            last = len(entries) - 1
            moved = (last, entries[-1]["at"], new[f"{chain} {last}"], chain_id)
            connection.execute("UPDATE chains SET last_entry = ?, last_at = ?, last_sha256 = ? WHERE id = ?", moved)
            connection.execute("UPDATE chains SET anchored = min(anchored, last_entry) WHERE id = ?", (chain_id,))
        self._store_places(connection)
        connection.execute("COMMIT")

    def _store_places(self, connection: sqlite3.Connection) -> None:
        """The hashes that stand beside the entries: the newest settings, the bench's last day."""
        settings = "(SELECT sha256 FROM entries JOIN chains ON chains.id = chain_id WHERE chains.uuid = workbook.uuid"
        connection.execute(f"UPDATE workbook SET settings_sha256 = {settings} AND number = settings_entry)")
        day = "SELECT sha256 FROM entries WHERE entries.chain_id = benches.chain_id AND number = day"
        connection.execute(f"UPDATE benches SET day_sha256 = ({day}) WHERE day IS NOT NULL")


def _say_again(one, again, follow):
    """The hashes that the content of an entry names, as they are now; `follow` is left out where anchors stay."""
    for tag in one["content"]["tags"] if one["kind"] == "tags-printed" else ():
        tag["record"] = again(tag["record"])
    if one["kind"] == "anchor" and follow:
        heads = one["content"]["heads"]
        one["content"]["heads"] = {uuid: follow(uuid, old) for uuid, (_, old) in heads.items()}


def _insert(connection, row):
    names = ", ".join(f'"{name}"' for name in row)
    values = ", ".join("?" * len(row))
    connection.execute(f"INSERT INTO entries ({names}) VALUES ({values})", list(row.values()))


def _print_again(connection, entry_id, tags):
    """What the log of tags says of the record that each was printed from."""
    unit = "(SELECT id FROM chains WHERE uuid = ?)"
    statement = f"UPDATE tags_printed SET record_hash = ? WHERE entry_id = ? AND unit_id = {unit}"
    connection.executemany(statement, [(tag["record"], entry_id, tag["unit"]) for tag in tags])


def _row(columns, sealed):
    content = sealed["content"]
    answers = sealed["kind"] == "answer"
    row = {}
    for name in columns:
        if name in ("id", "chain_id", "sha256"):
            continue
        if name == "sealed":
            row[name] = canonical(sealed)
        elif name == "states_facts":
            row[name] = "facts" in content
        elif name == "flickers":
            row[name] = answers and content.get("flickers") is True
        elif name == "withdraws":
            row[name] = content.get("number") if sealed["kind"] == "withdrawal" else None
        elif name in sealed:
            row[name] = sealed[name]
        else:
            row[name] = content.get(name) if answers else None
    return row
