"""The names other programs use, and the worked examples in the docstrings."""

import doctest
import importlib
import pkgutil

import pytest

import caddie

MODULES = [
    name
    for _, name, _ in pkgutil.walk_packages(caddie.__path__, "caddie.")
    if not name.startswith(("caddie.voice", "caddie.shipped"))
]


def test_every_public_name_is_there():
    for name in caddie.__all__:
        assert getattr(caddie, name).__module__.startswith("caddie.")


def test_an_unknown_name_is_an_attribute_error():
    with pytest.raises(AttributeError, match="no attribute 'nothing'"):
        caddie.nothing  # noqa: B018


@pytest.mark.parametrize("name", ["caddie", *MODULES])
def test_worked_examples_in_docstrings_hold(name):
    failed, _ = doctest.testmod(importlib.import_module(name))
    assert failed == 0
