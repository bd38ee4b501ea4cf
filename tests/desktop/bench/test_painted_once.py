"""A page that is turned to is laid out before it is painted: nobody sees it jump, and nobody waits for it twice."""

from PySide6.QtCore import QEvent, QObject

from tests.desktop.walks import unit_of, work_until


class Paints(QObject):
    """Counts how often most of a widget is painted; a cursor that blinks is little of it."""

    def __init__(self):
        super().__init__()
        self.counted = 0

    def eventFilter(self, watched, event):  # noqa: N802 - Qt's own name
        if event.type() == QEvent.Type.Paint:
            drawn, whole = event.region().boundingRect(), watched.visibleRegion().boundingRect()
            self.counted += drawn.height() * drawn.width() > 0.7 * whole.height() * whole.width()
        return False


def test_most_pages_are_painted_once_when_they_are_turned_to(technician):
    technician.take_unit("TB-001")
    technician.settle()
    bench, kinds, often, all_turned = technician.window.bench, set(), {}, []
    bench.pages.make_all()
    counters = {}
    for page in bench.pages._pages.values():
        counters[page.name] = Paints()
        page.installEventFilter(counters[page.name])

    def turned(name):
        counters[name].counted = 0
        all_turned.append(name)

    def is_there():
        name, address = technician.page.name, technician.address
        if counters[name].counted > 1:
            often[address] = (name, counters[name].counted)
        kinds.add(name)
        return address == "continuity.outputs/outlet.1-outlet.2"

    bench.turned.connect(turned)
    work_until(technician, unit_of(), is_there)
    assert kinds >= {"ask", "inspect", "work", "set-up", "meter", "reading"}
    assert len(all_turned) > 20
    # on a busy machine a clock or a light of the window may come between; before, all were painted twice or more
    assert len(often) <= 0.25 * len(all_turned), often
