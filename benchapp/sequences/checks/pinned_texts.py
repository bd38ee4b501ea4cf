"""The texts that a run pinned, held against what this program ships: a workbook may have come from a stranger.

A pinned text of an earlier release may be milder than today's: that is told, and no more, where a record is judged
again. New work on looser texts is shut until a new run pins those of today.
"""

from collections.abc import Iterator, Mapping
from functools import cache
from hashlib import sha256

from benchapp.files.beside import files_by_id
from benchapp.files.locations import Complaint
from benchapp.files.shipped import earlier_texts, shipped_folder
from benchapp.sequences.checks.own_files import complaints_about
from benchapp.sequences.planning.catalogue import Catalogue, read_texts, texts_of

LIMITS = "limits"


@cache
def _texts_of_today() -> Mapping[str, str]:
    return texts_of()


@cache
def _shipped() -> Catalogue:
    return read_texts(_texts_of_today())[0]


@cache
def _ids_of_today(kind: str) -> frozenset[str]:
    """Ids that shipped files of a kind state, by a look at their texts alone."""
    sequences = shipped_folder("sequences")
    return frozenset(files_by_id(kind, (sequences, sequences / "routes")))


def looser_than_shipped(pinned: Catalogue, region: str) -> tuple[Complaint, ...]:
    """Everything in which pinned texts are looser than what this program ships, of the limits those of one region.

    Of a text that an earlier release shipped the figures count, not its words.
    """
    suspects = [one for one in pinned.names if _may_differ(pinned, *one)]
    return tuple(_looser(pinned, suspects, region)) if suspects else ()


def was_shipped(text: str) -> bool:
    """Whether the text is one that an earlier release shipped, word for word."""
    return sha256(text.encode()).hexdigest() in earlier_texts()


def _may_differ(pinned: Catalogue, kind: str, ident: str) -> bool:
    """Whether it bears a shipped id and is not the text of today."""
    name = pinned.names[kind, ident]
    return ident in _ids_of_today(kind) and pinned.texts[name] != _texts_of_today().get(name)


def _looser(pinned: Catalogue, suspects: list[tuple[str, str]], region: str) -> Iterator[Complaint]:
    shipped, documents = _shipped(), read_texts(pinned.texts)[1]
    for kind, ident in suspects:
        text, asked = pinned.texts[pinned.names[kind, ident]], kind != LIMITS or ident == region
        if asked and (kind == LIMITS or not was_shipped(text)):
            own, theirs = pinned.model(kind, ident), shipped.model(kind, ident)
            yield from complaints_about(kind, own, theirs, documents[kind, ident])
