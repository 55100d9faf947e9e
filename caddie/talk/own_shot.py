"""A shot that was advised, in the words that the reader of words takes for its club and swing."""

from collections.abc import Iterator

from caddie.bag import Bag
from caddie.plan.option import Option
from caddie.words import understand


def meaning_of_shot(option: Option, bag: Bag) -> str:
    """Club and swing, or the club alone where no words name the swing, as the reader of words reads them back.

    An empty text when it knows no word for the club either.
    """
    club = bag.club_called(option.club)
    names = (option.club,) if club is None else (club.name, *club.said, club.id)
    for text, swing in _ways(names, option.swing):
        heard = understand(text)
        found = bag.club_called(heard.club) if heard.club else None
        if found is not None and found.id == option.club and heard.swing == swing and not heard.left_over:
            return text
    return ""


def _ways(names: tuple[str, ...], swing: str) -> Iterator[tuple[str, str | None]]:
    for name in names:
        yield f"{swing} swing with the {name}", swing
    for name in names:
        yield f"the {name}", None
