"""Text to plain words: one spelling for apostrophes, signs, contractions and slips of the finger."""

import re
import unicodedata
from collections.abc import Container, Iterator
from dataclasses import dataclass
from string import ascii_lowercase

FRACTIONS = "½¾¼"
LONGEST_TEXT = 600
"""Characters; longer text is not one situation."""

_SIGNS = str.maketrans(
    {
        "’": "'",
        "‘": "'",
        "ʼ": "'",
        "`": "'",
        "′": "'",
        "“": '"',
        "”": '"',
        "″": '"',
        "–": "-",
        "—": " , ",
        "‐": "-",
        "‑": "-",
        "−": "-",
        "…": " , ",
        "°": " degrees ",
        "º": " degrees ",
        "%": " percent ",
        "&": " and ",
        "@": " at ",
        "~": " about ",
        "½": "½",
        "¾": "¾",
        "¼": "¼",
    }
)

_REWRITES = tuple(
    (re.compile(pattern), replacement)
    for pattern, replacement in (
        (r"(?<=\d)½", ".5"),
        (r"(?<=\d) ?¼", ".25"),
        (r"(?<=\d) ?¾", ".75"),
        (r"½|\b1/2\b", " half "),
        (r"¾|\b3/4\b", " three quarter "),
        (r"¼|\b1/4\b", " quarter "),
        (r"\bd/h(?:ill)?\b", " downhill "),
        (r"\bu/h(?:ill)?\b", " uphill "),
        (r"\bw/", " with "),
        (r"\bf/w\b", " fairway "),
        (r"\bf[ /]?(?=\d)", " front "),
        (r"\bp[ /]?(?=\d)", " pin "),
        (r"(?<=\d|[a-z]) 2 (?=(?:the )?(?:pin|flag|hole|stick|cup|green|front)\b)", " to "),
        (r"(?<=\b(?:what|need|want)) 2 (?=[a-z])|(?<=\b(?:wot|how|got)) 2 (?=[a-z])", " to "),
        (r"(?<=\d\d)/(?=\d\d)", " to "),
        (r"\bh2[o0]\b", " water "),
        (r"\bkm/h\b|\bkm/hr\b", " kph "),
        (r"\bm/s\b", " mps "),
        (r"\b(l|r)(?: ?- ?| )to(?: ?- ?| )(l|r)\b", r" \1 to \2 "),
        (r"\bl\s?to\s?r\b|\bl2r\b", " left to right "),
        (r"\br\s?to\s?l\b|\br2l\b", " right to left "),
        (r"\bl ?[-/>]+ ?r\b", " left to right "),
        (r"\br ?[-/>]+ ?l\b", " right to left "),
        (r"\b([3-9])i\b", r"\1 iron"),
        (r"\b1st (?=cut\b)", " first "),
        (r"\b2nd (?=cut\b)", " second "),
        (r"\b\d+(?:st|nd|rd|th)\b", " nth "),
        (r"\b(?:approx|ca?|est|abt)\. ?(?=\d)", " about "),
        (r"\bfr ?(?=\d)", " front "),
        (r"\+ ?/ ?-", " plus or minus "),
        (r"(?<!\d)\* ?(?=\d)", " , correction , "),
        (r"(?<=[a-z]): ?(?=\d)", " "),
        (r"(?<![\d+]) ?\+ ?(?=\d)", " another "),
        (r"(?<=\d),(?=\d{3}\b)", ""),
        (r"(\d+(?:\.\d+)?) ?' ?(\d+(?:\.\d+)?) ?(?:\"|''|in\b)?", r" \1 feet \2 inches "),
        (r"(?<=\d) ?(?:\"|'')", " inches "),
        (r"(?<=\d)'(?!\w)", " feet "),
        (r"(?<=\d)\s*-\s*(?=\d)", " to "),
        (r"(?:(?<=\s)|^)-\s*(?=\d)", " minus "),
        (r"(?<![\w'])t'(?=(?:ree|irty|irteen|ick|in lie|ink)\b)", "th"),
        (r"(?<![\w'])th' ?(?=[a-z'])", " the "),
        (r"(?<![\w'])(?:(i|o|on|to)')?t' ?(?=[a-z])", r" \1 the "),
        (r"\bo' ?(?=[a-z\s])(?!clock|er\b)", " of "),
        (r"(?<![\w'])i' (?=[a-z])", " in "),
        (
            r"(?<![\w'])'(?=(?:ole|igh|igher|ard|arder|alf|alfway|eavy|ill|undred|azard|ead|ands|ow|ere)s?\b)",
            "h",
        ),
        (r"(?<=[a-z] )o (?=[a-z]{2})(?!clock|(?:one|two|three|four|five|six|seven|eight|nine)\b)", "of "),
        (r"(?<!')\bno'(?!\w)", " not"),
        (r"(?<=[a-z]{2}in)'(?!\w)", "g"),
        (r"\bain't\b", " is not"),
        (r"\bn't\b", " not"),
        (r"\b(ca|wo|sha)n't\b", r"can not"),
        (r"n't\b", " not"),
        (r"\blet's\b", "let us"),
        (r"\bcannot\b", "can not"),
        (r"'ve\b", " have"),
        (r"'re\b", " are"),
        (r"'ll\b", " will"),
        (r"'m\b", " am"),
        (r"'d\b", " would"),
        (r"\bk's\b", "ks"),
        (r"'s\b", " is"),
    )
)
_TOKEN = re.compile(r"\d+(?:\.\d+)?|[^\W\d_]+(?:'[^\W\d_]+)?|[,.;:!?()/\-]|\S")
_BREAKS = frozenset(",.;:!?()/")


@dataclass(frozen=True, slots=True)
class Token:
    """A word of the utterance; ``after_break`` when a comma or full stop stands before it."""

    text: str
    after_break: bool = False


def tokens(text: str) -> tuple[Token, ...]:
    """The plain words of a text.

    >>> [token.text for token in tokens("Flag’s 6'6\\" away, 65-70yds")]
    ['flag', 'is', '6', 'feet', '6', 'inches', 'away', '65', 'to', '70', 'yds']
    """
    return tuple(_tokens(text))


def plain(text: str) -> str:
    """A text in small letters with one spelling for each sign and digit.

    >>> plain("Flag’s ７０–75")
    "flag's 70-75"
    """
    one_sign = text.translate(_SIGNS)
    return (one_sign if one_sign.isascii() else _without_accents(one_sign)).lower()


def _tokens(text: str) -> Iterator[Token]:
    spelled = plain(text)
    for pattern, replacement in _REWRITES:
        spelled = pattern.sub(replacement, spelled)
    pause = False
    for part in _TOKEN.findall(spelled):
        if part in _BREAKS:
            pause = True
        elif part[0].isalnum():
            yield Token(part.replace("'", ""), pause)
            pause = False


def _without_accents(text: str) -> str:
    kept = "".join(sign if sign in FRACTIONS else unicodedata.normalize("NFKD", sign) for sign in text)
    return "".join(sign for sign in kept if not unicodedata.combining(sign))


def nearest(word: str, wanted: Container[str], real: Container[str]) -> str | None:
    """The wanted word one slip of the finger away from a word that is none, else ``None``.

    A slip is two letters swapped, one left out, one doubled or added, one hit wrong. The first letter
    is trusted, words of four letters only lack one or have two swapped, and a real word stays.

    >>> nearest("fiarway", {"fairway"}, set()), nearest("bunkr", {"bunker"}, {"banker"})
    ('fairway', 'bunker')
    """
    if not 4 <= len(word) <= 16 or word in wanted or word in real or not word.isalpha():
        return None
    return next((slip for slip in _slips(word) if slip in wanted), None)


def _slips(word: str) -> Iterator[str]:
    for i in range(1, len(word) - 1):
        yield word[:i] + word[i + 1] + word[i] + word[i + 2 :]
    for i in range(1, len(word) + 1):
        for letter in ascii_lowercase:
            yield word[:i] + letter + word[i:]
    if len(word) < 5:
        return
    for i in range(1, len(word)):
        yield word[:i] + word[i + 1 :]
    for i in range(1, len(word)):
        for letter in ascii_lowercase:
            yield word[:i] + letter + word[i + 1 :]
