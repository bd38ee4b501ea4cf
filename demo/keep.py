"""What a demo run keeps: papers and pictures in its folder."""

from pathlib import Path

from benchapp.errors import BenchError

LIST = ".made-here"
"""the list of files in the folder that are the demo's own"""


class Keep:
    """What the demo wrote into its folder: the only files it ever deletes."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._list = folder / LIST

    def clear(self) -> None:
        """Delete what an earlier demo wrote, nothing else."""
        self.folder.mkdir(parents=True, exist_ok=True)
        names = self._list.read_text(encoding="utf-8").splitlines() if self._list.exists() else []
        for name in names:
            path = (self.folder / name).resolve()
            if path.is_relative_to(self.folder.resolve()):
                path.unlink(missing_ok=True)
        self._list.write_text("", encoding="utf-8")

    def claim(self, *paths: Path) -> None:
        """Note that these files are the demo's own."""
        with self._list.open("a", encoding="utf-8") as file:
            file.writelines(f"{path.relative_to(self.folder)}\n" for path in paths)

    def data(self) -> Path:
        """The folder in which the program keeps what is of one computer: the demo's own, never the user's."""
        folder = self.folder / "data"
        self.claim(*(folder / name for name in ("bench.json", "backups.json", "known-heads.json")))
        return folder

    def workbook(self) -> Path:
        """The path of the fresh workbook; raises BenchError where somebody else's file is in the way."""
        path = self.folder / "tarnbeck.workbook"
        if path.exists():
            raise BenchError(f"{path} is not the demo's own file. Move it away, then start the demo again.")
        self.claim(path, Path(f"{path}-wal"), Path(f"{path}-shm"))
        return path
