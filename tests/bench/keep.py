"""How long a hundred thousand shots take: the log read, taught from and reported, a range's table imported."""

import tempfile
from datetime import UTC, datetime
from pathlib import Path

import beside  # noqa: F401  finds long_log and test_csv_import
from invented import PLAYER, invented_season
from long_log import fill_log
from rows import Part, Row, Size, busy_ms, times_row
from test_csv_import import big_table

from caddie.bag import load_bag
from caddie.log.store import Log
from caddie.log.table import read_table
from caddie.log.teach import teach
from caddie.range.csv_import import import_csv
from caddie.report.page import PlayerShots, report_page

READ, TEACH, REPORT = (
    f"100,000 logged shots: {what}" for what in ("read", "taught to the bag", "made into a report page")
)
TABLE = "100,000 rows of a range's table imported"
SHOTS = 100_000


def measure(size: Size) -> list[Row]:
    repeats = size.take(5, 1)
    bag = load_bag()
    read, taught, reported, imported = [], [], [], []
    with tempfile.TemporaryDirectory() as folder:
        with Log(Path(folder) / "log.sqlite3") as log:
            fill_log(log, invented_season(24))
            if log.count() != SHOTS:
                raise AssertionError(f"the log holds {log.count()} shots")
            shots = read_table(log)
            for _ in range(repeats):
                read.append(busy_ms(lambda: read_table(log)) / 1e3)
                taught.append(busy_ms(lambda: teach(bag, shots)) / 1e3)
                page = PlayerShots(PLAYER, shots, bag)
                reported.append(busy_ms(lambda page=page: report_page([page], datetime.now(UTC))) / 1e3)
        path = Path(folder) / "range.csv"
        path.write_text(big_table(SHOTS), encoding="utf-8")
        if len(import_csv(path, bag).session.shots) != SHOTS:
            raise AssertionError("the import lost rows")
        imported = [busy_ms(lambda: import_csv(path, bag)) / 1e3 for _ in range(repeats)]
    return [
        times_row(name, times, "s of processor", "runs")
        for name, times in ((READ, read), (TEACH, taught), (REPORT, reported), (TABLE, imported))
    ]


PART = Part((READ, TEACH, REPORT, TABLE), measure)
