"""A lift on one page: drawing, what works, the set, parts of the range, curves, cautions."""

from collections.abc import Sequence
from math import asin, degrees

from lengthwise.body import anatomy
from lengthwise.body.muscle_names import plain
from lengthwise.body.person import Person
from lengthwise.body.scaling import scale
from lengthwise.figure.painting import FRONT
from lengthwise.figure.views import best_view
from lengthwise.lifts.catalogue import gear
from lengthwise.lifts.definition import SetupSetting
from lengthwise.mechanics import load_words
from lengthwise.mechanics.profile import HeadProfile, LiftProfile
from lengthwise.quantities import LengthUnit, MassUnit, estimate, kept_together, name_of, percent, setting, setup_name
from lengthwise.report.drawing import at_one_scale, draw_position
from lengthwise.report.picture import Picture
from lengthwise.report.plotting import Figure
from lengthwise.report.profile_figure import draw_capacity, draw_curve, what_to_see, working_lines
from lengthwise.report.typeset import Sheet

HEEL_TO_TOES = 0.87
"""From the heel to the tip of the toes, over the length of the foot: 227 of 261 mm of the base body."""
DRAWING_INCH = (11, 4.6)
"""How wide a card's drawing is, and how high it may be."""
RANGE_NAMES = {"long": "longer half", "short": "shorter half"}


def lift_sheet(
    found: LiftProfile,
    person: str,
    faults: Sequence[tuple[str, str, str]] = (),
    rows: Sequence[tuple[str, str]] = (),
    units: tuple[MassUnit, LengthUnit] = ("kg", "cm"),
) -> Sheet:
    """The card of a lift for one person.

    Args:
        person: in words, for whom the numbers are. faults: each by name, with what it is and does, and its cue. rows: the set as it is given to somebody;
            what the model finds for the body where none is. units: of masses and lengths.
    """
    lift = found.lift
    content = {
        "name": lift.name,
        "who": f"For {person}.",
        "line": f"{gear()[lift.gear].name} · {name_of(lift.posture)} · {'one side at a time' if lift.sides == 'one' else 'both sides'}"
        + (f" · also called {', '.join(lift.aliases)}" if lift.aliases else ""),
        "how": lift.how,
        "drawing_says": "Start, middle and end of the lifting phase, and the start from the front. Red arrow: the load. "
        "Red muscles: at work, the darker the harder.",
        "heads": [_head_row(h, found.heads[h]) for h in found.shown[:8]],
        "set": [*(rows or _by_model(found, units[0])), *(("Shorter range", line) for line in found.cut_short)],
        "ranges": [{"name": RANGE_NAMES[name], "cue": part.cue, "safe": part.safe} for name, part in lift.ranges.items()],
        "setup": [
            {"name": setup_name(n), "value": set_up_value(n, s, found.setting.path.names["foot"], units)}
            for n, s in lift.setup.items()
        ],
        "faults": [{"name": name.capitalize(), "text": kept_together(text), "cue": cue} for name, text, cue in faults],
        "curves_say": what_to_see(found)[0].upper() + what_to_see(found)[1:] + ".",
        "cautions": [f"{name_of(c.joint).capitalize()}: {c.text}" for c in lift.cautions]
        + ([f"Spotting: {lift.spotting}"] if lift.spotting else []),
    }
    pictures = {"drawing.svg": _drawing(found).svg().encode(), "curves.svg": _curves(found).svg().encode()}
    return Sheet(found.lift_id, "lift.typ", content, pictures)


def _by_model(found: LiftProfile, unit: MassUnit) -> list[tuple[str, str]]:
    """The set as the model finds it for a body of whom nothing else is known."""
    return [
        ("Repetitions", str(found.request.repetitions)),
        ("In reserve at the end", f"{found.request.reserve:g}"),
        (
            "Load from the model",
            f"{load_words.set_said(found, lambda kg: estimate(kg, unit))}; find the real one in a first easy set",
        ),
        *([("Limited by", found.set_load.bound)] if found.set_load.bound else []),
        ("Time per hard set", f"{found.seconds_per_set / 60:.1f} min with rest"),
    ]


def heel_to_toes_cm(person: Person) -> float:
    """How far the toes' mark lies before the heel's on this person [cm]: what turns a distance aside into an angle."""
    return HEEL_TO_TOES * scale(person).length["foot"] * anatomy.skeleton().length_share["foot"].base_mm / 10


def set_up_value(name: str, found: SetupSetting, foot_cm: float, units: tuple[MassUnit, LengthUnit] = ("kg", "cm")) -> str:
    """A set-up's usual value and its ends, as a coach reads them: how far toes turn out is an angle.

    Args:
        foot_cm: length of this person's foot [cm]; heel and toes of the model stand HEEL_TO_TOES of it apart. units: of masses and lengths.
    """
    ends, unit = (found.default, found.min, found.max), found.unit
    if name == "toe_out_cm":
        ends, unit = tuple(degrees(asin(min(v / (HEEL_TO_TOES * foot_cm), 1))) for v in ends), "deg"  # type: ignore[assignment]
    usual, low, high = (setting(v, unit, *units) for v in ends)
    return f"{usual} ({low.rstrip(' °%abcdefghijklmnopqrstuvwxyz')} to {high})"


def _head_row(name: str, head: HeadProfile) -> dict[str, str]:
    m = head.measures
    return {
        "name": plain(name),
        "effort": percent(m.effort_share),
        "length": f"{m.loaded_length:.2f}",
        "limit": percent(m.limiting_share),
    }


def _drawing(found: LiftProfile) -> Picture:
    figure = Figure(figsize=DRAWING_INCH, layout="constrained")
    last = len(found.capacity_kg) - 1
    view = best_view(found.lift_id, found.lift)
    shown = ((0, view), (last // 2, view), (last, view), (0, FRONT))
    axes = list(figure.subplots(1, 4))
    for ax, (position, seen) in zip(axes, shown, strict=True):
        draw_position(ax, found.setting, position, working_lines(found, position), seen)
    figure.set_figheight(min(DRAWING_INCH[1], DRAWING_INCH[0] * at_one_scale(axes)))
    return Picture("drawing", figure, found.lift.name)


def _curves(found: LiftProfile) -> Picture:
    figure = Figure(figsize=(11, 2.9), layout="constrained")
    axes = figure.subplots(1, 3)
    heads = found.shown[:5]
    draw_capacity(axes[0], found)
    draw_curve(axes[1], "length", found, heads)
    draw_curve(axes[2], "tension", found, heads)
    figure.legend(*axes[1].get_legend_handles_labels(), loc="outside lower right", ncols=len(heads), fontsize=9, frameon=False)
    return Picture("curves", figure, found.lift.name)
