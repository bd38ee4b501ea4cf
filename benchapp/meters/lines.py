"""A meter that sends a line for each reading, by itself or when asked; the line is described in its record."""

from contextlib import suppress
from decimal import Decimal, InvalidOperation

from benchapp.judgement.meters.functions import Function, kind_of
from benchapp.judgement.meters.line_pattern import read_line
from benchapp.judgement.meters.wire import Wire
from benchapp.meters.answers import quoted
from benchapp.meters.instrument import Instrument, now
from benchapp.meters.links import Link
from benchapp.meters.problems import BY_HAND, MeterProblem, NothingSent
from benchapp.meters.sent_reading import SentReading
from benchapp.quantities.entry import read_reading
from benchapp.quantities.problems import EntryProblem
from benchapp.quantities.quantity import Bound, Reading
from benchapp.quantities.units import known_unit
from benchapp.words import say

UNDER_WAY = 0.2
"""seconds in which a line that was under way is over: at 1,200 baud one of twenty signs takes that long"""
LISTENS = 0.25
"""seconds of one look for a line: so soon another page can ask for something else"""


class LineInstrument(Instrument):
    """Nothing sets it but its dial: what each line says of its unit and function is held against the step.

    One that is only listened to may be silent for as long as nobody presses its key.
    """

    def _prepare(self, function: Function, *, may_set: bool) -> bool:  # noqa: ARG002 - nothing sets it but its dial
        fresh = self._link is None
        link = self._connected()
        if not self.wire.asks and (link.forget() or fresh):
            self._pass_over(link)
        self._ready_for = function
        return False

    def _pass_over(self, link: Link) -> None:
        """The line under way began before it was asked for, or has lost its beginning when the port was opened."""
        with suppress(TimeoutError):
            link.line(UNDER_WAY)
        if link.forget():
            link.line(self.patience)

    def _read(self, function: Function) -> SentReading:
        sent = self._ask(self.wire.asks) if self.wire.asks else self._listen()
        return SentReading(sent=sent, reading=reading_of(self.wire, sent, function), at=now())

    def _listen(self) -> str:
        """The next line that it sends; raises NothingSent where none comes for a while, and the link stays."""
        try:
            return self._connected().line(min(self.patience, LISTENS))
        except TimeoutError:
            raise NothingSent(
                say(
                    "{place} has sent nothing for a while. Where it sends at the press of its own key, press that; "
                    "else look whether it is on and sends. {BY_HAND}",
                    place=self.place,
                    BY_HAND=BY_HAND,
                )
            ) from None


def reading_of(wire: Wire, line: str, function: Function) -> Reading:
    """The reading that a line says, held against the function; raises MeterProblem where it is of another."""
    pieces = read_line(wire.line, line)
    if pieces is None:
        raise MeterProblem(
            say(
                "The meter sent {quoted}, which is not the line that its record describes: {line}. {BY_HAND}",
                quoted=quoted(line),
                line=wire.line,
                BY_HAND=BY_HAND,
            )
        )
    _refuse_other_function(wire, pieces, line, function)
    value, kind = pieces["value"].replace(" ", ""), kind_of(function)
    if value.casefold() in {word.casefold().replace(" ", "") for word in wire.over_range}:
        return Reading(typed="OL", quantity=None, bound=Bound.above)
    said = pieces.get("unit", "")
    unit = known_unit(wire.units.get(said, said), kind) if said else None
    if said and (unit is None or unit.kind is not kind):
        raise MeterProblem(
            say(
                "The meter sent {quoted}, in {said}, and this step reads {function}. Turn it to "
                "{function}, and take the reading again. {BY_HAND}",
                quoted=quoted(line),
                said=said,
                function=function,
                BY_HAND=BY_HAND,
            )
        )
    try:
        Decimal(value)
        return read_reading(value, kind=kind, unit=unit.symbol if unit is not None else "")
    except (EntryProblem, InvalidOperation) as problem:
        raise MeterProblem(
            say(
                "The meter sent {quoted}, and “{value}” is no number. {BY_HAND}",
                quoted=quoted(line),
                value=value,
                BY_HAND=BY_HAND,
            )
        ) from problem


def _refuse_other_function(wire: Wire, pieces: dict[str, str], line: str, function: Function) -> None:
    said = pieces.get("function")
    if said is None or not wire.functions:
        return
    meant = wire.functions.get(said)
    same = meant is not None and (meant is function or {meant, function} in _ALIKE)
    if not same:
        words = (
            meant.value if meant is not None else say("“{said}”, a word that its record does not explain", said=said)
        )
        raise MeterProblem(
            say(
                "The meter sent {quoted}: it is set to {words}, and this step reads {function}. Turn it "
                "to {function}, and take the reading again. {BY_HAND}",
                quoted=quoted(line),
                words=words,
                function=function,
                BY_HAND=BY_HAND,
            )
        )


_ALIKE = ({Function.resistance, Function.continuity}, {Function.ac_voltage, Function.mains_voltage})
"""functions that a meter calls by one word"""
