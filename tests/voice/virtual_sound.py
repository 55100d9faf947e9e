"""A private sound server whose loudspeaker is recorded and whose microphone is spoken into, for tests.

Needs PulseAudio's programs (Debian: pulseaudio, pulseaudio-utils). Nothing of the machine's own sound is
touched: the server has its own socket in a folder of its own.
"""

import os
import shutil
import subprocess
import tempfile
import time
import wave
from pathlib import Path

import numpy as np

PROGRAMS = ("pulseaudio", "pactl", "paplay", "parec")
SPEAKER_RATE_HZ = 48_000


class VirtualSound:
    """The server, its loudspeaker "TestSpeaker" and its microphone "TestMic"."""

    def __init__(self, microphone_rate_hz: int = 48_000, microphone_channels: int = 1) -> None:
        missing = [program for program in PROGRAMS if shutil.which(program) is None]
        if missing:
            raise RuntimeError(
                f"{', '.join(missing)} not found: install Debian's pulseaudio and pulseaudio-utils "
                'or run the tests without them: pytest -m "not system_audio"'
            )
        self._microphone = (microphone_rate_hz, microphone_channels)
        # The socket's path must be short, so it does not live in pytest's own folder.
        self.folder = Path(tempfile.mkdtemp(prefix="snd"))
        self._kept = {name: os.environ.get(name) for name in ("PULSE_SERVER", "XDG_RUNTIME_DIR")}
        os.environ["PULSE_SERVER"] = f"unix:{self.folder}/native"
        os.environ["XDG_RUNTIME_DIR"] = str(self.folder)
        self._server = subprocess.Popen(
            [
                "pulseaudio", "-n", "--daemonize=no", "--exit-idle-time=-1", "--use-pid-file=no",
                "--disable-shm=yes", "--realtime=no", "--high-priority=no", "--log-level=error",
                "-L", f"module-native-protocol-unix socket={self.folder}/native auth-anonymous=1",
                "-L", f"module-null-sink sink_name=speaker format=s16le rate={SPEAKER_RATE_HZ} channels=2 "
                "sink_properties=device.description=TestSpeaker",
            ],
            env={**os.environ, "HOME": str(self.folder)},
            stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        deadline = time.monotonic() + 10
        while self._pactl("info", check=False) is None:
            if time.monotonic() > deadline or self._server.poll() is not None:
                self.close()
                raise RuntimeError("the private sound server does not start")
            time.sleep(0.05)
        self._pactl("set-default-sink", "speaker")
        self._modules: list[str] = []
        self.plug_in()
        self._recorder: subprocess.Popen[bytes] | None = None

    def plug_in(self) -> None:
        """Give the machine its microphone."""
        rate_hz, channels = self._microphone
        self._modules = [
            self._load(
                "module-null-sink", "sink_name=mic_feed", "format=s16le", f"rate={rate_hz}",
                f"channels={channels}", "sink_properties=device.description=MicFeed",
            ),
            self._load(
                "module-remap-source", "source_name=mic", "master=mic_feed.monitor",
                "source_properties=device.description=TestMic",
            ),
        ]  # fmt: skip
        self._pactl("set-default-source", "mic")

    def unplug(self) -> None:
        """Take the microphone away, as when its plug is pulled."""
        for module in reversed(self._modules):
            self._pactl("unload-module", module)
        self._modules = []

    def speak(self, path: Path) -> subprocess.Popen[bytes]:
        """Play a file into the microphone; the process ends when it has been said."""
        return subprocess.Popen(["paplay", "--device=mic_feed", str(path)])

    def record(self) -> None:
        """Begin to record what the loudspeaker plays."""
        self._recorder = subprocess.Popen(
            [
                "parec", "--device=speaker.monitor", "--format=s16le", f"--rate={SPEAKER_RATE_HZ}",
                "--channels=1", "--raw", "--latency-msec=20", str(self.folder / "recorded.raw"),
            ]
        )  # fmt: skip
        deadline = time.monotonic() + 5
        target = self.folder / "recorded.raw"
        # A monitor wakes slowly; what is played before the first samples arrive would be lost.
        while not (target.exists() and target.stat().st_size) and time.monotonic() < deadline:
            time.sleep(0.02)

    def recorded(self) -> np.ndarray:
        """End the recording: what the loudspeaker played, mono int16 at 48 kHz."""
        time.sleep(0.2)
        assert self._recorder is not None
        self._recorder.terminate()
        self._recorder.wait()
        self._recorder = None
        raw = (self.folder / "recorded.raw").read_bytes()
        (self.folder / "recorded.raw").unlink()
        return np.frombuffer(raw[: len(raw) // 2 * 2], np.int16)

    def close(self) -> None:
        """End the server and put the environment back."""
        recorder = getattr(self, "_recorder", None)
        if recorder is not None:
            recorder.terminate()
            recorder.wait()
        self._server.terminate()
        self._server.wait()
        for name, value in self._kept.items():
            if value is None:
                os.environ.pop(name, None)
            else:
                os.environ[name] = value
        shutil.rmtree(self.folder, ignore_errors=True)

    def _load(self, *arguments: str) -> str:
        answer = self._pactl("load-module", *arguments)
        assert answer is not None
        return answer.strip()

    def _pactl(self, *arguments: str, check: bool = True) -> str | None:
        done = subprocess.run(["pactl", *arguments], capture_output=True, text=True, check=False)
        if done.returncode != 0:
            if check:
                raise RuntimeError(f"pactl {' '.join(arguments)}: {done.stderr.strip()}")
            return None
        return done.stdout


def write_test_wav(path: Path, samples: np.ndarray, rate_hz: int) -> None:
    """A mono WAV written by the standard library alone."""
    with wave.open(str(path), "wb") as target:
        target.setnchannels(1)
        target.setsampwidth(2)
        target.setframerate(rate_hz)
        target.writeframes(samples.astype("<i2").tobytes())
