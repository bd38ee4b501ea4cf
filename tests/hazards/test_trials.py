"""Every row of the hazard list comes out as asked, or as the exceptions say; every sound unit reaches the sale."""

import re
from pathlib import Path

import pytest

from tests.hazards.sound import run_sound, sound_units
from tests.hazards.table import Line, unexpected
from tests.hazards.trial import routes_of, rows, run, senses
from tests.hazards.units.unit import make_unit
from tests.hazards.verdicts import CAUGHT, HURT, LATE, LEFT, NAMED, STUCK, exceptions, verdict

TRIALS = [(row, trial) for row in rows().values() for trial in row.trials]
EVERYDAY = [(row, row.trials[0]) for row in rows().values() if row.trials]
SOUND = list(sound_units())
USUAL = [one for one in SOUND if one.usual]


def came(row, trial, *, route="", seed=0):
    outcome = run(trial, route=route, seed=seed)
    line = Line(row=row, trial=trial, route=route, outcome=outcome, word=verdict(row, trial, outcome))
    return unexpected(line)


@pytest.mark.parametrize(("row", "trial"), EVERYDAY, ids=[trial.name for _, trial in EVERYDAY])
def test_a_row_is_caught_in_time_or_is_a_known_exception(row, trial):
    assert came(row, trial) == ""


@pytest.mark.thorough
@pytest.mark.parametrize("seed", [0, 1, 2])
@pytest.mark.parametrize(("row", "trial"), TRIALS, ids=[trial.name for _, trial in TRIALS])
def test_every_trial_on_every_route_comes_as_said(row, trial, seed):
    for route in routes_of(trial.design):
        assert came(row, trial, route=route, seed=seed) == ""


@pytest.mark.parametrize("sound", USUAL, ids=[one.name for one in USUAL])
def test_a_sound_unit_reaches_the_sale(sound):
    outcome = run_sound(sound)
    assert outcome.left, outcome


@pytest.mark.thorough
@pytest.mark.parametrize("seed", [0, 1, 2])
@pytest.mark.parametrize("sound", SOUND, ids=[one.name for one in SOUND])
def test_a_sound_unit_reaches_the_sale_on_every_route(sound, seed):
    outcome = run_sound(sound, seed=seed)
    assert outcome.left, outcome


def test_the_list_has_130_rows_and_each_is_tried_or_says_why_not():
    assert len(rows()) == 130
    assert [row.ident for row in rows().values() if bool(row.trials) == bool(row.not_tried)] == []


def test_every_trial_has_its_thing_wrong():
    for _, trial in TRIALS:
        assert set(trial.signs) <= set(senses()), trial.name
        changed = make_unit(trial.design, trial.change)
        sound = make_unit(trial.design)
        same = (changed.parts, changed.cores, changed.switched, changed.about) == (
            sound.parts,
            sound.cores,
            sound.switched,
            sound.about,
        )
        assert not same or trial.signs or trial.truths or trial.way, trial.name


def test_exceptions_are_trials_and_say_what_comes_and_why():
    names = {trial.name for _, trial in TRIALS}
    for name, said in exceptions().items():
        trial, _, route = name.partition(" on ")
        assert trial in names
        assert not route or route in routes_of(trial.split()[1])
        assert said["comes"] != CAUGHT
        assert said["why"]


def test_the_readme_says_how_many_rows_came_out_how():
    order = ["late", "left, named on the tag", "left", "hurt", "stuck"]
    worst = {}
    for name, said in exceptions().items():
        row = name.split()[0]
        worst[row] = max(worst.get(row, "late"), said["comes"], key=order.index)
    tried = sum(1 for row in rows().values() if row.trials)
    counts = [sum(1 for one in worst.values() if one == word) for word in order]
    words = "{} caught in time, {} late, {} sold with their tag naming them, {} sold, "
    words += "{} met by a hand, {} refused without a record"
    readme = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    told = words.format(tried - len(worst), *counts)
    assert f"{tried} of 130 are tried: {told}." in " ".join(readme.split())


def test_the_readme_lists_every_exception_and_every_row_that_is_not_tried():
    readme = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    listed = {}
    for ids, _, comes, _ in re.findall(
        r"^  \| ([A-Z0-9 ]+) \| ([^|]+) \| ([^|]+) \| ([^|]+) \|$", readme, re.MULTILINE
    ):
        listed |= dict.fromkeys(ids.split(), comes)
    begins = {
        LATE: "late",
        NAMED: "sold, named on the tag",
        LEFT: "sold as sound",
        HURT: "met by a hand",
        STUCK: "refused",
    }
    told = {name.split()[0]: begins[said["comes"]] for name, said in exceptions().items()}
    assert listed.keys() == told.keys()
    assert all(listed[row].startswith(words) for row, words in told.items())
    untried = re.search(r"(\d+) rows are not tried,[^:]+: ([A-Z0-9\s]+) \(", readme)
    assert untried is not None
    ids = {name for name, row in rows().items() if row.not_tried}
    assert (int(untried[1]), set(untried[2].split())) == (len(ids), ids)
