"""What does judging a whole history again cost, beyond reading it from the file?

The floor is the same judgement written straight in numpy over the same columns. Times are those of this process: two
long reads are subtracted from each other, and what else the machine does meanwhile is no part of the question.
"""

import time
from uuid import uuid4

import numpy as np
import pytest

from benchapp.actions.audit.rejudging import rejudge_workbook
from benchapp.actions.entries.days import open_bench
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.workbench.bench import Bench
from benchapp.judgement.uncertainty.budget import Source, combine
from benchapp.sequences.planning.chain_contents import MeterProof
from benchapp.workbook.opened.workbook import Workbook
from tests.actions.conftest import SMALL, Clock
from tests.actions.driving import do_what_is_due
from tests.people import OPENED, staffed

pytestmark = pytest.mark.performance

READINGS = 1_000_000
LOWER, UPPER = 5.5, 7.8
KNOWN = combine([Source("accuracy", 0.0815), Source("resolution", 0.005)])


@pytest.fixture
def history(tmp_path):
    """One unit worked by hand, its coil reading then multiplied with other values in the columns."""
    path = tmp_path / "long.workbook"
    with Bench.create(path, folders=(SMALL,), clock=Clock(), workshop=staffed()) as bench:
        open_bench(bench, by="AB", meters=(MeterProof(meter="tb-m1", proved=True, lead_resistance=0.0),), **OPENED)
        take_in_lot(bench, name="L", equipment="tb-ls1", route="small-check", marks=("TB-001",), by="AB")
        do_what_is_due(bench, "TB-001")
        with bench.workbook.store.kept_transaction() as kept:
            values = np.random.default_rng(1).normal(6.3, 0.5, READINGS)
            shape = (KNOWN.standard, KNOWN.expanded, KNOWN.coverage, KNOWN.dominant, KNOWN.others)
            unit, run = kept.execute("SELECT chain_id, runs.uuid FROM units JOIN runs ON runs.id = run_id").fetchone()
            kept.executemany(
                "INSERT INTO entries (uuid, chain_id, number, run, kind, at, by, bench, address, rules, value, bound, "
                "standard_uncertainty, expanded_uncertainty, coverage, dominant_half_width, "
                "others_standard_uncertainty, rule, judgement, flickers, states_facts, sealed, sha256) "
                "VALUES (?, ?, ?, ?, 'answer', '2026-05-04T09:00:00Z', 'AB', '', 'coils.coil', '1', ?, 'exact', "
                "?, ?, ?, ?, ?, 'guarded', 'pass', 0, 0, '', '')",
                ((str(uuid4()), unit, 100 + n, run, float(value), *shape) for n, value in enumerate(values)),
            )
    return path


def straight(values, standards):
    """Limits, guard band and statement, with nothing around them."""
    guard = KNOWN.expanded / KNOWN.standard * standards
    codes = np.full(len(values), 3, dtype=np.int8)
    codes[(values >= LOWER - guard) & (values <= UPPER + guard)] = 2
    codes[(values >= LOWER) & (values <= UPPER)] = 1
    codes[(values >= LOWER + guard) & (values <= UPPER - guard)] = 0
    return codes


def test_judging_again_costs_little_beyond_the_read(history, tmp_path, capsys):
    file = tmp_path / "coils.yaml"
    text = (SMALL / "sequences" / "coils.yaml").read_text()
    file.write_text(text.replace("accept: from wiring", "accept: between 0.1 ohm and 100 ohm"))
    rejudge_workbook(history, sequence=file)  # what is loaded late is loaded now
    workbook = Workbook.look_at(history)
    started = time.process_time()
    columns = [workbook.judged_columns([run], address) for run, address in workbook.judged_groups()]
    read = time.process_time() - started
    workbook.close()
    started = time.process_time()
    done = rejudge_workbook(history, sequence=file)
    whole = time.process_time() - started
    values = np.concatenate([one.values for one in columns])
    started = time.process_time()
    straight(values, np.full(len(values), KNOWN.standard))
    floor = time.process_time() - started
    beyond = whole - read
    with capsys.disabled():
        print(
            f"\n{done.readings} readings: read {read:.2f} s, judged again in {beyond:.2f} s more; "
            f"plain numpy on ready columns {floor:.3f} s"
        )
    assert done.readings >= READINGS
    assert beyond <= 1.0
