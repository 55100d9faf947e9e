"""``caddie voice try``: sentences read aloud where you play, and how much of them each ear understood."""

import json
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from caddie.cli.consent import agreed
from caddie.cli.options import AsJson, Yes
from caddie.cli.spoken import Microphone, ModelDir
from caddie.errors import CaddieError

if TYPE_CHECKING:
    from collections.abc import Iterable

    from caddie.voice.ears import Heard, Recogniser
    from caddie.voice.own_voice import OwnVoice
    from caddie.voice.sound import Samples

READ_ALOUD = (
    "seventy two yards from the fairway and the pin is at the front",
    "fifteen yards from light rough over a bunker",
    "forty eight yards off a tight lie with the wind behind",
    "i have sixty three to the flag and water short",
    "fifty yards in heavy rough and the green slopes away",
    "eleven paces from the fringe uphill",
    "plugged in the bunker twelve yards to the pin",
    "ninety four yards into the wind with the flag at the back",
    "thirty yards uphill lie pin in the middle",
    "thirteen yards from the bunker with soft sand",
    "eighty five yards ball below my feet and trees long",
    "twenty six yards off pine straw",
    "twenty foot putt downhill breaking right to left",
    "fifty six to the pin and thirty eight to the front",
    "forty yards out of a divot bunker left",
    "eighteen yards over water and the green is firm",
    "one hundred yards with the wind from the right",
    "sixteen paces from the collar and the green is fast",
    "sixty yards from a bare lie bunker short",
    "thirty four yards from wet rough out of bounds over the back",
)
"""What a golfer says on the course; none of it is a sentence that the ears are taught."""
OTHER_TALK = (
    "did you lock the car when we came in",
    "my sister is moving house at the weekend",
    "i would love a cup of coffee after this",
    "the meeting on tuesday was far too long",
    "somebody left the kitchen light on again",
)
"""Talk that a caddie must not answer."""
EARS = ("neural", "pocketsphinx", "vosk")
"""In the order in which equals are preferred."""

_HOW_TO = (
    "Read each line aloud as you would say it on the course, from where the microphone will be. "
    "A line that nobody reads is passed over. Ctrl-C ends it early."
)
_NOT_KEPT = "No recording is kept."


@dataclass(frozen=True)
class EarTried:
    """How much one ear understood of what was read aloud."""

    ear: str
    sentences: int
    first_numbers: int
    """Sentences whose first number came out right."""
    facts: int
    facts_right: int
    refused: int
    """Sentences that were taken for other talk."""
    other_talk: int
    other_taken: int
    """Other talk that was taken for golf."""
    leniency: float
    """What would make fewest mistakes of the last two."""

    @property
    def worth(self) -> tuple[int, int, int]:
        """What ears are compared by: first numbers, then facts, then what was judged right."""
        return self.first_numbers, self.facts_right, -self.refused - self.other_taken


def try_voice(
    model: ModelDir = None,
    microphone: Microphone = None,
    keep: Annotated[Path | None, typer.Option(help="Keep the recordings in this new folder.")] = None,
    recorded: Annotated[
        Path | None, typer.Option("--from", help="Hear the recordings of this folder instead.")
    ] = None,
    forget: Annotated[bool, typer.Option("--forget", help="Forget what an earlier trial set.")] = False,
    yes: Yes = False,
    as_json: AsJson = False,
) -> None:
    """Read twenty sentences aloud and see how well you are heard: caddie voice try."""
    from caddie.voice.own_voice import OwnVoice, keep_own_voice

    if forget:
        _forget(as_json)
        return
    recordings = _recordings(microphone, keep, recorded, as_json)
    tried = [_tried(ear, recordings, model, as_json) for ear in EARS if _there(ear, model)]
    ears = [one for one in tried if one is not None]
    if not ears:
        raise CaddieError("no ear could listen: run `caddie voice check`")
    best = max(ears, key=lambda one: one.worth)
    found = OwnVoice.model_validate({"ear": best.ear, "leniency": round(best.leniency, 2)})
    _show(ears, found, as_json)
    if agreed(f"Listen with the {found.ear} ear from now on, set for this voice?", yes):
        keep_own_voice(found)


def _forget(as_json: bool) -> None:
    from caddie.voice.own_voice import forget_own_voice

    gone = forget_own_voice()
    if as_json:
        typer.echo(json.dumps({"forgotten": gone}))
    else:
        typer.echo("Forgotten: the usual ear listens." if gone else "No trial had set anything.")


def _recordings(
    microphone: str | None, keep: Path | None, recorded: Path | None, as_json: bool
) -> "list[Samples | None]":
    """What was read, a recording or None a sentence."""
    from caddie.voice.microphone import Microphone as Device
    from caddie.voice.trial import empty_folder, keep_recordings, kept_recordings, take_down

    lines = [*READ_ALOUD, *OTHER_TALK]
    if recorded is not None:
        if keep is not None:
            raise CaddieError("give --keep or --from, not both")
        return kept_recordings(recorded, len(lines))
    if keep is not None:
        empty_folder(keep)
    typer.echo(f"{_HOW_TO}{'' if keep else ' ' + _NOT_KEPT}", err=True)

    def show(place: int, line: str) -> None:
        if place == len(READ_ALOUD):
            typer.echo("The last ones are other talk, which the caddie must not answer.", err=True)
        typer.echo(f"{place + 1:>3} of {len(lines)}  {line}", err=True)

    with Device(microphone) as source:
        taken = take_down(source, lines, show)
    if keep is not None:
        keep_recordings(keep, taken)
    if not any(samples is not None for samples in taken[: len(READ_ALOUD)]):
        raise CaddieError("nothing was heard: run `caddie voice check`, which tries the microphone")
    return [*taken, *([None] * (len(lines) - len(taken)))]


def _there(ear: str, model: Path | None) -> bool:
    from caddie.voice.model import find

    return ear != "vosk" or find(model) is not None


def _tried(ear: str, recordings: "list[Samples | None]", model: Path | None, quiet: bool) -> EarTried | None:
    """One ear's figures; None, with a line that says why, where it cannot listen."""
    from caddie.cli.spoken import usual_ears

    if not quiet:
        typer.echo(f"... hearing it with the {ear} ear", err=True)
    try:
        recogniser = usual_ears(model, ear)
    except CaddieError as error:
        typer.echo(str(error), err=True)
        return None
    return figures(ear, _heard(recogniser, recordings))


def _heard(recogniser: "Recogniser", recordings: "list[Samples | None]") -> "list[Heard | None]":
    from caddie.voice.hear import hear_samples

    return [None if samples is None else hear_samples(samples, recogniser) for samples in recordings]


def figures(ear: str, heard: "list[Heard | None]") -> EarTried:
    """How much was understood of the sentences that were read.

    Args:
        ear: its name.
        heard: of each of ``READ_ALOUD`` and then ``OTHER_TALK`` what was heard; None for one not read.
    """
    from caddie.voice.own_voice import best_leniency
    from caddie.words.quantities import first_number

    lines = [*READ_ALOUD, *OTHER_TALK]
    read = [(line, one) for line, one in zip(lines, heard, strict=True) if one is not None]
    golf = [(line, one) for line, one in read if line in READ_ALOUD]
    other = [one for line, one in read if line in OTHER_TALK]
    wanted = [facts(line) for line, _ in golf]
    got = [facts(one.text) for _, one in golf]
    right = sum(
        there.get(name) == value
        for said, there in zip(wanted, got, strict=True)
        for name, value in said.items()
    )
    return EarTried(
        ear=ear,
        sentences=len(golf),
        first_numbers=sum(first_number(line) == first_number(one.text) for line, one in golf),
        facts=sum(map(len, wanted)),
        facts_right=right,
        refused=sum(not one.accepted for _, one in golf),
        other_talk=len(other),
        other_taken=sum(one.accepted for one in other),
        # Without other talk to tell it from, all golf would be let in and all else too.
        leniency=best_leniency(_margins(one for _, one in golf), _margins(other)) if other else 0.0,
    )


def _margins(heard: "Iterable[Heard]") -> list[float]:
    return [one.margin for one in heard if one.margin is not None]


def facts(text: str) -> dict[str, Any]:
    """The fields of the situation that a heard sentence fills, each by its dotted name."""
    from caddie.words import understand

    found = understand(text, from_speech=True).situation
    flat: dict[str, Any] = {}
    for name, value in found.model_dump(mode="json").items():
        parts = value.items() if isinstance(value, dict) else [("", value)]
        flat |= {f"{name}.{part}": kept for part, kept in parts if kept not in (None, [], ())}
    return flat


def _show(ears: list[EarTried], found: "OwnVoice", as_json: bool) -> None:
    if as_json:
        typer.echo(json.dumps({"ears": [asdict(one) for one in ears], "best": found.model_dump(mode="json")}))
        return
    for one in ears:
        typer.echo(f"{one.ear}: first number {_share(one.first_numbers, one.sentences)}, ", nl=False)
        typer.echo(f"facts {_share(one.facts_right, one.facts)}, ", nl=False)
        typer.echo(f"golf refused {one.refused} of {one.sentences}, ", nl=False)
        typer.echo(f"other talk taken {one.other_taken} of {one.other_talk}")
    typer.echo(f"The {found.ear} ear serves this voice best.")
    if found.leniency:
        looser = "more" if found.leniency > 0 else "less"
        typer.echo(f"It would take what you say for golf {looser} readily than usual.")


def _share(part: int, whole: int) -> str:
    """A share with what it may really be: twenty sentences tell no more."""
    from caddie.statistics import wilson_interval

    low, high = wilson_interval(part, whole)
    return f"{part} of {whole} ({100 * low:.0f} to {100 * high:.0f} %)"
