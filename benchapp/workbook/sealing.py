"""Hashes over what was recorded: canonical JSON, a chain per unit, pins of a run, anchors over the whole workbook.

SHA-256 (FIPS 180-4) of UTF-8 text. Canonical JSON here: keys sorted, no spaces, no escapes beyond those JSON needs,
floats in Python's shortest form that reads back the same.
"""

import json
from collections.abc import Mapping
from hashlib import sha256
from typing import Any


def canonical(value: Any) -> str:  # noqa: ANN401 (any JSON value)
    """One text for one value; raises ValueError for NaN and infinities, which JSON has not."""
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)


def digest(text: str) -> str:
    """SHA-256 of a text, in lower-case hexadecimal digits."""
    return sha256(text.encode("utf-8")).hexdigest()


def seal_unit(*, workbook: str, lot: str, mark: str, taken_in: str) -> str:
    """What a unit's chain starts from."""
    return digest(canonical({"workbook": workbook, "lot": lot, "mark": mark, "taken in": taken_in}))


def seal_run(*, uuid: str, route: str, equipment: str, workshop: str, texts: Mapping[str, str]) -> str:
    """What a run pinned: the SHA-256 of each text by file name, and the settings."""
    pinned = {"uuid": uuid, "route": route, "equipment": equipment, "workshop": workshop, "texts": dict(texts)}
    return digest(canonical(pinned))


def seal_entry(
    *,
    previous: str,
    run: str,
    unit: str,
    number: int,
    uuid: str,
    kind: str,
    at: str,
    by: str,
    address: str,
    content: str,
) -> str:
    """The entry's link of its unit's chain; `previous` is the link before, `run` the run's seal.

    `content` is canonical already and the keys stand in sorted order, so the whole is canonical JSON.
    """
    quote = json.dumps
    return digest(
        f'{{"address":{quote(address, ensure_ascii=False)},"at":{quote(at, ensure_ascii=False)},'
        f'"by":{quote(by, ensure_ascii=False)},"content":{content},"kind":{quote(kind, ensure_ascii=False)},'
        f'"number":{number},"previous":"{previous}","run":"{run}",'
        f'"unit":{quote(unit, ensure_ascii=False)},"uuid":{quote(uuid, ensure_ascii=False)}}}'
    )


def seal_heads(heads: Mapping[str, str]) -> str:
    """All units' latest links in one hash, by shelf mark."""
    return digest(canonical(dict(heads)))


def seal_anchor(*, previous: str, at: str, reason: str, entries: int, heads: str) -> str:
    """An anchor's link to the anchor before it; `entries` is the highest entry id that it covers."""
    link = {"previous": previous, "at": at, "reason": reason, "entries": entries, "heads": heads}
    return digest(canonical(link))
