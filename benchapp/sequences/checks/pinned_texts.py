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
from benchapp.sequences.checks.limits import check_sense, check_units
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

    Figures of that region that make no sense count too, whoever wrote them. Of a text that an earlier release shipped
    the figures count, not its words.
    """
    suspects = [one for one in pinned.names if _may_differ(pinned, region, *one)]
    return tuple(_looser(pinned, suspects)) if suspects else ()


def was_shipped(text: str) -> bool:
    """Whether the text is one that an earlier release shipped, word for word."""
    return sha256(text.encode()).hexdigest() in earlier_texts()


def _may_differ(pinned: Catalogue, region: str, kind: str, ident: str) -> bool:
    """Whether it is not the text of today, and bears a shipped id or decides what is judged."""
    if pinned.texts[pinned.names[kind, ident]] == _texts_of_today().get(pinned.names[kind, ident]):
        return False
    return ident == region if kind == LIMITS else ident in _ids_of_today(kind)


def _looser(pinned: Catalogue, suspects: list[tuple[str, str]]) -> Iterator[Complaint]:
    shipped, documents = _shipped(), read_texts(pinned.texts)[1]
    for kind, ident in suspects:
        document, own = documents[kind, ident], pinned.model(kind, ident)
        if (kind, ident) in shipped.names and (kind == LIMITS or not was_shipped(pinned.texts[document.source])):
            yield from complaints_about(kind, own, shipped.model(kind, ident), document)
        if kind == LIMITS:
            yield from (*check_units(own, document), *check_sense(own, document))
