"""Texts inside braces that a comma of their own cut in two: "{rated: 9,5 V}" holds the value 9 and a key "5 V"."""

from typing import Any

from benchapp.files.document import Document
from benchapp.files.locations import Complaint, Key


def cut_value(document: Document, key: Key) -> Key | None:
    """The value that the comma before this nameless key cut short; None where the key is a real one."""
    group = _group_at(document, key[:-1])
    names = list(group)
    if key[-1] not in names or group[key[-1]] is not None or not _in_braces(document, key[:-1]):
        return None
    before = [name for name in names[: names.index(key[-1])] if group[name] is not None]
    return (*key[:-1], before[-1]) if before else None


def cut_complaint(document: Document, key: Key, value: Key) -> Complaint:
    """What is wrong at the comma before `key`, which cut `value`."""
    start, end = document.spans[value]
    head, tail = document.text[start:end], str(key[-1])
    expected = "quotes round the whole value"
    if head[-1:].isdigit() and tail[:1].isdigit():
        number = f"{head.split()[-1]}.{tail.split()[0]}"
        expected = f"{number} with a point, or quotes round the whole value"
    return Complaint(
        location=document.key_location(key),
        what=f'inside braces a comma ends a value, so "{tail[:60]}" is no longer part of "{head[:60]}"',
        expected=expected,
    )


def _in_braces(document: Document, key: Key) -> bool:
    start, _ = document.spans[key]
    return document.text[start : start + 1] == "{"


def _group_at(document: Document, key: Key) -> dict[str | int, Any]:
    found = document.data
    for part in key:
        found = found[part]
    return found if isinstance(found, dict) else {}
