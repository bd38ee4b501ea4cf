"""Do the worked cases at the end of a sequence come out as its author says?"""

from dataclasses import dataclass

from benchapp.sequences.catalogue import Catalogue


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseResult:
    """One worked case: what was expected and what came out; `complaint` is empty when they agree."""

    sequence: str
    case: str
    expected: str
    found: str
    complaint: str = ""


def run_cases(catalogue: Catalogue, sequence: str) -> tuple[CaseResult, ...]:
    """Every worked case of that sequence."""
    ...
