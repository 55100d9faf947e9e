"""What whole processes cost, against one that only imports what every answer needs."""

import os
import statistics
import subprocess
import sys
import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

FLOOR = ("-c", "import numpy, pydantic")
"""The least a Python program pays that uses these two."""
START = "import sys; sys.argv[0] = 'caddie'; from caddie.cli import run; run()"


@dataclass(frozen=True)
class Cost:
    """Of one run."""

    busy_ms: float
    """Processor time, also of its threads: what else the machine does counts little."""
    wall_ms: float


def caddie(*arguments: str) -> tuple[str, ...]:
    """The arguments of a Python that runs the command line."""
    return ("-c", START, *arguments)


def cost_of(arguments: Sequence[str], env: Mapping[str, str] | None = None) -> Cost:
    """Run this Python once; its bytecode is kept, as an installation keeps it."""
    env = {**os.environ, **(env or {})}
    env.pop("PYTHONDONTWRITEBYTECODE", None)
    begun, before = time.perf_counter(), os.times()
    subprocess.run(
        [sys.executable, *arguments], env=env, check=True, capture_output=True, stdin=subprocess.DEVNULL
    )
    wall_ms, after = (time.perf_counter() - begun) * 1e3, os.times()
    busy_s = after.children_user + after.children_system - before.children_user - before.children_system
    # Where the system does not count the time of children, the clock does.
    return Cost(busy_s * 1e3 or wall_ms, wall_ms)


def over_floor(
    commands: Mapping[str, Sequence[str]], runs: int, env: Mapping[str, str] | None = None
) -> dict[str, list[Cost]]:
    """The costs of each command and of "floor", in turn, so that a busy moment meets all of them."""
    every = {"floor": FLOOR, **commands}
    for arguments in every.values():
        cost_of(arguments, env)
    costs: dict[str, list[Cost]] = {name: [] for name in every}
    for _ in range(runs):
        for name, arguments in every.items():
            costs[name].append(cost_of(arguments, env))
    return costs


def ratio(costs: Mapping[str, Sequence[Cost]], name: str) -> float:
    """Median processor time of a command over that of the floor."""
    busy = {each: statistics.median(cost.busy_ms for cost in costs[each]) for each in (name, "floor")}
    return busy[name] / busy["floor"]
