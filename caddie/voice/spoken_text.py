"""Text made ready for the ear: numbers as words, signs and short forms of the trade said in full."""

import re

_SMALL = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen "
    "seventeen eighteen nineteen"
).split()
_TENS = "zero ten twenty thirty forty fifty sixty seventy eighty ninety".split()

_CLUBS = {
    "PW": "pitching wedge",
    "AW": "approach wedge",
    "GW": "gap wedge",
    "SW": "sand wedge",
    "LW": "lob wedge",
}
_UNITS = {
    "yd": "yard",
    "yds": "yards",
    "ft": "feet",
    "in": "inches",
    "m": "metres",
    "cm": "centimetres",
    "mph": "miles an hour",
    "kmh": "kilometres an hour",
    "km/h": "kilometres an hour",
    "deg": "degrees",
}
_FRACTIONS = {
    "1/2": "half",
    "1/4": "quarter",
    "3/4": "three-quarter",
    "½": "half",
    "¼": "quarter",
    "¾": "three-quarter",
}
_CLUB_KINDS = {"i": "iron", "w": "wood", "h": "hybrid"}


def number_in_words(number: int) -> str:
    """A whole number in words, as said on a course.

    >>> number_in_words(56), number_in_words(100), number_in_words(-3), number_in_words(1250)
    ('fifty-six', 'one hundred', 'minus three', 'one thousand two hundred and fifty')
    """
    if number < 0:
        return "minus " + number_in_words(-number)
    if number < 20:
        return _SMALL[number]
    if number < 100:
        tens, ones = divmod(number, 10)
        return _TENS[tens] + (f"-{_SMALL[ones]}" if ones else "")
    for size, name in ((1_000_000, "million"), (1000, "thousand"), (100, "hundred")):
        if number >= size:
            many, rest = divmod(number, size)
            joint = " and " if rest and rest < 100 else " "
            return f"{number_in_words(many)} {name}" + (joint + number_in_words(rest) if rest else "")
    raise AssertionError


def _decimal_in_words(text: str) -> str:
    whole, _, part = text.partition(".")
    if len(whole) > 9:
        return " ".join(_SMALL[int(digit)] for digit in whole)
    if not part:
        return number_in_words(int(whole))
    if part == "5":
        return f"{number_in_words(int(whole))} and a half" if int(whole) else "half"
    return f"{number_in_words(int(whole))} point " + " ".join(_SMALL[int(digit)] for digit in part)


def for_the_ear(text: str) -> str:
    """Text a speech engine reads as a caddie would say it.

    >>> for_the_ear("56° SW, 42 yds; land it 3-4 yds short")
    'fifty-six degree sand wedge, forty-two yards; land it three to four yards short'
    >>> for_the_ear("PW or 9i, 2.5 ft, 85% on")
    'pitching wedge or nine iron, two and a half feet, eighty-five percent on'
    """
    spoken = text
    for sign, word in _FRACTIONS.items():
        spoken = re.sub(rf"(?<![\d/]){re.escape(sign)}(?![\d/])", word, spoken)
    for short, full in _CLUBS.items():
        spoken = re.sub(rf"\b{short}\b", full, spoken)
    spoken = re.sub(r"(\d)\s*[-–]\s*(?=\d)", r"\1 to ", spoken)
    spoken = re.sub(r"(?<!\w)[-−](?=\d)", "minus ", spoken)
    spoken = re.sub(r"\b(\d)([iwh])\b", lambda m: f"{m[1]} {_CLUB_KINDS[m[2]]}", spoken)
    spoken = re.sub(r"(\d)\s*%", r"\1 percent", spoken)
    spoken = re.sub(r"(\d)\s*°(?=\s+[a-z]+ (?:wedge|iron)\b|\s+(?:wedge|iron)\b)", r"\1 degree", spoken)
    spoken = re.sub(r"(\d)\s*°", r"\1 degrees", spoken)
    spoken = re.sub(
        r"(\d)\s*(km/h|[a-z]+)\b",
        lambda m: f"{m[1]} {_UNITS[m[2]]}" if m[2] in _UNITS else m[0],
        spoken,
    )
    spoken = re.sub(r"\b1 (yards|feet|metres|degrees)\b", lambda m: f"1 {_single(m[1])}", spoken)
    spoken = re.sub(r"\d+(?:\.\d+)?", lambda m: _decimal_in_words(m[0]), spoken)
    return re.sub(r"\s+", " ", spoken).strip()


def _single(plural: str) -> str:
    return "foot" if plural == "feet" else plural.removesuffix("s")
