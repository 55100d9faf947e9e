"""What is printed from the page: the report and the card, each a document that stands alone."""

from datetime import datetime

from caddie.bag import Bag
from caddie.errors import CaddieError
from caddie.log.store import Log
from caddie.log.table import read_table, table_of
from caddie.places import shipped
from caddie.range.card import Card, card_html, card_of
from caddie.range.card_pdf import card_pdf
from caddie.report.page import PlayerShots, report_page

NOTHING_TO_REPORT = "no shots to report on: play some first, or look at the invented season"


def report_paper(log: Log | None, bag: Bag, demo: bool) -> str:
    """The report on everybody in the log, or on the invented season, as a page of HTML.

    Raises:
        CaddieError: if there are no shots.
    """
    if demo:
        from caddie.log.export import read_lines

        table = table_of(read_lines(shipped("demo_bag/season.jsonl")))
    elif log is not None:
        table = read_table(log)
    else:
        raise CaddieError(NOTHING_TO_REPORT)
    parts = [
        PlayerShots(str(name), table.where(table.player == name), bag if name == bag.player.name else None)
        for name in dict.fromkeys(table.player)
    ]
    if not parts:
        raise CaddieError(NOTHING_TO_REPORT)
    return report_page(parts, datetime.now(), bag.player.distances_in)


class CardPaper:
    """The carry card, which in a competition stays the one made before it."""

    def __init__(self) -> None:
        """None is made yet."""
        self._made: Card | None = None

    def card(self, bag: Bag, competition: bool) -> Card:
        """The card of now, or in a competition the last one made.

        Raises:
            CaddieError: if none was made before the competition.
        """
        if not competition:
            self._made = card_of(bag, datetime.now().astimezone())
        if self._made is None:
            raise CaddieError("the card is made before the round: none was")
        return self._made

    def html(self, bag: Bag, competition: bool) -> str:
        """The card as a page of HTML."""
        return card_html(self.card(bag, competition))

    def pdf(self, bag: Bag, competition: bool) -> bytes:
        """The card as PDF."""
        return bytes(card_pdf(self.card(bag, competition)))
