"""The people of the workshops in tests, and settings that have them on their list."""

from benchapp.sequences.planning.chain_contents import OpeningContent
from benchapp.sequences.planning.people import ListedPerson, Right
from benchapp.sequences.planning.planned import Workshop

WORKS = (Right.live_work,)
SIGNS = (Right.live_work, Right.sign_off)
SUPERVISES = (Right.supervisor,)
PEOPLE = (
    ListedPerson(name="Ada Brook", initials="AB", rights=SIGNS),
    ListedPerson(name="Kit Thorne", initials="KT", rights=SIGNS),
    ListedPerson(name="Edda Finch", initials="EF", rights=WORKS),
    ListedPerson(name="Gwen Hale", initials="GH", rights=WORKS),
    ListedPerson(name="Nell Hay", initials="NH"),
    ListedPerson(name="Olin Reed", initials="OR", rights=WORKS, until="2026-01-31"),
    ListedPerson(name="Cole Dyer", initials="CD", rights=SUPERVISES),
    ListedPerson(name="Sula Vance", initials="SV", rights=SUPERVISES),
    ListedPerson(name="Mira Hoskin", initials="MH", rights=SUPERVISES),
)
"""AB and KT sign off too; CD, SV and MH are supervisors; NH may do dead work alone, what OR might do has ended."""


def staffed(**settings: object) -> Workshop:
    """The settings of a workshop with these people and the shipped examples, and what else is said of it."""
    return Workshop(**{"people": PEOPLE, "demo": True, **settings})


OPENED = {"source": "proving unit", "room": "Gwen Hale", "rcd_rating": 0.03, "rcd_reset": True}
"""what is said at a bench opening beside its meters: what proved them, who else is in the room, the RCD"""
OPENING = OpeningContent(meters=(), rcd_button_tested=False, **OPENED)
"""the content of an opening, for what tests record behind the actions"""
