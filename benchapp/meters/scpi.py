"""An instrument that is asked by SCPI-1999: who it is, to which function it is set, one reading after the other."""

from benchapp.judgement.meters.functions import Function
from benchapp.meters.answers import is_number, read_answer
from benchapp.meters.instrument import Identity, Instrument, now
from benchapp.meters.problems import BY_HAND, MeterProblem
from benchapp.meters.scpi_words import CONFIGURE, is_set_to, words_for
from benchapp.meters.sent_reading import SentReading
from benchapp.words import say


class ScpiInstrument(Instrument):
    """Set once with CONFigure, then READ?: nulled leads and a range set by hand stay as they are."""

    def identify(self) -> Identity:
        """Who the instrument says it is; raises MeterProblem when the answer is not four fields."""
        answer = self.ask("*IDN?")
        fields = [field.strip() for field in answer.split(",")]
        if len(fields) != 4:
            self.close()
            raise MeterProblem(
                say(
                    "What answers at {address} does not say who it is as instruments do: “{answer}”. "
                    "Check the address: another device may have it. {BY_HAND}",
                    address=self.wire.address,
                    answer=answer[:60],
                    BY_HAND=BY_HAND,
                )
            )
        maker, model, serial_number, firmware = fields
        return Identity(maker=maker, model=model, serial_number=serial_number, firmware=firmware)

    def first_complaint(self) -> str:
        """The oldest entry of the instrument's error queue in its own words; empty when it has none."""
        number, _, words = self.ask("SYSTem:ERRor?").partition(",")
        return "" if number.strip().lstrip("+-") == "0" else words.strip().strip('"')

    def _prepare(self, function: Function, *, may_set: bool) -> bool:
        if self.wire.identity and self._link is None:
            self._refuse_another(self._ask("*IDN?"))
        stands_on = self._ask(self.wire.which_function) if self.wire.which_function else ""
        if stands_on and is_set_to(stands_on, function):
            self._ready_for = function
            return False
        if is_number(stands_on):
            raise MeterProblem(
                say(
                    "{place} answered late: “{stands_on}” was for an earlier question, and is not taken. "
                    "Take the reading again. {BY_HAND}",
                    place=self.place,
                    stands_on=stands_on[:20],
                    BY_HAND=BY_HAND,
                )
            )
        words = self.wire.configure.get(function) or CONFIGURE.get(function, "")
        if not may_set or not words:
            self._refuse_setting(stands_on, function)
        self._connected().send(words)
        if complaint := self.first_complaint():
            raise MeterProblem(
                say(
                    "{place} does not take “{words}”: {complaint}. Set it to {function} by hand. {BY_HAND}",
                    place=self.place,
                    words=words,
                    complaint=complaint[:80],
                    function=function,
                    BY_HAND=BY_HAND,
                )
            )
        self._ready_for = function
        return True

    def _refuse_another(self, answer: str) -> None:
        if not answer.casefold().startswith(self.wire.identity.casefold()):
            raise MeterProblem(
                say(
                    "Another instrument answers at {address}: “{answer}”, where {meter} is “{identity}”. "
                    "No reading is taken from it. Mend the address in its record. {BY_HAND}",
                    address=self.wire.address,
                    answer=answer[:60],
                    meter=self.record.meter,
                    identity=self.wire.identity,
                    BY_HAND=BY_HAND,
                )
            )

    def _refuse_setting(self, stands_on: str, function: Function) -> None:
        stands = (
            say("stands on {words_for}", words_for=words_for(stands_on))
            if stands_on
            else "cannot say to what it is set"
        )
        raise MeterProblem(
            say(
                "{place} {stands}, and {function} is to be read. Set it to {function} by hand, away from "
                "any pin that may be live. {BY_HAND}",
                place=self.place,
                stands=stands,
                function=function,
                BY_HAND=BY_HAND,
            )
        )

    def _read(self, function: Function) -> SentReading:
        """One reading, and then what it was of: somebody may have turned the meter meanwhile."""
        sent = self._ask(self.wire.read)
        at = now()
        if self.wire.which_function:
            stands_on = self._ask(self.wire.which_function)
            if not is_set_to(stands_on, function):
                self._refuse_setting(stands_on, function)
        return SentReading(sent=sent, reading=read_answer(sent, function), at=at)
