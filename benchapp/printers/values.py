"""What is known of a printer and of a document on its way to it, as plain values. Lengths in millimetres."""

from dataclasses import dataclass
from enum import StrEnum

from benchapp.words import say

TOLERANCE = 1.0
"""Sizes this near are one paper: drivers round to points, and A4 and US Letter are 6 mm apart (own choice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperSize:
    """A paper by the name that its printer has for it."""

    key: str
    name: str
    width: float
    height: float


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnSizes:
    """Least and most width and height of the papers that a printer takes without a name for them."""

    least: tuple[float, float]
    most: tuple[float, float]

    def hold(self, width: float, height: float | None) -> bool:
        """Whether a paper lies within; one without a height is cut from a roll as long as is needed."""
        wide = self.least[0] - TOLERANCE <= width <= self.most[0] + TOLERANCE
        return wide and (height is None or self.least[1] - TOLERANCE <= height <= self.most[1] + TOLERANCE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Printer:
    """A printer of this computer."""

    name: str
    """as the printing system calls it"""
    title: str
    """as people call it"""
    papers: tuple[PaperSize, ...]
    usual_paper: str = ""
    """the key of the paper that it is set to"""
    own_sizes: OwnSizes | None = None
    is_usual: bool = False

    def paper(self, width: float, height: float) -> PaperSize | None:
        """The paper of that size, by the printer's own name where it has one; None where it takes none such."""
        for one in self.papers:
            if abs(one.width - width) <= TOLERANCE and abs(one.height - height) <= TOLERANCE:
                return one
        if self.own_sizes is not None and self.own_sizes.hold(width, height):
            name = say("paper of {width:.0f} × {height:.0f} mm", width=width, height=height)
            return PaperSize(key=f"Custom.{width:.2f}x{height:.2f}mm", name=name, width=width, height=height)
        return None

    def takes(self, width: float, height: float | None) -> bool:
        """Whether it can be asked for that paper; without a height, for any length of a roll so wide."""
        if height is None:
            return self.own_sizes is not None and self.own_sizes.hold(width, None)
        return self.paper(width, height) is not None

    def is_set_to(self, width: float, height: float | None) -> bool:
        """Whether that is the paper it is set to, as far as it says so."""
        usual = self.usual_size()
        if usual is None:
            return True
        same_width = abs(usual.width - width) <= TOLERANCE
        return same_width and (height is None or abs(usual.height - height) <= TOLERANCE)

    def usual_size(self) -> PaperSize | None:
        """The paper that it is set to; None where it does not say."""
        return next((one for one in self.papers if one.key == self.usual_paper), None)


class Stage(StrEnum):
    """How far a document has come."""

    WAITING = "waiting"
    PRINTING = "printing"
    DONE = "done"
    FAILED = "failed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """How far a document has come; `words` are a sentence on why it waits or what went wrong, else empty."""

    stage: Stage
    words: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Parcel:
    """A finished document for one printer on one paper."""

    title: str
    pdf: bytes
    printer: Printer
    paper: PaperSize
    copies: int = 1
