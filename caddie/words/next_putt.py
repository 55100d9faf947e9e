"""The putt behind the one just told, by its name: "missed the next one", "pulled the comebacker a foot left"."""

from functools import cache

from caddie.words.round_numbers import RoundNumbers, Ways, marked
from caddie.words.talk_files import talk_data


def next_putt_as_it(text: str) -> str:
    """The words with "it" for the next putt, where it is told to have stayed out; else as they are.

    >>> next_putt_as_it("missed the next one"), next_putt_as_it("then left the comebacker short")
    ('missed it', 'then left it short')
    >>> next_putt_as_it("on the next one now")
    'on the next one now'
    """
    said = RoundNumbers(text)
    ends = [end for _, (end, _) in marked(said, _ways(), {})]
    if not ends:
        return text
    end = max(ends)
    names = [start for start, (stop, _) in marked(said, _names(), {}) if stop == end]
    first, last = said.places[min(names)], said.places[end - 1]
    return f"{text[: first.start]}it{text[last.end :]}"


@cache
def _ways() -> Ways:
    data = talk_data()["next_putt"]
    return Ways.of((data["say"],), {"stayed_out": data["stayed_out"], "name": data["name"]})


@cache
def _names() -> Ways:
    return Ways.of((talk_data()["next_putt"]["name"],), {})
