"""Quantities as people read them, in one place for pages, phone, paper and the command line."""

import re
from collections.abc import Mapping
from datetime import date
from math import copysign
from typing import Literal

from lengthwise.units import INCH, LB

MassUnit = Literal["kg", "lb"]
LengthUnit = Literal["cm", "in"]
MINUS = "−"
BODY = "body"
"""Gear whose load is what hangs on the body."""
BODY_WORDS: Mapping[str, str] = {"none": "body weight", "more": "body weight + {}", "less": "body weight with {} of assistance"}
"""A load where the body is the load: nothing added, more, or less."""
GENTLE = "easy, ends at the first pain"
HELD = "ends before the hips sag"
NO_LOAD, EACH, GUESS = "find the load", " each", " (guess)"
EASIER = "body weight, made easier"
"""Where the body alone is too heavy for the repetitions that are written."""
BAND, BAND_WORDS = "band", "band for the range"
"""Gear that has no kilograms: the repetitions choose it."""
QUARTER_LB = 0.02
"""So near a quarter of a pound a load counts as made of plates in pounds [lb]."""
HALF_UP = 1e-9
"""Halves go up, as people and browsers round them [kg]."""
WHOLE_FROM = 20.0
"""Estimates from this size on are told in whole units: more digits would claim what nobody knows (own choice)."""
LONG_REST_S = 120.0
RANGES = ((5, 8), (6, 10), (8, 12), (10, 15), (12, 15), (15, 20), (20, 25), (20, 30))
"""Repetitions as people write them: 15-20, not 17-22 (common practice, no source)."""
TWO_RANGES = 8
"""From so many repetitions between least and most on nobody trains them as one range (own choice)."""


def plain(value: float, digits: int = 2) -> str:
    """A number with at most so many decimals, without empty ones, its minus a real one."""
    text = f"{value:.{digits}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text in ("-0", "") else text.replace("-", MINUS)


def in_unit(kg: float, unit: MassUnit) -> float:
    """A load in a unit, as it is written on the plate: kilograms to 10 g, pounds to a quarter where plates make one, else to a tenth."""
    if unit == "kg":
        return round(kg + copysign(HALF_UP, kg), 2)
    pounds = kg / LB
    quarter = round(4 * pounds) / 4
    return quarter if abs(pounds - quarter) < QUARTER_LB else round(pounds, 1)


def mass(kg: float, unit: MassUnit) -> str:
    """A load that exists: 23.75 kg stays 23.75 kg."""
    return f"{plain(in_unit(kg, unit))} {unit}"


def load(kg: float, gear: str, unit: MassUnit) -> str:
    """A lift's load: what hangs on the body, or is taken off it, where the body is the load."""
    if gear != BODY:
        return mass(kg, unit) if kg >= 0 else f"{mass(-kg, unit)} of assistance"
    if kg == 0:
        return BODY_WORDS["none"]
    return BODY_WORDS["more" if kg > 0 else "less"].format(mass(abs(kg), unit))


def planned_load(kg: float | None, gear: str, unit: MassUnit, guess: bool, each: bool = False) -> str:
    """The load of a planned set, with whether two such are held and whether it rests on the model alone: 16 kg each (guess)."""
    if kg is None:
        return {BAND: BAND_WORDS, BODY: EASIER}.get(gear, NO_LOAD)
    return load(kg, gear, unit) + (EACH if each else "") + (GUESS if guess else "")


def load_rules(unit: MassUnit) -> dict[str, object]:
    """How a page writes loads where no server answers: what `load` goes by."""
    pounds = {"kg": LB, "quarter": QUARTER_LB, "digits": 1}
    return {
        "unit": unit,
        **(pounds if unit == "lb" else {"kg": 1.0, "quarter": 0.0, "digits": 2}),
        "no_load": NO_LOAD,
        "band": BAND_WORDS,
        "easier": EASIER,
        "guess": GUESS,
        "help": "{} of assistance",
        "body": dict(BODY_WORDS),
    }


def estimate(kg: float, unit: MassUnit) -> str:
    """A mass that is estimated: whole units from 20 on, a tenth below."""
    value = kg if unit == "kg" else kg / LB
    return f"{plain(value, 0 if abs(value) >= WHOLE_FROM else 1)} {unit}"


def length(cm: float, unit: LengthUnit) -> str:
    """A length: whole units from 20 on, a tenth below."""
    value = cm if unit == "cm" else cm / (100 * INCH)
    return f"{value:.0f} {unit}" if abs(value) >= WHOLE_FROM else f"{value:.1f}".removesuffix(".0") + f" {unit}"


def setting(value: float, unit: str, mass_unit: MassUnit = "kg", length_unit: LengthUnit = "cm") -> str:
    """A set-up value of a lift, whose file says its unit."""
    if unit == "cm":
        return length(value, length_unit)
    if unit == "kg":
        return estimate(value, mass_unit)
    return f"{value:.0f}°".replace("-", MINUS) if unit == "deg" else percent(value)


def interval(low_kg: float, high_kg: float, unit: MassUnit) -> str:
    """From where to where an estimate lies."""
    return f"{estimate(low_kg, unit).removesuffix(f' {unit}')} to {estimate(high_kg, unit)}"


def likely(low_kg: float, high_kg: float, gear: str, unit: MassUnit) -> str:
    """Between which loads the right one lies: 21 and 25 kg; in the manner of `load` where the body is the load."""
    if gear != BODY and low_kg >= 0:
        return interval(low_kg, high_kg, unit).replace(" to ", " and ")
    return " and ".join(load(round(kg, 0 if abs(kg) >= WHOLE_FROM else 1), gear, unit) for kg in (low_kg, high_kg))


def percent(share: float, digits: int = 0) -> str:
    """A share: 42 %."""
    return f"{plain(100 * share, digits)}%"


def name_of(key: str) -> str:
    """A head, muscle or joint as people write it."""
    return key.replace("_", " ")


def step(percent: float) -> str:
    """How much the next load is more: +20 %, +4.2 %."""
    return f"+{plain(percent, 0 if percent >= 10 else 1)}%"


def repetitions(low: int, high: int, held: bool = False) -> str:
    """Least and most repetitions, or seconds of what is held: 6–10, 8, or 20–40 s. What bridges a big step is told in the two ranges that people
    train it in: 12–15, then 16–20.
    """
    first = next((r[1] for r in RANGES if r[0] == low), high)
    if not held and high - low >= TWO_RANGES and (low, high) not in RANGES and first < high:
        return f"{low}–{first}, then {first + 1}–{high}"
    return (f"{low}" if low == high else f"{low}–{high}") + (" s" if held else "")


def left(reserve: float, gentle: bool = False, held: bool = False) -> str:
    """How a set ends: with so many repetitions in reserve, before a position is lost, or, for a joint that hurts, at the first pain."""
    if held:
        return HELD
    return GENTLE if gentle else f"{reserve:g} in reserve"


def set_count(number: int, way: str = "") -> str:
    """How many sets, in the way that saves time where there is one: 3 sets, 1 drop set."""
    return number_of(number, way or "set")


def number_of(number: int, what: str) -> str:
    """So many of something: 1 session, 2 sessions."""
    return f"{number} {what}{'' if number == 1 else 's'}"


def work(number: int, low: int, high: int, way: str = "", held: bool = False) -> str:
    """Sets and repetitions: 3 × 6–10, 2 drop sets × 10–15, or 3 × 20–40 s."""
    return f"{set_count(number, way) if way else number} × {repetitions(low, high, held)}"


def seconds(value: float) -> str:
    """A rest: 90 s, 2 min, 2 min 45 s."""
    whole = round(value)
    if whole < LONG_REST_S:
        return f"{whole} s"
    minutes, rest = divmod(whole, 60)
    return f"{minutes} min" + (f" {rest} s" if rest else "")


def tempo(lower_s: float, pause_s: float, lift_s: float) -> str:
    """How long a repetition's parts take."""
    pause = f"{plain(pause_s)} s pause, " if pause_s else ""
    return f"{plain(lower_s)} s down, {pause}{plain(lift_s)} s up"


def day(on: date) -> str:
    """A date: 2 March 2026."""
    return f"{on.day} {on:%B %Y}"


def kept_together(text: str) -> str:
    """Numbers that stay on one line with their units."""
    return re.sub(r"(?<=[\d+]) (?=\S)", "\u00a0", text)


def setup_name(name: str) -> str:
    """A set-up parameter of a lift as people write it: without its unit, with words for the axes of the room, and the back of a bench."""
    words = re.sub(r"_(cm|deg|kg)$", "", name).split("_")
    return " ".join(_SAID.get(word, word) for word in words)


_SAID = {"x": "distance", "y": "to the side", "z": "height", "back": "backrest"}
