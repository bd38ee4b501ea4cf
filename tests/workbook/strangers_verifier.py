"""A verifier as somebody writes it who has the file and DEVELOPERS.md alone. Standard library; nothing of benchapp."""

import json
import sqlite3
import sys
from hashlib import sha256


def came(notes, chain, at):
    """Whether an entry came by a day file, as a note says that did not: its anchors are of another file."""
    says = [n for n in notes if n[0] != chain and n[2].get(chain, [1, 0])[0] <= at <= n[2].get(chain, [1, 0])[1]]
    return any(not came(notes, *one[:2]) for one in says)


def first_bad_numbers(path):
    """By UUID of a chain: the first number of it that does not hold; chains that hold are left out."""
    file = sqlite3.connect(f"file:{path}?mode=ro&immutable=1", uri=True)
    chains = file.execute("SELECT id, uuid, last_entry, last_sha256, forked_at FROM chains").fetchall()
    found, bad, cites, anchors, notes = {}, {}, [], [], []
    for chain_id, uuid, last, last_link, forked_at in chains:
        rows = file.execute("SELECT number, sealed, sha256 FROM entries WHERE chain_id = ? ORDER BY 1, 3", (chain_id,))
        expected, before, links = -1, [], [""]
        for number, sealed, link in rows:
            if number != expected:
                expected, before, links = expected + 1, links, []
            said = json.loads(sealed) if sha256(sealed.encode()).hexdigest() == link else {}
            place = (said.get("chain"), said.get("number"), said.get("previous") in before)
            if number != expected or place != (uuid, number, True):
                bad[uuid] = expected
                break
            links.append(link)
            found[uuid, number, link] = said
            cites += [(uuid, number, tuple(one.values())) for one in said["cites"]]
            heads = said["content"]["heads"] if said["kind"] == "anchor" else {}
            anchors += [(uuid, number, u, *head) for u, head in heads.items()]
            notes += [(uuid, number, said["content"]["chains"])] if said["kind"] == "imported" else []
        else:
            if forked_at is None and (expected != last or last_link not in links):
                bad[uuid] = min(expected + 1, last) if expected != last else last
    broken, places = set(bad), {one[:2] for one in found}
    for uuid, number, cited in cites:
        if uuid not in broken and cited[0] not in broken and cited not in found:
            bad[uuid] = min(number, bad.get(uuid, number))
    for bench, at, uuid, n, link in anchors:
        if uuid not in broken and (uuid, n, link) not in found and ((uuid, n) in places or not came(notes, bench, at)):
            bad[uuid] = min(n, bad.get(uuid, n))
    return bad


if __name__ == "__main__":
    for chain, number in first_bad_numbers(sys.argv[1]).items():
        print(f"chain {chain} does not hold from entry {number} on")
