"""A member of a list that says by one of its keys of what kind it is: `measure: earth`, `winding: primary`."""

from collections.abc import Callable, Iterable
from typing import Any

from pydantic import Discriminator

KINDS = "kinds"
"""Under this name the complaint about an entry of no kind finds the keys that would say one, spaces between."""


class KindKey(Discriminator):
    """Pydantic's discriminator, told which keys say a kind, for the complaint about an entry that says none."""

    def __hash__(self) -> int:
        return hash((self.discriminator, self.custom_error_message))


def kind_key(which: Callable[[Any], str | None], kinds: Iterable[str], *, of: str) -> KindKey:
    """Tells the members of a union apart by `which`, the tag of what was written; `of` is what one is called."""
    names = tuple(kinds)
    return KindKey(
        which,
        custom_error_type="kind_key",
        custom_error_message=f"this {of} does not say its kind; expected one of the keys {', '.join(names)}",
        custom_error_context={KINDS: " ".join(names)},
    )
