"""Where a template ends in what was said, held against every way of saying it written out."""

from hypothesis import given
from hypothesis import strategies as st

from caddie.words.matching import MOST_BETWEEN, Said
from caddie.words.templates import Choice, Node, Sequence, Slot, Word, expansions, parse

PARTS = {"thing": "(flag|pin)", "way": "[the] {thing}"}
_WORDS = st.sampled_from(["the", "deep", "rough", "flag", "pin", ".."])
_NODES: st.SearchStrategy[Node] = st.recursive(
    st.builds(Word, _WORDS) | st.builds(Slot, st.sampled_from(sorted(PARTS))),
    lambda inner: (
        st.builds(Sequence, st.lists(inner, max_size=3).map(tuple))
        | st.builds(Choice, st.lists(inner, min_size=1, max_size=3).map(tuple))
    ),
    max_leaves=6,
)


def _part(name: str) -> Node:
    return parse(PARTS[name])


def _ends(pattern: tuple[str, ...], words: tuple[str, ...], start: int) -> set[int]:
    """Where one way of saying a template ends, gaps and slots in it."""
    if not pattern:
        return {start}
    first, rest = pattern[0], pattern[1:]
    if first == "..":
        behind = range(start, min(start + MOST_BETWEEN, len(words)) + 1)
        return {end for at in behind for end in _ends(rest, words, at)}
    if first.startswith("{"):
        ways = expansions(_part(first[1:-1]))
        return {end for way in ways for end in _ends((*way, *rest), words, start)}
    return _ends(rest, words, start + 1) if words[start : start + 1] == (first,) else set()


@given(
    node=_NODES,
    words=st.lists(_WORDS.filter(lambda word: word != ".."), max_size=9).map(tuple),
    data=st.data(),
)
def test_a_template_ends_where_one_of_its_ways_of_saying_ends(
    node: Node, words: tuple[str, ...], data: st.DataObject
) -> None:
    start = data.draw(st.integers(0, len(words)))
    places = Said(words, _part).ends(node, start)
    written_out = {end for way in expansions(node) for end in _ends(way, words, start)}
    assert {place for place in range(len(words) + 1) if places >> place & 1} == written_out
    assert places >> len(words) + 1 == 0
