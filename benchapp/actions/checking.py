"""Files that people write: read them all, with their cross-references and worked cases."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True, kw_only=True)
class FileReport:
    """One file: what it holds, its complaints (file:line:column ...), its worked cases and which came out wrong."""

    path: str
    kind: str
    complaints: tuple[str, ...] = ()
    cases: int = 0
    failed_cases: tuple[str, ...] = ()

    @property
    def good(self) -> bool:
        """Whether there is nothing to mend."""
        return not (self.complaints or self.failed_cases)


def check_files(
    paths: Sequence[Path],
    *,
    progress: Callable[[int, int], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> tuple[FileReport, ...]:
    """Check files and folders against each other and against what is shipped."""
