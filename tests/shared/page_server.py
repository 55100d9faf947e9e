"""``caddie page`` run as its own process on a data directory, for tests with a real browser."""

import os
import socket
import subprocess
import sys
from pathlib import Path


def free_port() -> int:
    """A port that nobody uses now."""
    with socket.socket() as tried:
        tried.bind(("127.0.0.1", 0))
        return int(tried.getsockname()[1])


class PageServer:
    """The command, which can be killed and started again on the same port."""

    def __init__(self, home: Path) -> None:
        self.home, self.port = home, free_port()
        self.address = ""
        self._process: subprocess.Popen[str] | None = None

    @property
    def site(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def start(self) -> None:
        """Start it and wait until it has told its address."""
        command = [sys.executable, "-m", "caddie", "page", "--no-open", "--port", str(self.port)]
        environment = {**os.environ, "CADDIE_HOME": str(self.home)}
        self._process = subprocess.Popen(command, env=environment, stdout=subprocess.PIPE, text=True)
        assert self._process.stdout is not None
        self.address = self._process.stdout.readline().split()[-1]

    def kill(self) -> None:
        """End it without a word."""
        if self._process is not None:
            self._process.kill()
            self._process.wait()
            assert self._process.stdout is not None
            self._process.stdout.close()
            self._process = None
