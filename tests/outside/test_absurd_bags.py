"""Sound TOML that no bag would say, and what follows from the bags that are taken all the same."""

import re
from datetime import datetime

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from caddie.bag.file import LARGEST_BAG_BYTES, bag_problems, load_bag, save_bag
from caddie.bag.slips import bag_notes
from caddie.errors import CaddieError
from caddie.places import shipped
from caddie.range.card import card_html, card_of
from caddie.range.csv_import import import_csv
from caddie.range.fit import fit_carries, with_fit
from caddie.range.gapping import findings
from caddie.reply.bag_picture import bag_picture
from caddie.talk.answer import answer

DEMO = shipped("demo_bag/bag.toml").read_text(encoding="utf-8")
HEAD = "schema = 1\n"
VALUES = list(re.finditer(r"(?<== )[^,}\n\[]+", DEMO))
ABSURD = [
    "nan", "inf", "-inf", "1e308", "1e400", "-0.0", "0", "-1", "1e-320", "9" * 400, "9" * 5000,
    "0x" + "f" * 30, "0x" + "f" * 4000, "true", '"x"', '""', "[]", "{}", "[[[]]]", "1979-05-27", "07:32:00",
    '"a\\nb"', '"\\u001b[2J"', '"\\u202e"', f'"{"x" * 5000}"',
]  # fmt: skip
POSSIBLE = [
    "0", "1", "0.001", "0.01", "0.4", "0.5", "1.5", "3", "12.3456789012345678", "20", "50", "54", "-8", "60",
    "72", "90", "249.9", "4500", "-400", "14000", "100000", '"x"', '"chest"', '"wedge"', '"putter"',
    '"wood"', '"metres"', '"bold"', '"left"', "[]",
]  # fmt: skip
SAID = [
    "seventy yards, fairway, bunker short", "12 footer, downhill", "ten yards, bunker, water long",
    "forty, heavy rough, into the wind", "95 metres", "1 yard, fringe",
]  # fmt: skip
relaxed = settings(suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])


def changed(places, values) -> str:
    """The demo bag with the values at some places replaced."""
    text = DEMO
    for place, value in sorted(zip(places, values, strict=False), reverse=True):
        text = text[: VALUES[place].start()] + value + text[VALUES[place].end() :]
    return text


def places(most):
    return st.lists(st.integers(0, len(VALUES) - 1), min_size=1, max_size=most, unique=True)


@relaxed
@given(at=places(4), values=st.lists(st.sampled_from(ABSURD), min_size=4, max_size=4))
def test_absurd_values_are_taken_or_refused_in_one_line(at, values, tmp_path, watched):
    path = tmp_path / "bag.toml"
    path.write_text(changed(at, values), encoding="utf-8")
    refusal = watched(load_bag, path)
    watched(bag_problems, path)
    assert bool(refusal) == bool(bag_problems(path))


STRUCTURES = {
    "arrays in arrays": HEAD + "x = " + "[" * 55_000 + "]" * 55_000,
    "arrays the reader still follows": HEAD + "x = " + "[" * 200 + "]" * 200,
    "tables in tables": HEAD + "x = " + "{a=" * 5000 + "1" + "}" * 5000,
    "a long table name": HEAD + f"[{'.'.join('a' * 20_000)}]\n",
    "a long key": HEAD + ".".join("a" * 3000) + " = 1\n",
    "a key twice": HEAD + "schema = 1\n",
    "a huge array": HEAD + f"x = [{'1,' * 55_000}]\n",
    "many unknown keys": HEAD + "".join(f"k{n} = 1\n" for n in range(9_000)),
    "many clubs": HEAD
    + "".join(f'[[clubs]]\nid="{n}"\nname="{n}"\nkind="wedge"\nloft_deg=50\n' for n in range(1700)),
    "many bad clubs": HEAD
    + "".join('[[clubs]]\nid="c"\nfoo=1\n[clubs.carries]\nhip={carry="x",shoots=3}\n' for _ in range(1400)),
    "many swings": HEAD + '[[swings]]\nname="s"\nshare=0.5\n' * 3300,
    "open brackets": "[" * 55_000,
    "open quotes": HEAD + '"' * 55_000,
    "dots": HEAD + "a." * 55_000 + "\n",
    "lines of dots": HEAD + "".join(f"[x{n}]\n" + "a." * 49 + "b=1\n" for n in range(1050)),
    "a key, then space": HEAD + "x" + " " * 55_000 + "\n",
    "a table, then space": HEAD + "[a" + " " * 55_000 + "]\n[[clubs]]\n",
    "a complaint, then space": DEMO + "[x]\n" + "y" + " " * 55_000 + "= 1\n",
    "too large": "#" * (LARGEST_BAG_BYTES + 1),
}


@pytest.mark.parametrize("text", STRUCTURES.values(), ids=STRUCTURES)
def test_absurd_structures_are_refused(text, tmp_path, watched):
    path = tmp_path / "bag.toml"
    path.write_text(text, encoding="utf-8")
    assert watched(load_bag, path)


def test_a_damaged_bag_gives_way_to_a_new_one_and_is_kept(tmp_path, bag):
    path = tmp_path / "bag.toml"
    path.write_text(STRUCTURES["arrays the reader still follows"], encoding="utf-8")
    save_bag(bag, path)
    assert load_bag(path) == bag
    assert (tmp_path / "bag.toml.previous").read_text() == STRUCTURES["arrays the reader still follows"]


@settings(relaxed, max_examples=settings().max_examples // 4)
@given(
    at=places(3),
    values=st.lists(st.sampled_from(POSSIBLE), min_size=3, max_size=3),
    said=st.sampled_from(SAID),
)
def test_what_is_taken_can_be_used(at, values, said, tmp_path, watched):
    path = tmp_path / "bag.toml"
    path.write_text(changed(at, values), encoding="utf-8")
    try:
        bag = load_bag(path)
    except CaddieError:
        return
    watched(answer, said, bag)
    watched(lambda: (findings(bag), bag_notes(bag), bag_picture(bag)))
    watched(lambda: card_html(card_of(bag, datetime.now().astimezone(), bag.measured_in)))
    saved = tmp_path / "saved.toml"
    save_bag(bag, saved)
    again = load_bag(saved)
    save_bag(again, saved)
    assert load_bag(saved) == again
    session = shipped("demo_bag/range_session.csv")
    watched(lambda: with_fit(bag, fit_carries([import_csv(session, bag).session], bag), estimates="all"))
