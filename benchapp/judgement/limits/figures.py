"""One figure of a limits file: its value, its unit, where it comes from and how sure we are of it."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from functools import cached_property
from typing import Annotated, Self

from pydantic import AfterValidator, BeforeValidator, Field, PrivateAttr, model_validator

from benchapp.files.forms import TextForm
from benchapp.files.models import FileModel, made_of
from benchapp.judgement.limits.sources import OWN_FIGURE, OWN_STATUS, own_source
from benchapp.judgement.statements.problems import LimitProblem
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.entry import read_quantity
from benchapp.quantities.quantity import Quantity
from benchapp.quantities.units import unit_named
from benchapp.words import say

STATUS = TextForm(
    pattern=r"^(confirmed \(.+\)|from memory|common practice, no source|calculated)",
    words="confirmed (kind of page), from memory, calculated, or common practice, no source",
    longest=600,
)
_CONFIRMED = "confirmed"


class Sourced(FileModel):
    """What every figure carries beside its value."""

    source: str = Field(min_length=3)
    """Document, edition and clause or table, as far as they are known."""
    status: Annotated[str, STATUS]
    """confirmed (kind of page), from memory, or common practice, no source."""
    note: str = ""
    """What must be known to use the figure."""

    @property
    def certain(self) -> bool:
        """Whether the figure was confirmed on a public page, wholly."""
        return self.status.startswith(_CONFIRMED) and "from memory" not in self.status

    @property
    def own(self) -> bool:
        """Whether it is a workshop's own figure, that no published document gives."""
        return self.source.startswith(OWN_FIGURE)

    @property
    def cited(self) -> str:
        """The source as screen and paper print it."""
        if self.certain or self.own:
            return self.source
        return f"{self.source} ({self.status}; check the document)"

    @property
    def doubt(self) -> str:
        """What to say beside whatever rests on the figure; empty where it was confirmed."""
        if self.own:
            return say("No published document gives {source}.", source=self.source)
        return "" if self.certain else f"Check this figure: {self.source}, {self.status}."

    def as_own(self, file: str) -> Self:
        """The same as a workshop's own: its source is that file, whatever the file itself names."""
        return self.model_copy(update={"source": own_source(file), "status": OWN_STATUS})


_TABLE_UNITS = frozenset({"ohm/km", "mV/A/m", "/K"})
"""Units of table figures that no reading has; the code that uses such a table knows its unit."""


def _known(unit: str) -> str:
    if unit not in _TABLE_UNITS:
        unit_named(unit)
    return unit


UnitName = Annotated[str, AfterValidator(_known)]
"""A unit by its symbol or a usual way of writing it."""


class Figure(Sourced):
    """One number of a limits file."""

    value: Annotated[Decimal, BeforeValidator(str)]
    """The number as the source states it."""
    unit: UnitName
    """Its unit."""

    @property
    def quantity(self) -> Quantity:
        """The figure as a quantity."""
        return Quantity(value=self.value, unit=unit_named(self.unit))

    @property
    def exact(self) -> Decimal:
        """The figure in SI units, in decimal."""
        return self.quantity.si_exact

    @property
    def kind(self) -> Kind:
        """The kind of quantity it is."""
        return self.quantity.unit.kind

    @property
    def words(self) -> str:
        """The figure as it is written, with its unit."""
        return f"{self.value} {self.unit}"


class Statement(Sourced):
    """A rule in words, or figures that only words can hold together."""

    words: str = Field(min_length=3)
    """The rule."""


class Table(Sourced):
    """Figures by conductor area, all from one source and in one unit."""

    unit: UnitName
    """Unit of the figures."""
    values: dict[str, Annotated[Decimal, BeforeValidator(str)]] = Field(min_length=1)
    """Area as written ("0.75 mm²") and the figure for it."""
    less_certain: dict[str, Annotated[str, STATUS]] = Field(default_factory=dict)
    """Status of single figures that are less certain than the rest of the table, by area."""
    _own_rows: dict[str, str] = PrivateAttr(default_factory=dict)
    """The file of each row that is a workshop's own, by area."""

    @model_validator(mode="after")
    def _less_certain_are_in_the_table(self) -> Table:
        for area in self.less_certain:
            if area not in self.values:
                raise LimitProblem(
                    say(
                        "“{area}” is said to be less certain, but the table has {listed}.",
                        area=area,
                        listed=", ".join(self.values),
                    )
                )
        return self

    @property
    def words(self) -> str:
        """The whole table in one line."""
        return "; ".join(f"{area}: {value} {self.unit}" for area, value in self.values.items())

    def figures(self) -> dict[str, Figure]:
        """Every figure of the table by its area as written, each with its own status."""
        return self._by_area

    @cached_property
    def _by_area(self) -> dict[str, Figure]:
        return {area: self._figure(area, value) for area, value in self.values.items()}

    def _figure(self, area: str, value: Decimal) -> Figure:
        figure = made_of(
            Figure,
            value=value,
            unit=self.unit,
            source=self.source,
            status=self.less_certain.get(area, self.status),
            note=self.note,
        )
        return figure.as_own(self._own_rows[area]) if area in self._own_rows else figure

    def with_own_rows(self, rows: Mapping[str, str]) -> Table:
        """The same table with the rows of these areas as a workshop's own, each with its file."""
        table = self.model_copy()
        table._own_rows = {**self._own_rows, **rows}
        vars(table).pop("_by_area", None)  # worked out of the rows as they were
        return table

    def at(self, area: float) -> Figure:
        """The figure for a conductor of this area in m²; raises LimitProblem for one that the table lacks."""
        for written, figure in self.figures().items():
            if abs(read_quantity(written, kind=Kind.area).si - area) <= 1e-9 * area:
                return figure
        raise LimitProblem(
            say(
                "A conductor of {value:g} mm² is not in the table ({source}): it has {listed}.",
                value=area * 1e6,
                source=self.source,
                listed=", ".join(self.values),
            )
        )
