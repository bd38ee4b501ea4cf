"""What a step accepts, as an author writes it: parsed, checked and turned into a band."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from decimal import Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """A value that an accept expression may name, in SI units, with what it is and where it came from."""

    value_si: Decimal | float
    standard_uncertainty: float = 0.0
    what: str
    source: str
