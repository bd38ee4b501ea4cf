"""Which two terminals are probed, in which order, and what should be read there?"""

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from benchapp.judgement import Band


class ProbeKind(StrEnum):
    """Why a probe is taken: each kind answers another question."""

    earth = "earth"
    isolation = "isolation"
    unused = "unused"
    continuity = "continuity"


@dataclass(frozen=True, slots=True, kw_only=True)
class Probe:
    """One reading of the plan: black probe on `a`, red probe on `b`, the words to say and the band to meet."""

    id: str
    kind: ProbeKind
    a: str
    b: str
    say: str
    band: "Band"
    why: str
