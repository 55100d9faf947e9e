"""``caddie page`` run as its own process on a data directory, for tests with a real browser."""

import os
import signal
import socket
import subprocess
import sys
from pathlib import Path

from started import started_before


def free_port() -> int:
    """A port that nobody uses now."""
    with socket.socket() as tried:
        tried.bind(("127.0.0.1", 0))
        return int(tried.getsockname()[1])


class PageServer:
    """The command, which can be killed and started again on the same port."""

    def __init__(self, home: Path, **environment: str) -> None:
        """``environment`` is laid over that of the tests."""
        self.home, self.port, self.environment = home, free_port(), environment
        self.address = ""
        self._process: subprocess.Popen[str] | None = None

    @property
    def site(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def start(self, *options: str) -> None:
        """Start it and wait until it has told its address."""
        started_before(self.home)
        command = [sys.executable, "-u", "-m", "caddie", "page", "--no-open", "--port", str(self.port)]
        environment = {**os.environ, "CADDIE_HOME": str(self.home), **self.environment}
        self._process = subprocess.Popen(
            [*command, *options], env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
        )
        self.address = self.next_line().split()[-1]

    def next_line(self) -> str:
        """The next line it prints."""
        assert self._process is not None and self._process.stdout is not None
        return self._process.stdout.readline()

    def memory_mb(self) -> float:
        """The most memory that the server itself has used; Linux tells it."""
        assert self._process is not None
        status = Path(f"/proc/{self._process.pid}/status").read_text(encoding="ascii")
        return int(status.split("VmHWM:")[1].split()[0]) / 1024

    def interrupt(self) -> str:
        """End it as Ctrl-C does; what it wrote on standard error besides how to end it."""
        assert self._process is not None
        self._process.send_signal(signal.SIGINT)
        _, errors = self._process.communicate(timeout=60)
        self._process = None
        return errors.replace("Ctrl-C ends it.\n", "")

    def kill(self) -> None:
        """End it without a word."""
        if self._process is not None:
            self._process.kill()
            self._process.communicate()
            self._process = None
