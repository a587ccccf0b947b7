"""Reading the cells of a logged table: numbers, loads with units, words; and guessing how numbers are written.

A cell that cannot be read gives a `Fault` that says what was found and what is allowed.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from lengthwise.errors import nearest
from lengthwise.mechanics.profile import RangeName
from lengthwise.training.log import BAND
from lengthwise.training.log_days import Guess, LogFault
from lengthwise.training.quick_line import JOINTS, LEAST_KG, MOST_DIGITS, MOST_KG, MOST_REPETITIONS, MOST_RESERVE, RANGES, UNITS
from lengthwise.training.record_words import joint_named

LOAD = re.compile(r"(?P<number>[+\-−]?\d[\d.,'’ \u00a0\u202f]*)\s*(?P<unit>[a-z]*)\.?", re.IGNORECASE)
BODY_WEIGHT = re.compile(r"(?:bw|body\s*-?weight|körpergewicht|kg)\s*(?P<rest>[+\-−].*)?", re.IGNORECASE)
YES = frozenset(["1", "true", "yes", "y", "x", "ja", "oui", "si", "sí", "warm", "warm-up", "warmup", "w"])
NO = frozenset(["", "0", "false", "no", "n", "nein", "non", "working", "work", "normal"])


@dataclass(frozen=True)
class LoadCell:
    """A load in the unit that stands in its cell; `kg` is the factor, or nothing where the cell names no unit; `band` where it names one."""

    number: float
    kg: float | None
    band: str = ""


def guess_decimal(texts: Iterable[str]) -> Guess:
    """Whether numbers have a decimal comma or point."""
    cells = [t for t in texts if any(c.isdigit() for c in t)]
    both = [t for t in cells if "," in t and "." in t]
    if both:
        comma = sum(t.rfind(",") > t.rfind(".") for t in both) * 2 > len(both)
        return Guess("," if comma else ".", True, "numbers hold both, the last is the decimal mark")
    commas, points = sum("," in t for t in cells), sum("." in t for t in cells)
    if commas and points:
        return Guess("," if commas > points else ".", False, f"{commas} numbers have a comma, {points} a point")
    thousands = bool(commas) and all(re.search(r",\d{3}\b", t) for t in cells if "," in t)
    return Guess("," if commas else ".", not thousands, "numbers have a comma" if commas else "numbers have a point or no fraction")


def guess_unit(loads: Iterable[float], usual: str) -> Guess:
    """kg or lb by the plates: a 45 lb bar and pairs of 5, 10, 25, 35 and 45 lb end in 5; only kg gyms have halves (common practice)."""
    high = [x for x in loads if x >= 45]
    if any(x % 1 for x in high):
        return Guess("kg", False, "loads have halves or quarters, as small kg plates give")
    in_lb = sum(x % 10 == 5 for x in high)
    if len(high) >= 4 and in_lb > 0.6 * len(high):
        return Guess("lb", False, f"{in_lb} of {len(high)} loads end in 5, as with a 45 lb bar and pairs of lb plates")
    return Guess(usual, False, "nothing in the file tells; it is the unit of the client's record")


def read_number(text: str, decimal: str) -> float | None:
    """A number, with marks between thousands; nothing where it is none.

    A lone mark before three digits stands between thousands unless it is the table's decimal mark.
    """
    plain = re.sub(r"[\s'’]", "", text).replace("−", "-")
    if "," in plain and "." in plain:
        last = "," if plain.rfind(",") > plain.rfind(".") else "."
    elif re.fullmatch(r"[+\-]?[1-9]\d{0,2}([.,]\d{3})+", plain) and (decimal not in plain or plain.count(decimal) > 1):
        last = ""
    else:
        last = "," if "," in plain else "."
    plain = "".join(("." if c == last else "") if c in ",." else c for c in plain)
    return float(plain) if re.fullmatch(r"[+\-]?(?:\d+\.?\d*|\.\d+)", plain) else None


def read_load(text: str, decimal: str) -> LoadCell | LogFault:
    """A load such as 60, 62,5 kg, 135lb, bw, bw+10, red band; an empty cell is no load added."""
    allowed = f"found {text!r}; allowed a load such as 60, 62.5 kg, 135 lb, red band, bw or bw+10"
    plain = text.strip()
    if BAND.fullmatch(plain):
        return LoadCell(0.0, 1.0, plain.casefold())
    body = BODY_WEIGHT.fullmatch(plain) if not plain[:1].isdigit() else None
    if not plain or (body and not body["rest"]):
        return LoadCell(0.0, 1.0)
    found = LOAD.fullmatch((body["rest"] or "").replace(" ", "") if body else plain)
    number = read_number(found["number"], decimal) if found else None
    if found is None or number is None or found["unit"].casefold() not in ("", *UNITS):
        return LogFault(allowed)
    kg = UNITS[found["unit"].casefold()] if found["unit"] else None
    if not LEAST_KG <= number * (kg or UNITS["lb"]) <= MOST_KG:
        return LogFault(f"found {text!r}; allowed {LEAST_KG:g} to {MOST_KG:g} kg")
    return LoadCell(number, kg)


def read_unit(text: str) -> float | LogFault | None:
    """The factor to kg of a unit's cell; nothing where it is empty."""
    plain = text.strip().strip(".").casefold()
    named = {"": None, **UNITS, "kilogram": 1.0, "kilograms": 1.0, "pound": UNITS["lb"], "pounds": UNITS["lb"]}
    return named[plain] if plain in named else LogFault(f"found {text!r}; allowed kg, lb")


def read_repetitions(text: str) -> int | LogFault:
    """Repetitions done; 0 and an empty cell mean that the set was not done."""
    found = (
        re.fullmatch(r"(\d+)(?:[.,]0+)?\s*(?:reps?|repetitions|wdh|x|×)?\.?", text.strip(), re.IGNORECASE) if text.strip() else None
    )
    if not text.strip():
        return 0
    if found is None or len(found[1]) > MOST_DIGITS or int(found[1]) > MOST_REPETITIONS:
        return LogFault(f"found {text!r}; allowed a whole number, 0 to {MOST_REPETITIONS}")
    return int(found[1])


def read_count(text: str, least: int, most: int) -> int | LogFault | None:
    """A whole number in bounds; nothing where the cell is empty."""
    if not text.strip():
        return None
    found = re.fullmatch(r"(\d+)(?:[.,]0+)?", text.strip())
    if found is None or len(found[1]) > MOST_DIGITS or not least <= int(found[1]) <= most:
        return LogFault(f"found {text!r}; allowed a whole number, {least} to {most}")
    return int(found[1])


def read_reserve(text: str) -> float | LogFault | None:
    """Repetitions in reserve; nothing where the cell is empty. `5+` reads as 5, `1-2` as its middle."""
    plain = text.strip().rstrip("+")
    if not plain or plain in "-–":
        return None
    parts = [read_number(p, "," if "," in p else ".") for p in re.split(r"\s*[-–]\s*", plain)]
    numbers = [p for p in parts if p is not None]
    if len(numbers) != len(parts) or len(parts) > 2 or max(numbers) > MOST_RESERVE:
        return LogFault(f"found {text!r}; allowed a number, 0 to {MOST_RESERVE}")
    return sum(numbers) / len(numbers)


def read_exertion(text: str) -> float | LogFault | None:
    """Repetitions in reserve from an exertion of 10 less the reserve (the usual reading of that scale; common practice)."""
    found = read_reserve(text)
    return found if found is None or isinstance(found, LogFault) else 10 - found


def read_range(text: str) -> RangeName | LogFault:
    """The part of the range; an empty cell is the full one."""
    plain = text.strip().casefold() or "full"
    for name in RANGES:
        if plain == name:
            return name
    return LogFault(f"found {text!r}; allowed {', '.join(RANGES)}")


def read_warm_up(text: str) -> bool | LogFault:
    """Whether a set was a warm-up."""
    plain = text.strip().casefold()
    if plain in YES or plain in NO:
        return plain in YES
    return LogFault(f"found {text!r}; allowed yes, no")


def read_pain(text: str) -> tuple[str, ...] | LogFault:
    """Joints that hurt, separated by commas, slashes, semicolons or spaces; the trunk as people call it, low back or back, too."""
    parts = [joint_named(p.strip()) for p in re.split(r"[,;/|+]+", text.casefold())]
    names = [joint_named(n) for p in parts for n in ([p] if p in JOINTS else p.split()) if n not in ("no", "none", "0", "-")]
    for name in names:
        if name not in JOINTS:
            close = nearest(name, JOINTS, 1)
            return LogFault(f"found {text!r}; " + (f"did you mean {close[0]}? " if close else "") + f"allowed {', '.join(JOINTS)}")
    return tuple(dict.fromkeys(names))
