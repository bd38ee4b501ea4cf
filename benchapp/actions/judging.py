"""One reading against one band, outside any workbook."""

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from benchapp.judgement import Band, Decision, Uncertainty
    from benchapp.quantities import Reading


@dataclass(frozen=True, slots=True, kw_only=True)
class JudgedText:
    """A typed reading, the band it was held against, and what was decided."""

    reading: "Reading"
    band: "Band"
    uncertainty: "Uncertainty | None"
    decision: "Decision"


def judge_text(
    accept: str,
    reading: str,
    *,
    meter: str | None = None,
    uncertainty: str | None = None,
    rule: str | None = None,
    folders: tuple[Path, ...] = (),
) -> JudgedText:
    """Judge "9.12 V" against "9 V ± 10 %"; with neither meter nor uncertainty the judgement is simple."""
