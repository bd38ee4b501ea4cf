"""The day file: part of a record as one text file, sealed, to be brought into another workbook.

UTF-8, lines that end in a line feed, each a JSON object in the one spelling of `sealing.py`. In this order:

| line | keys |
| --- | --- |
| the first | bench (UUID of the bench that wrote it), day_file (the format: 1), workbook (UUID of its workshop) |
| a pinned text, by its SHA-256 | text |
| a photo, by its SHA-256 | image (base64, RFC 4648), media_type |
| an entry, by kind of chain (workshop, bench, unit), chain, number, SHA-256 | those of its sealed text, as stored |
| the last | heads (chain -> number and SHA-256 of its last entry, as of every chain in the file), sha256 |

`sha256` in the last line is that of all bytes before that line. A chain is whole, from its beginning on.
"""

import json
from base64 import b64decode, b64encode
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from hashlib import sha256
from typing import Any, NamedTuple

from benchapp.sequences.planning.entries import Entry, EntryKind
from benchapp.words import say
from benchapp.workbook.model.problems import WorkbookProblem
from benchapp.workbook.record.chains import BENCH, UNIT, WORKSHOP
from benchapp.workbook.record.made_rows import kind_of_chain
from benchapp.workbook.record.sealing import BEFORE_ALL, canonical, digest, read_sealed, sealed_text

FORMAT = 1
MOST_BYTES = 1 << 30
"""a longer file is not read (own choice)"""
KINDS = (WORKSHOP, BENCH, UNIT)
_TEXTS = ("address", "at", "bench", "by", "chain", "previous", "rules", "run", "uuid")
_ENTRY = {*_TEXTS, "cites", "content", "kind", "number"}


class DayFileProblem(WorkbookProblem):
    """A day file does not hold; nothing of it was taken over."""

    def __init__(self, name: str, why: str) -> None:
        super().__init__(
            say(
                "{name} is no sound day file ({why}): nothing of it was taken over. Copy it again from "
                "the bench that wrote it, or export it anew there.",
                name=name,
                why=why,
            )
        )


class Link(NamedTuple):
    """An entry as it is stored, with what its text says; `previous` is the hash it hangs on."""

    entry: Entry
    previous: str
    sealed: str


Chain = dict[int, dict[str, Link]]
"""a chain's entries by number and hash: more than one at a number where it is forked"""


@dataclass(frozen=True, slots=True, kw_only=True)
class DayFile:
    """What a day file holds. Texts and photos (media type, bytes) by their SHA-256, chains by UUID."""

    bench: str
    workbook: str
    texts: Mapping[str, str] = field(default_factory=dict)
    photos: Mapping[str, tuple[str, bytes]] = field(default_factory=dict)
    chains: Mapping[str, Chain] = field(default_factory=dict)
    sha256: str = ""
    """of the whole file, once it was read"""


def write_day_file(file: DayFile) -> bytes:
    """The file's bytes: the same for the same content."""
    lines = [canonical({"bench": file.bench, "day_file": FORMAT, "workbook": file.workbook})]
    lines += [canonical({"text": file.texts[link]}) for link in sorted(file.texts)]
    for link in sorted(file.photos):
        media_type, image = file.photos[link]
        lines.append(canonical({"image": b64encode(image).decode("ascii"), "media_type": media_type}))
    for chain in sorted(file.chains.values(), key=_place):
        lines += [chain[number][link].sealed for number in sorted(chain) for link in sorted(chain[number])]
    before = "".join(f"{line}\n" for line in lines).encode("utf-8")
    seal = {"heads": _heads(file.chains), "sha256": sha256(before).hexdigest()}
    return before + f"{canonical(seal)}\n".encode()


def read_day_file(content: bytes, name: str) -> DayFile:
    """The file from its bytes, every hash and chain checked; raises DayFileProblem for one that does not hold."""
    try:
        return _read(content)
    except _Unsound as error:
        raise DayFileProblem(name, str(error)) from error
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError, OverflowError) as error:
        raise DayFileProblem(name, "it says what no entry says") from error


class _Unsound(ValueError):
    """What is wrong, in a few words."""


def _read(content: bytes) -> DayFile:
    if len(content) > MOST_BYTES:
        raise _Unsound("it is larger than any day's record")
    if not content.startswith(b'{"bench":"'):
        raise _Unsound("it does not begin as one")
    end = content.rfind(b"\n", 0, len(content) - 1) + 1
    if not content.endswith(b"\n") or not end:
        raise _Unsound("its end is missing")
    first, *lines = _objects(content[:end])
    ((_, seal),) = _objects(content[end:])
    if set(seal) != {"heads", "sha256"}:
        raise _Unsound("its end is missing")
    if seal["sha256"] != sha256(content[:end]).hexdigest():
        raise _Unsound("its seal does not fit")
    _check_format(first[1])
    texts, photos, chains = _sort_out(lines)
    for uuid, chain in chains.items():
        _check_chain(uuid, chain)
    if seal["heads"] != _heads(chains):
        raise _Unsound("its anchor names other entries than it holds")
    link = sha256(content).hexdigest()
    head = first[1]
    return DayFile(
        bench=head["bench"], workbook=head["workbook"], texts=texts, photos=photos, chains=chains, sha256=link
    )


def _objects(content: bytes) -> Iterator[tuple[str, dict[str, Any]]]:
    """Each line with the object that it is, in the one spelling: no key twice, no number that JSON has not."""
    for number, line in enumerate(content.decode("utf-8").split("\n")[:-1], 1):
        said = json.loads(line)
        if not isinstance(said, dict) or canonical(said) != line:
            raise _Unsound(f"line {number} is not spelled as one is written")
        yield line, said


def _check_format(said: dict[str, Any]) -> None:
    if set(said) != {"bench", "day_file", "workbook"} or type(said["day_file"]) is not int:
        raise _Unsound("it does not begin as one")
    if said["day_file"] > FORMAT:
        raise _Unsound("a newer version of this program wrote it; update this one")
    if not isinstance(said["bench"], str) or not isinstance(said["workbook"], str):
        raise _Unsound("it does not begin as one")


def _sort_out(
    lines: list[tuple[str, dict[str, Any]]],
) -> tuple[dict[str, str], dict[str, tuple[str, bytes]], dict[str, Chain]]:
    texts: dict[str, str] = {}
    photos: dict[str, tuple[str, bytes]] = {}
    chains: dict[str, Chain] = {}
    for line, said in lines:
        if set(said) == _ENTRY:
            link = read_link(line, said)
            chains.setdefault(link.entry.chain, {}).setdefault(link.entry.number, {})[link.entry.sha256] = link
        elif set(said) == {"text"} and isinstance(said["text"], str):
            texts[digest(said["text"])] = said["text"]
        elif set(said) == {"image", "media_type"} and isinstance(said["media_type"], str):
            image = b64decode(said["image"], validate=True)
            photos[sha256(image).hexdigest()] = (said["media_type"], image)
        else:
            raise _Unsound("a line of it is neither text, photo nor entry")
    return texts, photos, chains


def read_link(line: str, said: Mapping[str, Any]) -> Link:
    """An entry's stored text, of which the keys are known to be those of an entry."""
    number = said["number"]
    if not all(isinstance(said[name], str) for name in _TEXTS) or type(number) is not int or not 0 <= number < 1 << 53:
        raise _Unsound("an entry of it has a word where a number should be, or the like")
    if not isinstance(said["content"], dict) or not isinstance(said["cites"], list):
        raise _Unsound("an entry of it has no content")
    if any(set(one) != {"chain", "number", "sha256"} or type(one["number"]) is not int for one in said["cites"]):
        raise _Unsound("an entry of it cites nothing that can be found")
    if said["kind"] not in set(EntryKind):
        raise _Unsound(f"it holds an entry of a kind {said['kind']!r}, which this version does not know")
    link = Link(read_sealed(line, digest(line)), said["previous"], line)
    if sealed_text(link.entry, link.previous) != line:
        raise _Unsound("an entry of it is not in the form in which one is recorded")
    return link


def _check_chain(uuid: str, chain: Chain) -> None:
    """A chain is whole, each entry hangs on one before it, and the kinds are those of its kind of chain."""
    if sorted(chain) != list(range(len(chain))):
        raise _Unsound("entries are missing in it")
    before = {BEFORE_ALL}
    for number in range(len(chain)):
        for link in chain[number].values():
            if (
                link.entry.chain != uuid
                or link.previous not in before
                or (link.entry.kind is EntryKind.beginning) != (number == 0)
            ):
                raise _Unsound(f"entry {number} of a chain in it does not hang on the one before it")
        before = set(chain[number])
    kinds = {kind_of_chain(begun.entry) for begun in chain[0].values()}
    if kinds != {BENCH} and [begun.entry.uuid for begun in chain[0].values()] != [uuid]:
        raise _Unsound("a chain in it begins twice")


def kind_of(chain: Chain) -> str:
    """workshop, bench or unit"""
    return kind_of_chain(next(iter(chain[0].values())).entry)


def _place(chain: Chain) -> tuple[int, str]:
    return KINDS.index(kind_of(chain)), next(iter(chain[0].values())).entry.chain


def _heads(chains: Mapping[str, Chain]) -> dict[str, list[Any]]:
    return {uuid: [max(chain), min(chain[max(chain)])] for uuid, chain in chains.items()}
