"""How words sound to the embedded recogniser: its dictionary pruned, added to, and given British variants."""

from collections.abc import Iterable
from functools import cache
from pathlib import Path

from caddie.errors import CaddieError

Pronunciations = dict[str, list[str]]

VOWELS = frozenset("AA AE AH AO AW AY EH ER EY IH IY OW OY UH UW".split())

# Words of the trade that the shipped dictionary lacks, in its own phone set (ARPAbet without stress).
ADDED = {
    "babied": ["B EY B IY D"],
    "cozied": ["K OW Z IY D"],
    "flub": ["F L AH B"],
    "flubbed": ["F L AH B D"],
    "unplayable": ["AH N P L EY AH B AH L"],
    "caddie": ["K AE D IY", "K AE D IH"],
    "chuff": ["CH AH F"],
    "deceled": ["D IY S EH L D"],
    "ello": ["EH L OW"],
    "gunge": ["G AH N JH"],
    "gunk": ["G AH NG K"],
    "howzit": ["HH AW Z IH T"],
    "salutations": ["S AE L Y UW T EY SH AH N Z"],
    "divot": ["D IH V AH T"],
    "divots": ["D IH V AH T S"],
    "duffed": ["D AH F T"],
    "duff": ["D AH F"],
    "chunked": ["CH AH NG K T"],
    "shanked": ["SH AE NG K T"],
    "thinned": ["TH IH N D"],
    "skulled": ["S K AH L D"],
    "bladed": ["B L EY D IH D", "B L EY D AH D"],
    "hosel": ["HH OW Z AH L"],
    "lofted": ["L AO F T IH D", "L AO F T AH D", "L AA F T IH D"],
    "pitched": ["P IH CH T"],
    "putted": ["P AH T IH D", "P AH T AH D"],
    "putt": ["P AH T"],
    "putts": ["P AH T S"],
    "stimp": ["S T IH M P"],
    "sidehill": ["S AY D HH IH L"],
    "fescue": ["F EH S K Y UW"],
    "bermuda": ["B ER M Y UW D AH"],
    "heathery": ["HH EH DH ER IY"],
    "gorse": ["G AO R S"],
    "yardage": ["Y AA R D IH JH"],
    "yardages": ["Y AA R D IH JH IH Z"],
    "mounding": ["M AW N D IH NG"],
    "tiered": ["T IH R D"],
    "metres": ["M IY T ER Z"],
    "metre": ["M IY T ER"],
    "stymied": ["S T AY M IY D"],
    "barranca": ["B AH R AE NG K AH"],
    "billabong": ["B IH L AH B AO NG", "B IH L AH B AA NG"],
    "copse": ["K AA P S"],
    "gday": ["G AH D EY"],
    "gimmie": ["G IH M IY"],
    "hiya": ["HH AY Y AH"],
    "kikuyu": ["K IH K UW Y UW"],
    "mown": ["M OW N"],
    "ob": ["OW B IY"],
    "oclock": ["AH K L AA K"],
    "shush": ["SH AH SH"],
    "smidge": ["S M IH JH"],
    "swale": ["S W EY L"],
    "wotcha": ["W AA CH AH"],
    "tailwind": ["T EY L W IH N D"],
    "crosswind": ["K R AO S W IH N D"],
    "upwind": ["AH P W IH N D"],
    "flatstick": ["F L AE T S T IH K"],
    "whins": ["W IH N Z"],
    "pured": ["P Y UH R D"],
    "annua": ["AE N Y UW AH"],
    "paspalum": ["P AE S P AH L AH M"],
    "poa": ["P OW AH"],
    "tiddler": ["T IH D L ER", "T IH D AH L ER"],
    "zoysia": ["Z OY Z IY AH", "Z OY SH AH"],
    "lw": ["EH L D AH B AH L Y UW"],
    "pw": ["P IY D AH B AH L Y UW"],
    "sw": ["EH S D AH B AH L Y UW"],
}

# Words in which southern British speech has the vowel of "palm" and American speech that of "trap".
LONG_A = frozenset(
    "after ask asked bath brass can't cast castle chance class dance disaster draft fast fastest faster "
    "flask france glance glass grass grassy half halfway "
    "last master mast past path paths plant plaster rather "
    "staff task vast pass passed".split()
)

_SUFFIXES = (
    ("'s", "Z"), ("s", "Z"), ("ed", "D"), ("d", "D"), ("ing", "IH NG"), ("er", "ER"), ("y", "IY"),
    ("ish", "IH SH"),
)  # fmt: skip
_UNVOICED = frozenset("P T K F TH S SH CH HH".split())
_HISSING = frozenset("S Z SH ZH CH JH".split())


@cache
def shipped_dictionary(path: str) -> Pronunciations:
    """The recogniser's own dictionary: word to pronunciations.

    Raises:
        CaddieError: if it cannot be read.
    """
    words: Pronunciations = {}
    try:
        with Path(path).open(encoding="utf-8") as lines:
            for line in lines:
                word, _, phones = line.rstrip().partition(" ")
                words.setdefault(word.partition("(")[0], []).append(phones.strip())
    except (OSError, UnicodeDecodeError) as error:
        raise CaddieError(f"{path}: the recogniser's dictionary cannot be read: install it again") from error
    return words


def non_rhotic(phones: str) -> str:
    """A pronunciation as southern British speech has it: no r unless a vowel follows, "lot" rounded.

    After Wells (1982), "Accents of English", volume 1, sections 2.2 and 3.2, mapped to the nearest phones
    of an American set.

    >>> non_rhotic("W AO T ER"), non_rhotic("Y AA R D Z"), non_rhotic("AH R AW N D"), non_rhotic("SH AA T")
    ('W AO T AH', 'Y AA D Z', 'AH R AW N D', 'SH AO T')
    """
    source = phones.split()
    result: list[str] = []
    for place, phone in enumerate(source):
        follower = source[place + 1] if place + 1 < len(source) else ""
        if phone == "R" and follower not in VOWELS:
            if result and result[-1] in ("EH", "IH", "UH", "AW", "AY"):
                result.append("AH")
        elif phone == "ER" and follower in VOWELS:
            result += ["AH", "R"]
        elif phone == "ER" and _unstressed_end(source, place):
            result.append("AH")
        elif phone == "AA" and follower != "R":
            result.append("AO")
        else:
            result.append(phone)
    return " ".join(result)


def _unstressed_end(phones: list[str], place: int) -> bool:
    """Whether the vowel ends the word or stands before its inflection, after another vowel."""
    earlier_vowel = any(phone in VOWELS or phone == "ER" for phone in phones[:place])
    return phones[place + 1 :] in ([], ["Z"], ["D"]) and earlier_vowel


def pronounce(word: str, dictionary: Pronunciations) -> list[str]:
    """Pronunciations of a word, American and British; empty if it is not known and cannot be built.

    A word the dictionary lacks is built from its parts: "upslope" from "up" and "slope", "chunking" from
    "chunk".
    """
    known = (
        ADDED.get(word) or dictionary.get(word) or _inflected(word, dictionary) or _compound(word, dictionary)
    )
    variants = list(known)
    if word in LONG_A:
        variants += [phones.replace("AE", "AA", 1) for phones in known if "AE" in phones.split()]
    variants += [non_rhotic(phones) for phones in variants]
    # The "trap" vowel of today's British speech is open: nearer this set's AA than its AE.
    variants += [phones.replace("AE", "AA") for phones in variants if "AE" in phones.split()]
    return list(dict.fromkeys(variants))


def _known(word: str, dictionary: Pronunciations) -> list[str]:
    return ADDED.get(word) or dictionary.get(word) or []


def _inflected(word: str, dictionary: Pronunciations) -> list[str]:
    for suffix, phones in _SUFFIXES:
        stem = word.removesuffix(suffix)
        if stem == word or len(stem) < (2 if suffix == "'s" else 3):
            continue
        stems = [stem, stem + "e"] + ([stem[:-1]] if stem[-1] == stem[-2] else [])
        for candidate in stems:
            starts = _known(candidate, dictionary) or (
                _compound(candidate, dictionary) if suffix == "'s" else []
            )
            built = [_joined(start, suffix, phones) for start in starts]
            if built:
                return built
    return []


def _joined(start: str, suffix: str, phones: str) -> str:
    last = start.split()[-1]
    if suffix in ("s", "'s"):
        phones = "IH Z" if last in _HISSING else "S" if last in _UNVOICED else "Z"
    elif suffix in ("ed", "d"):
        phones = "IH D" if last in ("T", "D") else "T" if last in _UNVOICED else "D"
    return f"{start} {phones}"


def _compound(word: str, dictionary: Pronunciations) -> list[str]:
    parts = word.split("-") if "-" in word else []
    if not parts:
        splits = [(word[:cut], word[cut:]) for cut in range(2, len(word) - 2)]
        found = [pair for pair in splits if all(_known(part, dictionary) for part in pair)]
        if not found:
            return []
        parts = list(max(found, key=lambda pair: min(map(len, pair))))
    sounds = [_known(part, dictionary)[:1] for part in parts]
    return [" ".join(sound[0] for sound in sounds)] if all(sounds) else []


def missing_words(sentences: Iterable[str], dictionary: Pronunciations) -> list[str]:
    """Words of the sentences that have no pronunciation, sorted: those cannot be recognised."""
    words = {word for sentence in sentences for word in sentence.split()}
    return sorted(word for word in words if not pronounce(word, dictionary))


def dictionary_file(words: Iterable[str], dictionary: Pronunciations) -> str:
    """The text of a recogniser's dictionary of these words with all their variants."""
    lines = []
    for word in sorted(set(words)):
        for number, phones in enumerate(pronounce(word, dictionary), start=1):
            lines.append(f"{word} {phones}" if number == 1 else f"{word}({number}) {phones}")
    return "\n".join([*lines, ""])
