"""The head of every bench page: the unit in large type, what it is, stage and position, what feeds it, its stages."""

from PySide6.QtWidgets import QGridLayout, QWidget

from benchapp.desktop.bench.stage_strip import StageMark, StageStrip
from benchapp.desktop.bench.unit_view import UnitView
from benchapp.desktop.theme.look import Look
from benchapp.desktop.widgets.short_label import ShortLabel
from benchapp.desktop.widgets.texts import label, restyle
from benchapp.desktop.words import tr

SUPPLIES = {"none": "Plug out, in sight", "limited": "LIVE: limited supply", "full": "LIVE: full mains"}


class BenchHead(QWidget):
    """Names the unit at hand on every page."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self.setObjectName("bench-head")
        self._look = look
        self.unit = label("unit", "unit", wrap=False)
        self.what = label("unit-title")
        self.position = ShortLabel(look, "position", "head")
        self.supply = label("supply", "head", wrap=False)
        self.strip = StageStrip(look)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.addWidget(self.unit, 0, 0, 2, 1)
        grid.addWidget(self.what, 0, 1)
        grid.addWidget(self.position, 1, 1)
        grid.addWidget(self.supply, 0, 2, 2, 1)
        grid.addWidget(self.strip, 2, 0, 1, 3)
        grid.setColumnStretch(1, 1)
        grid.setHorizontalSpacing(18)
        self._spare()
        look.changed.connect(self._spare)

    def _spare(self) -> None:
        """Where text is large the mark alone names the unit, and the position its stage."""
        for spared in (self.what, self.strip):
            spared.setVisible(not self._look.cramped)

    def show_unit(self, view: UnitView, sweep: str = "") -> None:
        """Name the unit and where it stands."""
        self.unit.setText(view.mark)
        self.what.setText(tr("{title}, lot {lot}").format(title=view.title, lot=view.lot))
        self.position.show_lines(_position(view, sweep, short=self._look.cramped), _cautions(view))
        words, danger = _supply_words(view)
        self.supply.setText(words)
        restyle(self.supply, "off" if danger else "head")
        here = view.step.stage if view.step else ""
        self.strip.show_stages(
            [
                StageMark(title=stage.title, status=str(stage.status), here=stage.id == here)
                for stage in view.state.stages
            ]
        )


def _cautions(view: UnitView) -> str:
    """The titles of the cautions that govern this page: read in full once a day, in sight from then on."""
    from benchapp.sequences.interlock.live_conditions import cautions_of

    step = view.step
    stage = next((one for one in view.plan.stages if step is not None and one.id == step.stage), None)
    if step is None or stage is None or _is_dead(view) or str(view.state.due.kind) == "caution":
        return ""  # with the plug out no caution of live work stands beside it
    names = (one for one in cautions_of(stage.cautions, step.supply) if one in view.plan.cautions)
    titles = ", ".join(view.plan.cautions[one].title for one in names)
    return tr("Mind: {cautions}").format(cautions=titles) if titles else ""


def _supply_words(view: UnitView) -> tuple[str, bool]:
    """What is on the unit at this step, and whether it can hurt; a step that is shut feeds nothing."""
    step, kind, dead = view.step, str(view.state.due.kind), _is_dead(view)
    tests = step is not None and step.energises and not dead
    if view.supply != "none" and not dead:
        if _is_before_plugging_in(view):
            return tr("Not plugged in yet"), False
        return tr(SUPPLIES.get(view.supply, view.supply)), True
    if tests and kind != "set-up":
        return tr("TEST VOLTAGE with the button"), True
    if view.state.energised and not tests:
        return tr("May still be live: make it safe first"), True
    return tr(SUPPLIES["none"]), False


def _is_dead(view: UnitView) -> bool:
    """Whether nothing feeds it, whatever its step would: the step is shut, or a fault waits with the plug out."""
    kind = str(view.state.due.kind)
    return kind == "shut" or (kind in ("fault", "repair") and not view.state.energised)


def _is_before_plugging_in(view: UnitView) -> bool:
    """Whether the stage's first work is still to come, and nothing that is fed was ever answered for this unit."""
    step = view.step
    if step is None or step.kind != "ask":
        return False
    fed = [one for one in view.plan.steps if str(one.supply) == view.supply and one.kind != "ask"]
    ahead = bool(fed) and fed[0].position > step.position and fed[0].stage == step.stage
    known = (
        view.state.steps.get(one.address) for one in view.plan.steps if str(one.supply) != "none" and one.kind != "ask"
    )
    return ahead and all(one is None or str(one.status) in ("open", "skipped", "shut") for one in known)


def _position(view: UnitView, sweep: str, *, short: bool) -> str:
    """Where the unit stands; where text is large the figures come first, for the end of the line may be cut."""
    number, of = view.position
    if view.step is None:
        words = tr("What becomes of it")
    elif view.step.way_back:
        words = tr("Make it safe, step {number} of {of}").format(number=number, of=of)
    elif short:
        words = tr("{number}/{of} {stage}").format(stage=view.stage_title, number=number, of=of)
    else:
        words = tr("{stage}, step {number} of {of}").format(stage=view.stage_title, number=number, of=of)
    return tr("{words}   (whole lot: {sweep})").format(words=words, sweep=sweep) if sweep else words
