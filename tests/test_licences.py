"""README names every package with a copyleft licence that installing caddie brings.

Source: the metadata of the packages themselves, as installed here.
"""

import re
from importlib.metadata import Distribution, PackageNotFoundError, distribution
from pathlib import Path

import pytest
from packaging.requirements import Requirement

README = Path(__file__).parents[1] / "README.md"
COPYLEFT = re.compile(r"GPL|MPL|EUPL|CDDL|\bEPL|Mozilla|GNU", re.IGNORECASE)


def canonical(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def brought(name: str, found: dict[str, Distribution]) -> dict[str, Distribution]:
    """A package and all that it needs, by name, as far as this platform has them."""
    try:
        package = distribution(name)
    except PackageNotFoundError:
        return found
    found[canonical(name)] = package
    for line in package.requires or []:
        need = Requirement(line)
        if canonical(need.name) not in found and (need.marker is None or need.marker.evaluate({"extra": ""})):
            brought(need.name, found)
    return found


def licence(package: Distribution) -> str:
    kinds = [kind for kind in package.metadata.get_all("Classifier", []) if kind.startswith("License")]
    # A whole licence in the field begins with its name.
    stated = (package.metadata.get(field) or "" for field in ("License-Expression", "License"))
    return " ".join([*kinds, *(text[:80] for text in stated)])


@pytest.fixture(scope="module")
def named() -> str:
    return README.read_text(encoding="utf-8").split("## Licences of what it uses")[1].split("\n## ")[0]


def test_every_copyleft_package_is_named(named: str) -> None:
    copyleft = [name for name, package in brought("caddie", {}).items() if COPYLEFT.search(licence(package))]
    assert {"fpdf2", "certifi", "pyttsx3"} <= set(copyleft), "the walk through the packages found too little"
    assert [name for name in copyleft if f"`{name}`" not in named] == []


def test_the_speech_library_is_called_what_it_is(named: str) -> None:
    """It is a dependency on Linux whatever the extras, so no text may call it optional."""
    needs = [Requirement(line) for line in distribution("caddie").requires or []]
    (loader,) = (need for need in needs if need.name == "espeakng-loader")
    assert loader.marker is not None
    assert loader.marker.evaluate({"sys_platform": "linux", "extra": ""})
    assert not loader.marker.evaluate({"sys_platform": "win32", "extra": ""})
    assert "optional" not in named
    assert "shared library" in named
