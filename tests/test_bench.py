"""The benchmark's command runs, and the table of results has its rows."""

import json
import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
TABLE = re.compile(r"<!-- benchmark: [^\n]+ -->\n(.*?)<!-- end of benchmark -->", re.S)


def bench(*arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "tests/bench", *arguments], capture_output=True, text=True, cwd=ROOT, timeout=240
    )


def names(*arguments: str) -> list[str]:
    return bench("--names", *arguments).stdout.splitlines()


def test_one_part_prints_its_rows_and_what_they_were_measured_on():
    done = bench("--only", "words", "--quick", "--json")
    assert done.returncode == 0, done.stderr
    printed = json.loads(done.stdout)
    assert set(printed) == {"date", "machine", "software", "load", "run", "rows"}
    assert [row["name"] for row in printed["rows"]] == names("--only", "words")
    for row in printed["rows"]:
        assert 0.02 < row["figure"] < 1000, "no reading of a sentence is free"
        assert row["count"] > 500
        assert row["spread"]


def test_the_results_have_a_row_for_each_name_the_command_prints():
    results = (ROOT / "tests" / "bench" / "RESULTS.md").read_text(encoding="utf-8")
    rows = TABLE.search(results)[1].strip().splitlines()[2:]
    told = [row.split(" | ")[0].removeprefix("| ") for row in rows if row.startswith("| ")]
    assert told[2:] == names(), "run the benchmark with --write"
    assert len(set(told)) == len(told)


def test_a_part_that_is_none_and_half_a_table_are_refused():
    for wrong in (["--only", "wrods"], ["--only", "words", "--write"]):
        done = bench(*wrong)
        assert done.returncode == 2
        assert "Traceback" not in done.stderr
