import re
from datetime import datetime

import pytest

from caddie.bag import Bag, Conditions, Handed
from caddie.errors import CaddieError
from caddie.range.card import card_html, card_of
from caddie.range.card_pdf import card_pdf

MADE = datetime(2026, 5, 2, 7, 30)


def test_the_matrix_is_the_bags(bag: Bag) -> None:
    card = card_of(bag, MADE)
    assert card.swings == ("hip", "chest", "shoulder", "full")
    rows = {row.club: row.cells for row in card.rows}
    assert rows["56"] == ("24 ± 2", "65 ± 3", "80 ± 4", "92 ± 6")
    assert rows["8i"][2] is None
    assert "putter" not in rows
    assert card.trusted[0] == "putt from off the green: 80%"


def test_it_says_when_it_was_made_and_what_the_rules_say(bag: Bag) -> None:
    card = card_of(bag, MADE)
    for text in (card_html(card), card.made_text + card.rule):
        assert "Made before the round on 02 May 2026 at 07:30." in text
        assert "4.3a(3)" in text
    assert "local rules decide" in card.rule


def test_estimates_are_marked(bag: Bag) -> None:
    club = bag.clubs[0]
    guess = club.carries[3].model_copy(update={"shots": 0})
    bag = bag.model_copy(
        update={"clubs": (club.model_copy(update={"carries": (*club.carries[:3], guess)}), *bag.clubs[1:])}
    )
    assert card_of(bag, MADE).rows[0].cells[3] == "~70"


def test_warm_air_carries_farther_and_wind_and_height_have_the_right_sign(bag: Bag) -> None:
    cold = card_of(bag, MADE, Conditions(temperature_c=0))
    warm = card_of(bag, MADE, Conditions(temperature_c=35))

    def carry(card: object) -> int:
        return int(re.match(r"\d+", card.rows[3].cells[3]).group())  # type: ignore[attr-defined, union-attr]

    assert carry(warm) - carry(cold) >= 3
    change = {name: [int(cell) for cell in cells] for name, cells in card_of(bag, MADE).weather}
    assert all(each < 0 for each in change["10 mph ahead"])
    assert all(each > 0 for each in change["10 mph behind"])
    # A headwind costs more than the same wind behind gives (common practice: twice as much).
    # In whole yards the shortest shot's two may be the same.
    lost, gained = change["10 mph ahead"], change["10 mph behind"]
    assert all(-a >= b for a, b in zip(lost, gained, strict=True))
    assert all(-a > b for a, b in zip(lost[1:], gained[1:], strict=True))
    assert all(each < 0 for each in change["green 5 yards above"])
    assert all(each > 0 for each in change["green 5 yards below"])


def test_left_handers_miss_the_other_way(bag: Bag) -> None:
    left = bag.model_copy(update={"player": bag.player.model_copy(update={"handed": Handed.LEFT})})
    assert "ball above the feet: tends left" in " ".join(card_of(bag, MADE).stances)
    assert "ball above the feet: tends right" in " ".join(card_of(left, MADE).stances)


def test_the_pdf_is_one_page(bag: Bag) -> None:
    pdf = card_pdf(card_of(bag, MADE))
    assert pdf.startswith(b"%PDF-")
    assert len(re.findall(rb"/Type /Page\b", pdf)) == 1
    assert b"/Count 1" in pdf
    odd = bag.model_copy(update={"player": bag.player.model_copy(update={"name": "Рован — 松"})})
    assert card_pdf(card_of(odd, MADE)).startswith(b"%PDF-")
    many = bag.model_copy(
        update={
            "clubs": tuple(
                club.model_copy(update={"id": f"{club.id}{i}"}) for club in bag.clubs[:4] for i in range(4)
            )
        }
    )
    assert b"/Count 1" in card_pdf(card_of(many, MADE))


def test_a_bag_without_carries_has_no_card(bag: Bag) -> None:
    bare = bag.model_copy(
        update={"clubs": tuple(club.model_copy(update={"carries": ()}) for club in bag.clubs)}
    )
    with pytest.raises(CaddieError, match="no carry to print"):
        card_of(bare, MADE)


def test_names_are_escaped(bag: Bag) -> None:
    odd = bag.model_copy(update={"player": bag.player.model_copy(update={"name": "<script>x"})})
    assert "<script>" not in card_html(card_of(odd, MADE))
