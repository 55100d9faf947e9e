"""How long a hundred thousand shots take: the log read, taught from and reported, a range's table imported."""

import random
import tempfile
from datetime import UTC, datetime
from pathlib import Path

from rows import Part, Row, Size, busy_ms, times_row

from caddie.bag import load_bag
from caddie.bag.csv_import import import_csv
from caddie.log.invented import PLAYER, invented_season
from caddie.log.store import Log
from caddie.log.table import read_table
from caddie.log.teach import teach
from caddie.practice.report import PlayerShots, report_page

READ, TEACH, REPORT = (
    f"100,000 logged shots: {what}" for what in ("read", "taught to the bag", "made into a report page")
)
TABLE = "100,000 rows of a range's table imported"
SHOTS = 100_000


def fill(log: Log) -> None:
    """A thousand invented shots, and the same in each of the next 99 years."""
    log.add_all(invented_season(24)[:1000])
    names = [row[1] for row in log.connection.execute("PRAGMA table_info(shots)")]
    others = ", ".join(name for name in names if name not in ("id", "time"))
    with log.transaction("written"):
        for year in range(2027, 2126):
            log.connection.execute(
                f"INSERT INTO shots (time, {others}) SELECT ? || substr(time, 5), {others} FROM shots "
                "WHERE id <= 1000",
                [str(year)],
            )


def range_table(rows: int) -> str:
    rng = random.Random(1)
    lines = ["Shot,Club,Swing,Carry [yd],Side [yd],Ball Speed [mph],Launch Angle,Spin Rate"]
    for index in range(rows):
        lines.append(f"{index},56,half,{rng.gauss(65, 3):.1f},{rng.gauss(0, 3):.1f},61.3,32.1,7250")
    return "\n".join(lines)


def measure(size: Size) -> list[Row]:
    repeats = size.take(5, 1)
    bag = load_bag()
    read, taught, reported, imported = [], [], [], []
    with tempfile.TemporaryDirectory() as folder:
        with Log(Path(folder) / "log.sqlite3") as log:
            fill(log)
            if log.count() != SHOTS:
                raise AssertionError(f"the log holds {log.count()} shots")
            shots = read_table(log)
            for _ in range(repeats):
                read.append(busy_ms(lambda: read_table(log)) / 1e3)
                taught.append(busy_ms(lambda: teach(bag, shots)) / 1e3)
                page = PlayerShots(PLAYER, shots, bag)
                reported.append(busy_ms(lambda page=page: report_page([page], datetime.now(UTC))) / 1e3)
        path = Path(folder) / "range.csv"
        path.write_text(range_table(SHOTS), encoding="utf-8")
        if len(import_csv(path, bag).session.shots) != SHOTS:
            raise AssertionError("the import lost rows")
        imported = [busy_ms(lambda: import_csv(path, bag)) / 1e3 for _ in range(repeats)]
    return [
        times_row(name, times, "s of processor", "runs")
        for name, times in ((READ, read), (TEACH, taught), (REPORT, reported), (TABLE, imported))
    ]


PART = Part((READ, TEACH, REPORT, TABLE), measure)
