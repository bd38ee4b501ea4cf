"""What an author's own file may not do to a shipped one of the same id: ask for less, or lose its words."""

from collections.abc import Iterator
from dataclasses import dataclass

from benchapp.files.locations import Key


@dataclass(frozen=True, slots=True, kw_only=True)
class Looser:
    """One thing in an own file that is looser than what is shipped, or makes no sense: where, what, what is asked."""

    key: Key
    what: str
    expected: str = ""


def keeps_words(own: str, shipped: str) -> bool:
    """Whether the shipped words still stand in the own ones, however the lines are broken."""
    return " ".join(shipped.split()) in " ".join(own.split())


def lost_words(key: Key, own: tuple[str, ...], shipped: tuple[str, ...]) -> Iterator[Looser]:
    """Shipped sentences that no own one holds any more."""
    for sentence in shipped:
        if not any(keeps_words(one, sentence) for one in own):
            yield Looser(
                key=key, what=f"the shipped words “{sentence}” are missing", expected="them, and what is added"
            )
