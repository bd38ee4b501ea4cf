"""Hashes over what was recorded: the text of an entry to the byte, and the chain that each text hangs in.

SHA-256 (FIPS 180-4) of UTF-8 text. An entry's text is JSON (RFC 8259) of one spelling: keys in the order of their code
points, no spaces, no escapes but those that JSON asks for (the quote, the backslash, what lies below U+0020), numbers
in the shortest decimal form that reads back as the same double, whole numbers without a point where they were so given.
The text is stored as it was hashed: whoever checks it hashes what is stored and need not spell anything again.
"""

import json
from collections.abc import Iterable, Mapping
from hashlib import sha256
from json.encoder import encode_basestring as _quote
from typing import Any

from benchapp.sequences.planning.contents import content_json, read_content
from benchapp.sequences.planning.entries import Citation, Entry, EntryKind

BEFORE_ALL = ""
"""what stands for the entry before a chain's beginning"""


def canonical(value: Any) -> str:  # noqa: ANN401 (any JSON value)
    """One text for one value; raises ValueError for NaN and infinities, which JSON has not."""
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)


def digest(text: str) -> str:
    """SHA-256 of a text, in lower-case hexadecimal digits."""
    return sha256(text.encode("utf-8")).hexdigest()


def sealed_text(entry: Entry, previous: str) -> str:
    """The entry with the hash of the one before it: the text that is hashed and stored."""
    head = head_text(entry.address, entry.at, entry.bench, entry.by, entry.chain)
    tail = tail_text(entry.kind, entry.number, previous, entry.rules, entry.run, entry.uuid)
    return f'{head}{cites_text(entry.cites)},"content":{canonical(content_json(entry.content))}{tail}'


def head_text(address: str, at: str, bench: str, by: str, chain: str) -> str:
    """The text of an entry up to what it cites."""
    return (
        f'{{"address":{_quote(address)},"at":{_quote(at)},"bench":{_quote(bench)},'
        f'"by":{_quote(by)},"chain":{_quote(chain)},"cites":'
    )


def tail_text(kind: str, number: int, previous: str, rules: str, run: str, uuid: str) -> str:
    """The text of an entry behind its content."""
    return (
        f',"kind":{_quote(kind)},"number":{number},"previous":"{previous}",'
        f'"rules":{_quote(rules)},"run":{_quote(run)},"uuid":{_quote(uuid)}}}'
    )


def cites_text(cites: Iterable[Citation]) -> str:
    """What an entry cites, as its text says it."""
    each = (f'{{"chain":"{one.chain}","number":{one.number},"sha256":"{one.sha256}"}}' for one in cites)
    return f"[{','.join(each)}]"


def read_sealed(text: str, link: str) -> Entry:
    """The entry that a stored text says, with its hash; raises ValueError, KeyError or TypeError where it says none."""
    try:
        return _entry_of(json.loads(text), link)
    except RecursionError as error:
        raise ValueError("its text is nested deeper than any that is recorded") from error


def _entry_of(said: Mapping[str, Any], link: str) -> Entry:
    kind = EntryKind(said["kind"])
    return Entry(
        number=said["number"],
        uuid=said["uuid"],
        kind=kind,
        at=said["at"],
        by=said["by"],
        address=said["address"],
        content=read_content(kind, said["content"]),
        chain=said["chain"],
        bench=said["bench"],
        run=said["run"],
        cites=tuple(Citation(**one) for one in said["cites"]),
        rules=said["rules"],
        sha256=link,
    )
