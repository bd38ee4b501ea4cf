"""What every screen is given when it is made: the workbook at work and the few things that all screens share."""

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from benchapp.desktop.background_tasks import BackgroundTasks
from benchapp.desktop.backups.keeper import BackupKeeper
from benchapp.desktop.bench.in_hand import UnitInHand
from benchapp.desktop.change_signals import ChangeSignals
from benchapp.desktop.drafts import Drafts
from benchapp.desktop.person import Person
from benchapp.desktop.photo_folder import PhotoFolder
from benchapp.desktop.printing.systems import Printing
from benchapp.desktop.record.keeper import RecordKeeper
from benchapp.desktop.theme.look import Look
from benchapp.desktop.wires.live_meter import LiveMeter

if TYPE_CHECKING:
    from benchapp.actions.workbench.bench import Bench


@dataclass(frozen=True, slots=True, kw_only=True)
class AppContext:
    """One opened workbook in one window."""

    bench: "Bench"
    look: Look
    change_signals: ChangeSignals
    tasks: BackgroundTasks
    person: Person
    backups: BackupKeeper
    record: RecordKeeper
    drafts: Drafts = field(default_factory=Drafts)
    in_hand: UnitInHand = field(default_factory=UnitInHand)
    live_meter: LiveMeter = field(default_factory=LiveMeter)
    photo_folder: PhotoFolder = field(default_factory=PhotoFolder)
    printing: Printing = field(default_factory=Printing)

    def begin(self) -> None:
        """The window is there: what is done while nobody waits may begin."""
        self.backups.begin()
        self.record.begin()

    def stop(self) -> None:
        """The window closes, or lets go of the workbook."""
        self.live_meter.stop()
        self.backups.stop()
        self.record.stop()
