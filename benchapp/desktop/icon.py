"""The icon of the program: drawn in resources/icons/benchapp.svg, kept as pictures so that no start waits for it."""

from PySide6.QtGui import QIcon

from benchapp.files.shipped import shipped_folder

SIZES = (48, 128)
"""pixels"""


def program_icon() -> QIcon:
    """The icon in each size that is kept."""
    icon = QIcon()
    for size in SIZES:
        icon.addFile(str(shipped_folder("resources") / "icons" / f"benchapp-{size}.png"))
    return icon
