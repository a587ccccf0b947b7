"""One line of text for the sets of a lift, such as `3x8 @ 60 r2`.

    line   = part { ";" part } [ "#" note ]
    part   = sets "@" loads { word }
    sets   = number "x" number | number { "," number }        three of eight; or eight, eight and seven
    loads  = load { "/" load }                                 one for all sets, or one for each
    load   = number [ unit ] | "bw" [ ("+" | "-") number [ unit ] ] | [ word ] "band"
    unit   = "kg" | "lb"
    word   = "r" number { "/" number }                         repetitions in reserve, one for all sets or one for each
           | "full" | "long" | "short"                         part of the range
           | "pain" joint { "," joint }                        a joint that hurt
           | "warm"                                            a warm-up
    joint  = "neck" | "shoulder" | "elbow" | "wrist" | "trunk" | "hip" | "knee" | "ankle"      the trunk as "back" too

Numbers take a decimal point or comma; case and spaces do not matter. The load of a body-weight lift is what is added (`bw+10`)
or taken off (`bw-20`); a band is named (`red band`). A load without unit is in the unit that the caller names.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import NoReturn, TypeVar, get_args

from lengthwise.errors import InputError, nearest
from lengthwise.mechanics.profile import RangeName
from lengthwise.training.client import MassUnit
from lengthwise.training.log import BAND, LoggedSet, noted
from lengthwise.training.record_words import JointName, joint_named
from lengthwise.units import LB

T = TypeVar("T")
JOINTS: tuple[str, ...] = get_args(JointName)
RANGES: tuple[RangeName, ...] = get_args(RangeName)
MOST_SETS, MOST_REPETITIONS, MOST_RESERVE = 30, 100, 10
LEAST_KG, MOST_KG = -200.0, 1000.0
MOST_DIGITS = 9
LONGEST = 1000
"""Most characters of a line."""
WORDS = ("r", *RANGES, "pain", "warm")
NUMBER = r"\d+(?:[.,]\d+)?"
UNITS = {"kg": 1.0, "kgs": 1.0, "lb": LB, "lbs": LB}


class QuickLineError(InputError):
    """A line that cannot be read; `at` is the character to blame, counted from 0."""

    def __init__(self, line: str, at: int, problem: str, allowed: tuple[str, ...] = ()) -> None:
        super().__init__(f"character {at + 1}: {problem}\n  {line}\n  {' ' * at}^", asked=line, allowed=allowed)
        self.at = at


@dataclass(frozen=True)
class _Words:
    """What stands behind the loads of a part."""

    reserve: tuple[float, ...] = ()
    range: RangeName = "full"
    pain: tuple[str, ...] = ()
    warm_up: bool = False


class _Line:
    """A line and how far it has been read."""

    def __init__(self, line: str) -> None:
        self.line, self.at = line, 0

    def take(self, pattern: str) -> str | None:
        """The text that stands here, where it has this pattern."""
        found = re.compile(rf"\s*({pattern})", re.IGNORECASE).match(self.line, self.at)
        if found is None:
            return None
        self.at = found.end()
        return found.group(1)

    def here(self) -> int:
        """Where the next character that is no space stands."""
        rest = self.line[self.at :]
        return self.at + len(rest) - len(rest.lstrip())

    def fail(self, allowed: str, at: int | None = None, choices: tuple[str, ...] = ()) -> NoReturn:
        """Say what stands here and what may stand here."""
        at = self.here() if at is None else at
        rest = self.line[at:]
        word = re.match(r"[^\W_]+|.", rest)
        found = f"found {word.group()!r}" if word else "the line ends"
        raise QuickLineError(self.line, at, f"{found}; allowed here: {allowed}", choices)


def read_quick_line(line: str, lift: str, unit: MassUnit = "kg") -> tuple[LoggedSet, ...]:
    """The sets of a lift (an id) that a line describes, loads in kg.

    Raises:
        QuickLineError: with a mark under the character that cannot be read, and what may stand there.
    """
    if len(line) > LONGEST:
        raise InputError(f"a line of {len(line)} characters; allowed {LONGEST}", asked=line[:80])
    text, _, note = re.sub(r"\s", " ", line).partition("#")
    reader, done = _Line(text.rstrip()), list[LoggedSet]()
    while True:
        done += _part(reader, lift, unit, note.strip())
        if reader.take(";") is None:
            break
    if reader.here() < len(reader.line):
        reader.fail("; for more sets, # for a note, or " + ", ".join(WORDS))
    return tuple(done)


def _part(reader: _Line, lift: str, unit: MassUnit, note: str) -> list[LoggedSet]:
    repetitions = _repetitions(reader)
    n = len(repetitions)
    if reader.take("@") is None:
        reader.fail("@ and a load, such as @ 60, or @ bw for the body's weight alone")
    loads = _for_each(reader, n, "loads", lambda: _load(reader, unit))
    words = _words(reader, n)
    reserve = words.reserve or (None,) * n
    return [
        LoggedSet(
            lift=lift,
            load_kg=loads[i][0],
            repetitions=repetitions[i],
            reserve=reserve[i],
            range=words.range,
            pain=words.pain,
            note=noted(loads[i][1], note),
            warm_up=words.warm_up,
        )
        for i in range(n)
    ]


def _repetitions(reader: _Line) -> tuple[int, ...]:
    at = reader.here()
    first = _whole(reader, "sets x repetitions, such as 3x8, or repetitions of each set, such as 8,8,7")
    if reader.take("[x×*]") is not None:
        if not 1 <= first <= MOST_SETS:
            reader.fail(f"1 to {MOST_SETS} sets", at)
        return (_bounded(reader),) * first
    reader.at = at
    found = [_bounded(reader)]
    while reader.take("[,/]") is not None:
        found.append(_bounded(reader))
    if len(found) > MOST_SETS:
        reader.fail(f"1 to {MOST_SETS} sets", at)
    return tuple(found)


def _bounded(reader: _Line) -> int:
    at = reader.here()
    found = _whole(reader, f"repetitions, 1 to {MOST_REPETITIONS}")
    if not 1 <= found <= MOST_REPETITIONS:
        reader.fail(f"1 to {MOST_REPETITIONS} repetitions", at)
    if reader.take("-") is not None:
        reader.fail("the repetitions that were done, one number", at)
    return found


def _whole(reader: _Line, allowed: str) -> int:
    at, text = reader.here(), reader.take(r"\d+")
    if text is None or len(text) > MOST_DIGITS:
        reader.fail(allowed, at)
    return int(text)


def _load(reader: _Line, unit: MassUnit) -> tuple[float, str]:
    """A load [kg], and the band where it is one, which has no kilograms."""
    at = reader.here()
    if (band := reader.take(rf"{BAND.pattern}(?!\w)")) is not None:
        return 0.0, band.casefold()
    sign = 1.0
    if reader.take("bw(?![a-z])") is not None:
        mark = reader.take("[+\\-−–]")
        if mark is None:
            return 0.0, ""
        sign = 1.0 if mark == "+" else -1.0
    found = _number(reader, "a load such as 60, 62,5 kg, 135 lb, red band, bw or bw+10")
    written = (reader.take("(?:kgs?|lbs?)(?![a-z])") or unit).casefold()
    load = sign * found * UNITS[written]
    if not LEAST_KG <= load <= MOST_KG:
        reader.fail(f"a load from {LEAST_KG:g} to {MOST_KG:g} kg", at)
    return load, ""


def _number(reader: _Line, allowed: str) -> float:
    text = reader.take(NUMBER)
    if text is None:
        reader.fail(allowed)
    return float(text.replace(",", "."))


def _for_each(reader: _Line, n: int, what: str, one: Callable[[], T]) -> tuple[T, ...]:
    """One value for each of n sets, from one value or a list."""
    at = reader.here()
    found = [one()]
    while reader.take("/") is not None:
        found.append(one())
    if len(found) not in (1, n):
        reader.fail(f"one for all, or {n} {what} for {n} sets, not {len(found)}", at)
    return tuple(found) * (n // len(found))


def _words(reader: _Line, n: int) -> _Words:
    words = _Words()
    while reader.here() < len(reader.line) and reader.line[reader.here()] != ";":
        at = reader.here()
        name = (reader.take(r"r(?=\s*\d)") or reader.take(r"[^\W\d_]+") or "").casefold()
        if name == "r":
            words = replace(words, reserve=_for_each(reader, n, "reserves", lambda: _reserve(reader)))
        elif name in RANGES:
            words = replace(words, range=name)
        elif name == "pain":
            words = replace(words, pain=(*words.pain, *_joints(reader)))
        elif name == "warm":
            words = replace(words, warm_up=True)
        else:
            _fail_at_word(reader, at, name)
    return words


def _fail_at_word(reader: _Line, at: int, name: str) -> NoReturn:
    if name == "":
        reader.fail("a list of loads is written 60/62,5/65; more sets follow ;, a note follows #", at)
    close = nearest(name, WORDS[1:], 1) if len(name) > 2 else []
    hint = f"{close[0]} (did you mean that?), " if close else ""
    reader.fail(f"{hint}r and a number for the reserve, {', '.join(WORDS[1:])}; a note follows #", at, WORDS)


def _reserve(reader: _Line) -> float:
    at = reader.here()
    found = _number(reader, f"repetitions in reserve, 0 to {MOST_RESERVE}")
    if found > MOST_RESERVE:
        reader.fail(f"0 to {MOST_RESERVE} repetitions in reserve", at)
    return found


def _joints(reader: _Line) -> tuple[str, ...]:
    found = list[str]()
    while True:
        at = reader.here()
        name = joint_named((reader.take(r"(low(er)? +)?[^\W\d_]+") or "").casefold())
        if name not in JOINTS:
            reader.fail(", ".join(JOINTS), at, JOINTS)
        found.append(name)
        if reader.take(",") is None:
            return tuple(found)
