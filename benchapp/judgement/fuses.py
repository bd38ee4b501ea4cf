"""Which fuse belongs in this plug?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from benchapp.judgement.band import Because


@dataclass(frozen=True, slots=True, kw_only=True)
class FuseChoice:
    """The rating to fit and the largest that the cord allows, in ampere, with the reasons."""

    rating: float
    largest: float
    derivation: tuple[Because, ...]
