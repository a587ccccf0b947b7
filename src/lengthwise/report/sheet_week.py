"""A client's week on paper: days, lifts with drawings, loads, and room to write what was done."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any
from urllib.parse import urlsplit

from lengthwise.body.muscle_names import in_full
from lengthwise.grading.long_half import LONG_HALVES
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.quantities import HELD, kept_together, load, planned_load, repetitions, seconds, set_count, tempo
from lengthwise.report.typeset import Sheet, qr_code
from lengthwise.training.client import Client, MassUnit
from lengthwise.training.load_notes import ASSUMED, EASY, ONLY, STOP, USUAL
from lengthwise.training.methods import methods
from lengthwise.training.prescription import SORE, Prescription
from lengthwise.training.record_words import joint_told
from lengthwise.training.screening import reserve_told, stop_signs
from lengthwise.training.sore import severity

ROOM_MM, HEAD_MM, BETWEEN_MM, LOWEST_MM, TALLEST_MM = 222.0, 42.0, 5.0, 20.0, 30.0
"""What a day's page has for its lifts, less on the first, what lies between two, and how low and tall a drawing may be [mm]."""
EASY_LEFT = 5.0
"""A set that leaves so many repetitions or more is no hard one (as an easy start after the screening: training/data/defaults.toml)."""
MOST_NOTES = 2
"""So many notes stand beside a lift at most."""
ROWS = 5
"""So many rows to write a lift's sets in at most."""


Line = tuple[str, str, float | None]
"""A lift, its range and load: a heavy and a light day are two."""


def line_of(planned: PlannedLift) -> Line:
    """Which line of the paper's prescriptions a planned lift has."""
    return planned.lift, planned.range, planned.load_kg


@dataclass(frozen=True, kw_only=True)
class WeekOnPaper:
    """What a week's sheet is made of.

    Attributes:
        client, week: whose and which. prescribed: how each lift is done, by `Line`. pictures: drawings (SVG), by lift. told: how each is done.
        link: address of the log page, where it is served. stops: what to say of a lift for the sake of a sore joint, by lift.
    """

    client: Client
    week: Week
    prescribed: Mapping[Line, Prescription] = field(default_factory=dict)
    pictures: Mapping[str, bytes] = field(default_factory=dict)
    told: Mapping[str, str] = field(default_factory=dict)
    link: str = ""
    stops: Mapping[str, str] = field(default_factory=dict)


def week_sheet(made: WeekOnPaper) -> Sheet:
    """The sheet of a week."""
    pictures = {f"{lift}.svg": drawing for lift, drawing in made.pictures.items()}
    if made.link:
        pictures["qr.svg"] = qr_code(made.link)
    planned = [p for day in made.week.days for p in day.lifts]
    content = {
        "title": f"Week of {made.client.name}",
        "client": made.client.name,
        "line": f"{len(made.week.days)} {'day' if len(made.week.days) == 1 else 'days'}, {_sets(planned)}. Loads are in {made.client.mass_unit}; "
        "write what you did beside each set.",
        "qr": _beside_code(made.link),
        "cautions": _opening(made, planned),
        "days": [
            {
                "title": day.day.capitalize(),
                "line": _day_line(day),
                "done": kept_together(made.week.done.get(day.day, "")),
                "lifts": _rows(made, day),
                "tall_mm": _tall_mm(day, n == 0),
            }
            for n, day in enumerate(made.week.days)
        ],
        "muscles": [{"name": in_full(m), "sets": f"{n:.1f}"} for m, n in sorted(made.week.muscle_sets.items())],
        "halves": {"why": LONG_HALVES, "offers": [half.sentence for half in made.week.long_halves]},
        "cautions_end": _cautions(made),
    }
    return Sheet(f"week_{file_name(made.client.name)}", "week.typ", content, pictures)


def _sets(planned: Sequence[PlannedLift]) -> str:
    """How many sets, and how many of them are easy ones."""
    every, easy = sum(p.sets for p in planned), sum(p.sets for p in planned if p.gentle or p.reserve >= EASY_LEFT)
    return f"{every} easy sets" if easy == every else f"{every} sets, {easy} of them easy" if easy else f"{every} hard sets"


def file_name(name: str) -> str:
    """A name as part of a file's name: letters and digits, all else an underscore."""
    return "".join(c if c.isalnum() else "_" for c in name.casefold()).strip("_")


def _beside_code(link: str) -> str | None:
    """What stands beside the code: nothing where there is none, and who can open an address of the machine itself."""
    if not link:
        return None
    name = urlsplit(link).hostname or ""
    alone = name == "localhost" or name.startswith("127.") or name == "::1"
    return "log on this computer" if alone else "log on a phone"


def _opening(made: WeekOnPaper, planned: list[PlannedLift]) -> list[str]:
    """What holds for several lifts, said once."""
    client, sore = made.client, made.client.sore_joints
    out = ["Stop a set when form breaks or a joint hurts; see a clinician about sharp or lasting pain.", *stop_signs(client)]
    if sore:
        joints = ", ".join(f"{joint_told(j)} ({severity(client, j)})" for j in sore)
        out.append(f"Sore: {joints}. Lifts that take a sore joint to the end of its range or load it too much are left out.")
    if any(STOP in stop for stop in made.stops.values()):
        out.append(f"Lifts that work a joint that hurts: {ONLY[0].lower()}{ONLY[1:]} {STOP}")
    out += filter(None, [reserve_told(client, date.today(), paper=True)])
    if any(p.gentle for p in planned):
        out.append(
            "Easy sets for a sore joint: add no load, and stop at the first pain. They keep you moving but build little muscle."
        )
    notes = (note for found in made.prescribed.values() for note in found.notes)
    if kinds := dict.fromkeys(n.removeprefix(USUAL).removesuffix(ASSUMED) for n in notes if n.endswith(ASSUMED)):
        out.append(f"{USUAL}{', '.join(kinds)}{ASSUMED}")
    if any(p.guess and p.load_kg is not None and not p.gentle for p in planned):
        out.append(
            "Loads marked “guess” are where to begin: the low end of what the model allows. Work up until the reserve is right."
        )
    return out


def _day_line(day: PlannedDay) -> str:
    spent = f" · {day.spent}" if day.spent else ""
    return f"{day.place} · about {day.minutes:.0f} min · {sum(p.sets for p in day.lifts)} sets{spent}"


def _tall_mm(day: PlannedDay, first: bool) -> float:
    """How high a lift's drawing may be, so that a day stays on one page."""
    room = ROOM_MM - (HEAD_MM if first else 0)
    return float(min(max(room / max(len(day.lifts), 1) - BETWEEN_MM, LOWEST_MM), TALLEST_MM))


def _rows(made: WeekOnPaper, day: PlannedDay) -> list[dict[str, Any]]:
    return [_row(made, day, planned) for planned in day.lifts]


def _row(made: WeekOnPaper, day: PlannedDay, planned: PlannedLift) -> dict[str, Any]:
    found = made.prescribed.get(line_of(planned))
    unit = made.client.mass_unit
    stop = planned.find if planned.gentle else made.stops.get(planned.lift, "")
    return {
        "name": planned.name,
        "held": planned.held,
        "picture": f"{planned.lift}.svg" if planned.lift in made.pictures else None,
        "pair": _partner(day, planned),
        "sets": planned.sets,
        "sets_to_write": min(planned.sets, ROWS),
        "repetitions": repetitions(*planned.up_to),
        "counted": "s held" if planned.held else "repetitions",
        "column": "seconds" if planned.held else "reps",
        "load": planned_load(planned.load_kg, planned.gear, unit, planned.guess, planned.each),
        "reserve": _reserve(planned),
        "stop": " ".join(filter(None, [_own(stop), *_sore(found)])) or None,
        "rest": _rest(found, planned),
        "tempo": tempo(found.tempo.lower_s, found.tempo.pause_s, found.tempo.lift_s) if found and not planned.held else None,
        "warm_up": _warm_up(planned, found, unit),
        "cues": _cues(made, planned),
        "notes": [
            *map(
                kept_together, [*_way(planned), *(_notes(found, planned.gear, unit, stop) if found and not planned.gentle else [])]
            )
        ],
    }


def _reserve(planned: PlannedLift) -> tuple[str, str]:
    """How a set ends, large and small."""
    if planned.held:
        return "", HELD
    return ("easy", "stop at the first pain") if planned.gentle else (f"{planned.reserve:g}", "in reserve")


def _sore(found: Prescription | None) -> list[str]:
    """What a lift's cautions say of joints that are sore: it stands beside the lift."""
    return [text.partition(SORE)[2] for text in (found.cautions if found else ()) if SORE in text]


def _own(stop: str) -> str:
    """What a sore joint asks of one lift alone, without what is said once for all."""
    for said in (ONLY, STOP, EASY):
        stop = stop.replace(said, "")
    return " ".join(stop.split())


def _notes(found: Prescription, gear: str, unit: MassUnit, stop: str) -> list[str]:
    """What to tell of a load beside what a sore joint asks: when the next one comes, and of a guess what follows from its first set."""
    then = found.first_session[1:2] if found.guess else tuple(filter(None, [found.then(gear, unit)]))
    own = [note for note in found.notes if note not in stop and not note.endswith(ASSUMED)]
    return [*own[: MOST_NOTES - len(then)], *then]


def _way(planned: PlannedLift) -> list[str]:
    """How sets go that save time."""
    way = methods().get(planned.method)
    return [f"{set_count(planned.sets, way.name)}. {way.told}"] if way else []


def _cues(made: WeekOnPaper, planned: PlannedLift) -> list[str]:
    """The two cues that matter: of the part of the range, then of how the lift is done."""
    found = made.prescribed.get(line_of(planned))
    said = [*_sentences(found.cue if found else ""), *_sentences(made.told.get(planned.lift, ""))]
    return list(dict.fromkeys(said))[:2]


def _sentences(text: str) -> list[str]:
    return [s.strip().rstrip(".") + "." for s in text.split(". ") if s.strip()]


def _partner(day: PlannedDay, planned: PlannedLift) -> str | None:
    others = [p.name for p in day.lifts if planned.pair is not None and p.pair == planned.pair and p is not planned]
    return ", ".join(others) or None


def _rest(found: Prescription | None, planned: PlannedLift) -> str:
    """The rest that the week was planned with; a week kept before it said one goes by the prescription."""
    rest_s = planned.rest_s or (found.rest_s if found else 0.0)
    return seconds(rest_s) if rest_s else "as needed"


def _warm_up(planned: PlannedLift, found: Prescription | None, unit: MassUnit) -> str | None:
    """Sets before the hard ones, as the week has them; a week kept before it said any goes by the prescription of its load."""
    if planned.load_kg is None:
        return None
    sets = [(w.load_kg, w.repetitions) for w in found.warm_up] if found and not planned.rest_s else planned.warm_up
    return ", ".join(f"{n} × {load(kg, planned.gear, unit)}" for kg, n in sets) or None


def _cautions(made: WeekOnPaper) -> list[str]:
    """Each caution once, with the lifts it belongs to; those of sore joints stand beside their lifts."""
    lifts: dict[str, list[str]] = {}
    for day in made.week.days:
        for planned in day.lifts:
            found = made.prescribed.get(line_of(planned))
            for text in (t for t in (found.cautions if found else ()) if SORE not in t):
                names = lifts.setdefault(text, [])
                if planned.name not in names:
                    names.append(planned.name)
    return [f"{', '.join(names)}: {text}" for text, names in lifts.items()]
