"""Where the digits in the reading field come from: what was sent counts as sent until somebody changes it; Qt-free."""

from dataclasses import dataclass

from benchapp.sequences.language.vocabulary import ReadingSource


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """A reading that was sent, as it is written in the field, with the line that carried it."""

    text: str
    sent: str
    source: ReadingSource


class SourceOfReading:
    """Remembers the last reading that was put into the field for its meter."""

    def __init__(self) -> None:
        self._taken: Taken | None = None

    def remember(self, taken: Taken) -> None:
        """This was put into the field."""
        self._taken = taken

    def forget(self) -> None:
        """Another page: nothing was sent for it yet."""
        self._taken = None

    def is_sent(self, text: str) -> bool:
        """Whether the text in the field is what was sent, unchanged."""
        return self._taken is not None and text == self._taken.text

    def of(self, text: str) -> tuple[ReadingSource, str]:
        """The source of what stands in the field, and the line that carried it; what was changed was typed."""
        if self._taken is None or text != self._taken.text:
            return ReadingSource.keys, ""
        return self._taken.source, self._taken.sent
