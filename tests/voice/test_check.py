from pathlib import Path

import pytest

from caddie.voice.check import check_voice
from caddie.voice.mouth import MouthSettings


def test_a_machine_without_devices_is_told_what_still_works(
    sentences: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(__import__("sys").modules, "miniaudio", None)
    lines: list[str] = []
    findings = {finding.subject: finding for finding in check_voice(sentences, tell=lines.append)}
    assert [findings[subject].works for subject in ("recogniser", "speech")] == [True, True]
    for subject in ("loudspeaker", "microphone"):
        assert not findings[subject].works
        assert "pip install miniaudio" in findings[subject].what
        assert findings[subject].advice
    assert len(lines) == 4
    assert all("\n" not in finding.what + finding.advice for finding in findings.values())


def test_each_missing_part_is_named(
    sentences: list[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    for module in ("miniaudio", "pocketsphinx"):
        monkeypatch.setitem(__import__("sys").modules, module, None)
    findings = check_voice(sentences, settings=MouthSettings(voice="nobody"))
    assert [(finding.subject, finding.works) for finding in findings] == [
        ("recogniser", False), ("speech", False), ("loudspeaker", False), ("microphone", False),
    ]  # fmt: skip
    assert "pip install pocketsphinx" in findings[0].what
    assert "no voice is named nobody" in findings[1].what
    assert all(finding.advice for finding in findings)
