"""The whole table: `python3 -m tests.judge.table`, or of designs by name; `--why` tells each search that went wrong."""

import sys
from collections.abc import Sequence

from tests.judge.counting import HEAD, Count, count, row
from tests.judge.design import designs
from tests.judge.drawing import cases
from tests.judge.trial import SOUND, run, run_sound
from tests.judge.verdicts import GROUP, RIGHT, is_shown, verdict


def main(words: Sequence[str]) -> int:
    """Run and print."""
    chosen = [name for name in designs() if name in words] or list(designs())
    if "--why" in words:
        _say_why(chosen)
    together, lines = Count("all"), [HEAD]
    for name in chosen:
        one = count(name)
        together.add(one)
        lines.append(row(one))
        print(".", end="", flush=True)
    lines.append(row(together))
    widths = [max(len(line[column]) for line in lines) for column in range(len(HEAD))]
    print()
    for line in lines:
        print("  ".join(text.ljust(width) for text, width in zip(line, widths, strict=True)).rstrip())
    return 0


def _say_why(chosen: Sequence[str]) -> None:
    for case in cases():
        if case.design in chosen and case.kind == "steady" and is_shown(case):
            outcome = run(case)
            word = verdict(case, outcome)
            if word not in (RIGHT, GROUP):
                print(
                    f"{case.name}: {word}. {case.faults[0].words}. Read {'; '.join(outcome.read)}. {outcome.sentence}"
                )
    for name in chosen:
        for number in range(SOUND):
            outcome = run_sound(name, number)
            if outcome.named:
                print(f"{name} sound {number}: accused. Read {'; '.join(outcome.read)}. {outcome.sentence}")


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
