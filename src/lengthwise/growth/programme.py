"""What an arm of a study did, as lifts of the library: read from one line of text.

    back_squat depth_deg=90 + 3 x leg_extension knee_flexion=100..65 + leg_press long

Lifts are joined by `+`. Before a lift may stand its hard sets a week; after it set-up values (`name=value`), a joint angle
between two values in degrees (`angle=from..to`, from the start of the lifting phase; 2° apart for a hold), or `long` or
`short` for a half of the range.
"""

import re
from dataclasses import dataclass
from typing import Literal

from lengthwise.errors import InputError

Part = Literal["full", "long", "short"]
_SETS = re.compile(r"^(\d+(?:\.\d+)?)\s*x\s+")


@dataclass(frozen=True)
class Done:
    """One lift of an arm.

    Attributes:
        lift: its id. part: of the lifting phase. setup: values that differ from the defaults, by name.
        angle: joint angle and the two values it moves between [deg]; None for the whole phase.
        sets: hard sets a week of this lift; None where the arm's own number counts.
    """

    lift: str
    part: Part = "full"
    setup: tuple[tuple[str, float], ...] = ()
    angle: tuple[str, float, float] | None = None
    sets: float | None = None

    @property
    def text(self) -> str:
        """The lift as it is written, without its sets: the name under which its features are kept."""
        words = [self.lift, *(f"{k}={_written(v)}" for k, v in self.setup)]
        words += [f"{self.angle[0]}={_written(self.angle[1])}..{_written(self.angle[2])}"] if self.angle else []
        return " ".join([*words, *([self.part] if self.part != "full" else [])])


def _written(value: float) -> str:
    """A number without the plus sign that would begin another lift."""
    return f"{value:g}".replace("e+", "e")


def programme(text: str) -> tuple[Done, ...]:
    """The lifts of an arm; none where the text is empty.

    Raises:
        InputError: a word that cannot be read.
    """
    return tuple(_done(part.strip()) for part in text.split("+")) if text.strip() else ()


def _done(text: str) -> Done:
    sets = _SETS.match(text)
    lift, *words = text[sets.end() if sets else 0 :].split()
    part: Part = "full"
    setup: dict[str, float] = {}
    angle = None
    for word in words:
        name, equals, value = word.partition("=")
        first, dots, last = value.partition("..")
        if word in ("long", "short"):
            part = word  # type: ignore[assignment]
        elif equals and dots:
            angle = (name, _number(first, text), _number(last, text))
        elif equals:
            setup[name] = _number(value, text)
        else:
            raise _unread(word, text)
    return Done(lift, part, tuple(sorted(setup.items())), angle, float(sets[1]) if sets else None)


def _number(word: str, text: str) -> float:
    try:
        return float(word)
    except ValueError:
        raise _unread(word, text) from None


def _unread(word: str, text: str) -> InputError:
    return InputError(
        f"cannot read {word!r} in {text!r}; write set-up=value, angle=from..to, long or short after the lift",
        asked=text, allowed=["name=value", "angle=from..to", "long", "short"],
    )  # fmt: skip
