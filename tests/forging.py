"""Changing a workbook as somebody would who knows SQL, the format and how to hash: nothing of benchapp is imported.

`Forger` opens the file behind its guards, lets any entry be changed, taken out or put in, and then makes chains,
columns, citations, the tables made from the entries and (if asked) anchors agree with it again.
"""

import json
import sqlite3
import sys
from contextlib import closing
from hashlib import sha256
from pathlib import Path
from uuid import uuid4

ANOTHER_HASH = "sha256 = CASE substr(sha256, 1, 1) WHEN '0' THEN '1' ELSE '0' END || substr(sha256, 2)"
"""a change by SQL that differs in the first digit whatever the hash: not every hash holds a digit that was chosen"""


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

    def add(self, chain: str, kind: str, content: dict) -> dict:
        """One more entry at the end of a bench's or the workshop's chain, made when the one before was."""
        new = self.chains[chain][-1] | {"kind": kind, "content": content, "by": "", "cites": [], "uuid": str(uuid4())}
        self.chains[chain].append(new | {"old": f"new {new['uuid']}"})
        return self.chains[chain][-1]

    def write(self, *, anchors: bool = True) -> None:
        """Put everything back into the file, sealed anew; without `anchors` these stay as they were."""
        new = Sealing(self.chains, anchors=anchors).links()
        without_guards(self.path, lambda connection: self._store(connection, new))

    def _store(self, connection: sqlite3.Connection, new: dict[str, str]) -> None:
        connection.execute("BEGIN")
        columns = [row[1] for row in connection.execute("PRAGMA table_info(entries)")]
        ids = dict(connection.execute("SELECT uuid, id FROM entries"))
        added = (one["uuid"] for entries in self.chains.values() for one in entries if one["uuid"] not in ids)
        ids |= {uuid: row for row, uuid in enumerate(added, max(ids.values()) + 1)}
        connection.execute("DELETE FROM entries")
        chain_ids = dict(connection.execute("SELECT uuid, id FROM chains"))
        for chain, entries in self.chains.items():
            for at, one in enumerate(entries):
                sealed = {name: value for name, value in one.items() if name != "old"}
                row = _row(columns, sealed) | {"chain_id": chain_ids[chain], "sha256": new[f"{chain} {at}"]}
                _insert(connection, "entries", row | {"id": ids[one["uuid"]]})
            last = len(entries) - 1
            moved = (last, entries[-1]["at"], new[f"{chain} {last}"], chain)
            connection.execute(
                "UPDATE chains SET last_entry = ?, last_at = ?, last_sha256 = ?, anchored = -1 WHERE uuid = ?", moved
            )
        for chain, entries in self.chains.items():
            for at, one in enumerate(entries):
                made = _MADE.get(one["kind"])
                if made:
                    made(connection, one, new[f"{chain} {at}"])
        connection.execute("COMMIT")


class Sealing:
    """The hashes that the entries have once they are sealed anew, each after those that it rests on."""

    def __init__(self, chains: dict[str, list[dict]], *, anchors: bool) -> None:
        self._chains = chains
        self._anchors = anchors
        self._places = {one["old"]: (chain, at) for chain, all_ in chains.items() for at, one in enumerate(all_)}
        self._links: dict[str, str] = {}

    def links(self) -> dict[str, str]:
        """By chain and number."""
        before = sys.getrecursionlimit()
        sys.setrecursionlimit(100_000)
        try:
            for chain, entries in self._chains.items():
                for at in range(len(entries)):
                    self._link(chain, at)
        finally:
            sys.setrecursionlimit(before)  # what reads hostile files rests on it
        return self._links

    def _link(self, chain: str, at: int) -> str:
        key = f"{chain} {at}"
        if key not in self._links:
            one = self._chains[chain][at]
            one["previous"] = self._link(chain, at - 1) if at else ""
            one["number"] = at
            for cited in one["cites"]:
                cited["sha256"] = self._again(cited["sha256"])
            self._follow(one)
            sealed = {name: value for name, value in one.items() if name != "old"}
            self._links[key] = sha256(canonical(sealed).encode()).hexdigest()
        return self._links[key]

    def _follow(self, one: dict) -> None:
        """What a content says of other entries."""
        content = one["content"]
        if one["kind"] == "tags-printed":
            for tag in content["tags"]:
                tag["record"] = self._start_again(tag["record"])
        elif one["kind"] == "anchor" and self._anchors:
            content["heads"] = {uuid: self._head(uuid, old) for uuid, (_, old) in content["heads"].items()}

    def _again(self, old: str) -> str:
        return self._link(*self._places[old]) if old in self._places else old

    def _start_again(self, start: str) -> str:
        """The same for the start of a hash, as it is printed."""
        whole = next((old for old in self._places if start and old.startswith(start)), start)
        return self._again(whole)[: len(start)]

    def _head(self, uuid: str, old: str) -> list:
        """The entry that was anchored, or the chain's last where it was taken out."""
        if old in self._places:
            return [self._places[old][1], self._again(old)]
        last = len(self._chains[uuid]) - 1
        return [last, self._link(uuid, last)]


def _insert(connection, table, row):
    names = ", ".join(f'"{name}"' for name in row)
    connection.execute(f"INSERT INTO {table} ({names}) VALUES ({', '.join('?' * len(row))})", list(row.values()))


def _settle(connection, one, link):
    row = (canonical(one["content"]["settings"]), one["number"], link, one["chain"])
    words = "settings = ?, settings_entry = ?, settings_sha256 = ?"
    connection.execute(f"UPDATE workbook SET {words} WHERE uuid = ?", row)


def _day(connection, one, link):
    bench = "(SELECT id FROM chains WHERE uuid = ?)"
    row = (one["number"], link, one["chain"])
    connection.execute(f"UPDATE benches SET day = ?, day_sha256 = ? WHERE chain_id = {bench}", row)


def _lot(connection, one, _link):
    content = one["content"]
    names = ("equipment", "route", "title", "note")
    words = ", ".join(f"{name} = ?" for name in names)
    row = [*(content.get(name, "") for name in names), one["at"], one["by"], content["lot"]]
    connection.execute(f'UPDATE lots SET {words}, taken_in = ?, "by" = ? WHERE uuid = ?', row)


def _dispose(connection, one, _link):
    content = one["content"]
    row = (content["disposition"], content.get("grade", ""), content.get("price", ""), one["chain"])
    unit = "(SELECT id FROM chains WHERE uuid = ?)"
    connection.execute(f"UPDATE units SET disposition = ?, grade = ?, price = ? WHERE chain_id = {unit}", row)


def _tags(connection, one, _link):
    for tag in one["content"]["tags"]:
        row = (one["at"], one["by"], tag["disposition"], tag["record"], one["uuid"], tag["unit"])
        which = (
            "entry_id = (SELECT id FROM entries WHERE uuid = ?) AND unit_id = (SELECT id FROM chains WHERE uuid = ?)"
        )
        connection.execute(
            f'UPDATE tags_printed SET at = ?, "by" = ?, disposition = ?, record_hash = ? WHERE {which}', row
        )


def _anchor(connection, one, _link):
    for uuid, (number, _) in one["content"]["heads"].items():
        connection.execute("UPDATE chains SET anchored = max(anchored, ?) WHERE uuid = ?", (number, uuid))


def _run(connection, one, _link):
    cited = one["cites"][0]["sha256"]
    found = connection.execute("SELECT sealed FROM entries WHERE sha256 = ?", (cited,)).fetchone()
    if found:
        settings = canonical(json.loads(found[0])["content"]["settings"])
        connection.execute("UPDATE runs SET settings = ? WHERE uuid = ?", (settings, one["run"]))


def _begin(connection, one, link):
    if one["run"]:
        _run(connection, one, link)


_MADE = {
    "settings": _settle,
    "opening": _day,
    "closing": _day,
    "lot": _lot,
    "disposition": _dispose,
    "tags-printed": _tags,
    "anchor": _anchor,
    "beginning": _begin,
    "run": _run,
}


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
