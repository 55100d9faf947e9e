"""WAV headers that lie, cut off or of kinds nobody speaks; read with and without the sound library."""

import struct

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from caddie.voice.sound import read_sound

TONE = struct.pack("<4000h", *(round(8000 * (n % 20 - 10) / 10) for n in range(4000)))
SIZES = [None, 0, 1, 3, 2**31 - 1, 2**31, 2**32 - 1]


def wav(
    kind=1, channels=1, rate=16_000, bits=16, align=None, riff=None, size=None,
    magic=b"RIFF", form=b"WAVE", extra=b"", data=TONE,
):  # fmt: skip
    """A WAV file whose every number can be a lie."""
    order = ">" if magic == b"RIFX" else "<"
    align = channels * bits // 8 & 0xFFFF if align is None else align
    head = struct.pack(f"{order}HHIIHH", kind, channels, rate, rate * align & 0xFFFFFFFF, align, bits) + extra
    chunks = b"fmt " + struct.pack(f"{order}I", len(head)) + head + b"data"
    chunks += struct.pack(f"{order}I", len(data) if size is None else size) + data
    return magic + struct.pack(f"{order}I", len(chunks) + 4 if riff is None else riff) + form + chunks


@pytest.fixture(params=["library", "plain"])
def reader(request, monkeypatch):
    if request.param == "plain":
        monkeypatch.setitem(__import__("sys").modules, "miniaudio", None)
    return read_sound


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
@given(
    fields=st.fixed_dictionaries(
        {},
        optional={
            "kind": st.sampled_from([0, 1, 2, 3, 6, 7, 0x11, 0x31, 0x55, 0xFFFE, 0xFFFF]),
            "channels": st.sampled_from([0, 1, 2, 3, 8, 254, 255, 256, 65535]),
            "rate": st.sampled_from(
                [0, 1, 2, 7, 100, 8000, 44_100, 48_000, 384_000, 10**6, 10**9, 2**32 - 1]
            ),
            "bits": st.sampled_from([0, 1, 4, 7, 8, 12, 16, 24, 32, 64, 65535]),
            "align": st.sampled_from([0, 1, 2, 65535]),
            "riff": st.sampled_from(SIZES),
            "size": st.sampled_from(SIZES),
            "magic": st.sampled_from([b"RIFF", b"RIFX", b"RF64", b"BW64", b"FORM", b"riff"]),
            "form": st.sampled_from([b"WAVE", b"AVI ", b"AIFC"]),
            "extra": st.binary(max_size=40),
        },
    ),
    cut=st.none() | st.integers(0, 60),
)
def test_any_header(fields, cut, reader, tmp_path, watched):
    path = tmp_path / "said.wav"
    path.write_bytes(wav(**fields)[:cut])
    watched(reader, path)


FILES = {
    "a sample a second": wav(rate=1, data=TONE * 200),
    "ten minutes and more": wav(data=bytes(16_000 * 2 * 700)),
    "very high rate": wav(rate=384_000, data=bytes(384_000 * 2 * 60)),
    "many channels": wav(channels=254, data=bytes(254 * 2 * 16_000 * 10)),
    "very many chunks": b"RIFF\xff\xff\xff\xffWAVE" + b"junk\x00\x00\x00\x00" * 300_000,
    "chunks of any size": b"RIFF\xff\xff\xff\xffWAVE" + b"junk\xf8\xff\xff\xff" * 1000,
    "loops": wav() + b"smpl" + struct.pack("<I", 36) + b"\xff" * 36,
    "zeros": bytes(10_000_000),
    "ones": b"\xff" * 10_000_000,
    "FLAC": b"fLaC\x80\x00\x00\x22" + b"\xff" * 34 + b"\xff\xf8" * 1000,
    "OGG": b"OggS" + bytes(1000),
    "MP3": b"ID3\x04\x00\x00\x7f\x7f\x7f\x7f" + bytes(1000) + b"\xff\xfb\x90\x00" * 25_000,
}


@pytest.mark.parametrize("content", FILES.values(), ids=FILES)
def test_any_file(content, reader, tmp_path, watched):
    path = tmp_path / "said.wav"
    path.write_bytes(content)
    watched(reader, path)
