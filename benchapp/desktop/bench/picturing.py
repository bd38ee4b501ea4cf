"""Which picture belongs to what a page shows: as resources/pictures says, else from the step itself."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from benchapp.desktop.bench.meter_pictures import turned_picture
from benchapp.desktop.bench.unit_view import LIVE, UnitView
from benchapp.desktop.pictures.drawings import CORES, Colours, has_drawing, read_table
from benchapp.desktop.pictures.drawn import DrawingPicture, FacePicture, PairPicture
from benchapp.desktop.pictures.in_line import LinePicture
from benchapp.desktop.pictures.picture import Picture
from benchapp.desktop.pictures.plate import PlatePicture
from benchapp.desktop.pictures.warning import WarningPicture
from benchapp.desktop.widgets.face_parts import FacePart
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.sequences.planning.planned import Plan

_OPENED = "opened-plug"
_LETTERS = (("live", "L"), ("neutral", "N"), ("earth", "E"))
_THINGS = {
    "wall": "wall socket",
    "rcd": "RCD",
    "limiter": "lamp limiter",
    "transformer": "variable transformer",
    "meter": "plug-in meter",
    "item": "this item",
    "plug-out": "plug out, in sight",
}


def picture_of(view: UnitView, row: str = "", number: int = 0) -> Picture | None:
    """The picture for the row at hand (a checkpoint's name, an action by its number from 1), else for the step."""
    step = view.step
    if step is None:
        return None
    from benchapp.sequences.interlock.set_up import ON_VOLTS

    if row == ON_VOLTS:
        return turned_picture(view)
    if row == "plate" and view.plan.equipment.supply is not None:
        return plate_picture(view)
    stated = {**read_table("pictures")["steps"], **read_table("pictures")["set_up"]}
    for key in (row, f"{step.address}/{row}", f"{step.address}/{number}", step.address):
        if key in stated and (made := _stated(view.plan, stated[key])) is not None:
            return made
    if str(step.supply) in LIVE or (step.way_back and not step.terminals):
        return line_picture(view)
    return None


def caution_picture(caution: str, title: str) -> WarningPicture:
    """The warning sign of a caution, over its title."""
    sign = read_table("pictures")["cautions"].get(caution, "general")
    return WarningPicture(words=tr("Warning sign: {title}").format(title=title), sign=sign, title=title)


def _stated(plan: "Plan", row: Mapping[str, Any]) -> Picture | None:
    """The picture that a row of the table describes; None where the region has no such drawing."""
    table = read_table("pictures")
    colours = core_colours(plan)[0]
    if pair := row.get("pair"):
        good, bad = (tr(words) for words in table["pairs"][pair])
        said = tr("Good: {good}. Bad: {bad}.").format(good=good, bad=bad)
        return PairPicture(words=said, name=pair, good=good, bad=bad, colours=colours)
    if row.get("joined"):
        return joined_pins(plan)
    if row.get("face") and (face := right_plug(plan)) is not None:
        return face
    name = row["drawing"]
    marks = tuple((part, tr(table["parts"][part])) for part in row.get("mark", ()))
    words = tr(table["words"][name])
    if marks:
        words = tr("{picture}. Marked: {parts}.").format(picture=words, parts=", ".join(said for _, said in marks))
    if name != _OPENED:
        return DrawingPicture(words=words, name=name, marks=marks)
    return opened_plug(plan, words, marks)


def opened_plug(plan: "Plan", words: str, marks: tuple[tuple[str, str], ...] = ()) -> Picture | None:
    """The region's plug without its cover, its cores in the colours of now with those of before named below."""
    connectors = plan.profile.plug.connectors if plan.profile.plug is not None else ()
    name = f"{_OPENED}-{connectors[0].partition('-')[0]}" if connectors else ""
    if not has_drawing(name):
        return None
    now, before = core_colours(plan)
    said = "; ".join(tr("{core} {colour}").format(core=tr(core), colour=colour) for core, colour in now)
    return DrawingPicture(
        words=f"{words}. {said}", name=name, marks=marks, colours=now, before=before, letters=_LETTERS
    )


def right_plug(plan: "Plan") -> Picture | None:
    """The face of the plug that is right at this place; None where the design has another, or none."""
    from benchapp.wiring.model.faces import face

    right = plan.profile.plug.connectors if plan.profile.plug is not None else ()
    for name, one in plan.circuit.connectors.items():
        connector = plan.connectors.get(name)
        if one.mains and connector is not None and connector.connector in right:
            part = FacePart(title=connector.title, face=face(connector), touches=())
            words = tr("The plug that is right here, from its pins: {plug}.").format(plug=connector.title)
            return FacePicture(words=words, part=part)
    return None


def joined_pins(plan: "Plan") -> Picture | None:
    """The mains plug with a wire from its live to its neutral pin; None where the circuit has no such plug."""
    from benchapp.wiring.model.faces import face

    plug = next((name for name, one in plan.circuit.connectors.items() if one.mains), "")
    connector = plan.connectors.get(plug)
    if connector is None:
        return None
    part = FacePart(title=connector.title, face=face(connector), touches=(), joined=(("L", "N"),))
    words = tr("{plug}: a wire joins its live and neutral pins.").format(plug=connector.title)
    return FacePicture(words=words, part=part)


def core_colours(plan: "Plan") -> tuple[Colours, Colours]:
    """The words for the colours of live, neutral and earth in this region: now, and before."""
    known = {one.core: one for one in plan.profile.core_colours}
    found = [core for core in CORES if core in known]
    return tuple((core, known[core].new) for core in found), tuple((core, known[core].old) for core in found)


def line_picture(view: UnitView) -> Picture:
    """What the item hangs on: socket, RCD, on limited supply the limiter, plug-in meter; or its plug that is out."""
    things: tuple[str, ...]
    step = view.step
    assert step is not None
    if step.way_back:
        things, marked, apart = ("wall", "plug-out", "item"), "plug-out", 1
    elif str(step.supply) == "limited":
        limiter = "transformer" if str(view.state.facts.get("limiter", "")) == "variable transformer" else "limiter"
        things, marked, apart = ("wall", "rcd", limiter, "meter", "item"), _looked_at(view, limiter), 0
    else:
        things, marked, apart = ("wall", "rcd", "meter", "item"), _looked_at(view, "wall"), 0
    named = tuple((thing, tr(_THINGS[thing])) for thing in things)
    words = tr("In line from the wall: {things}.").format(things=", ".join(said for _, said in named))
    return LinePicture(words=words, things=named, marked=marked, apart=apart)


def _looked_at(view: UnitView, switch: str) -> str:
    """What of the line the step is about: the meter that is read, the lamp, the switch that a hand goes to."""
    step = view.step
    assert step is not None
    if step.function:
        return "meter"
    return "item" if step.kind == "ask" and "limiter" not in step.say and "lamp" not in step.say else switch


def plate_picture(view: UnitView) -> Picture:
    """The rating plate as our record of the design has it."""
    equipment = view.plan.equipment
    supply = equipment.supply
    assert supply is not None
    from benchapp.quantities.dimensions import Kind
    from benchapp.quantities.display import show

    double = equipment.equipment_class == "II"
    lines = [(tr("Voltage"), f"{supply.volts.words} ~"), (tr("Frequency"), show(supply.frequency, Kind.frequency))]
    if supply.power is not None:
        lines.append((tr("Power"), tr("{power} W or VA").format(power=f"{supply.power:.4g}")))
    lines.append((tr("Class"), "" if double else str(equipment.equipment_class)))
    said = ", ".join(f"{what} {value or tr('II, a square in a square')}" for what, value in lines)
    words = tr("The rating plate should say: {lines}.").format(lines=said)
    return PlatePicture(words=words, lines=tuple(lines), double_insulated=double)
