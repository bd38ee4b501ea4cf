"""One command that shows it all: `python3 demo/start.py` (a window), `python3 demo/start.py --no-window` (played)."""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from benchapp import environment  # noqa: E402 - found only after the line above
from benchapp.errors import BenchError  # noqa: E402


def main() -> int:
    """Prepare the machine, then run the demo in its environment."""
    try:
        python = environment.prepare()
    except BenchError as problem:
        print(problem, file=sys.stderr)
        return 2
    try:
        return subprocess.run([python, "-m", "demo.day", *sys.argv[1:]], cwd=ROOT, check=False).returncode
    except KeyboardInterrupt:
        return 130


if __name__ == "__main__":
    raise SystemExit(main())
