"""What each day of a week holds of the body: usual shapes by how many days there are, and templates that a coach may ask for."""

from collections.abc import Collection, Sequence
from types import MappingProxyType

from lengthwise.errors import InputError
from lengthwise.planning.practice import Practice
from lengthwise.planning.question import Muscle
from lengthwise.training.record_words import Shape, Template

_TURNS: MappingProxyType[str, tuple[Shape, ...]] = MappingProxyType({
    "full_body": ("whole",),
    "upper_lower": ("upper", "lower"),
    "push_pull_legs": ("push", "pull", "lower"),
})  # fmt: skip
TEMPLATES: MappingProxyType[Template, str] = MappingProxyType({
    "usual": "as usual for so many days", "full_body": "the whole body each day", "upper_lower": "upper and lower body, alternating",
    "push_pull_legs": "push, pull, legs, and again",
})  # fmt: skip
"""Templates in words."""
HOLDS: MappingProxyType[Shape, str] = MappingProxyType({
    "whole": "whole body", "upper": "upper body", "lower": "legs", "push": "push", "pull": "pull",
})  # fmt: skip
"""What a day holds, in words."""
_USUAL: MappingProxyType[int, tuple[Shape, ...]] = MappingProxyType({
    4: ("upper", "lower", "upper", "lower"),
    5: ("upper", "lower", "push", "pull", "lower"),
    6: ("push", "pull", "lower", "push", "pull", "lower"),
    7: ("push", "pull", "lower", "push", "pull", "lower", "upper"),
})  # fmt: skip
"""Days as people train them; fewer than four are whole-body days (common practice, no source)."""
BEGINNER_SHARES = 4
"""A beginner's days beyond so many are for the upper and the lower body in turn (common practice, no source)."""


def shapes(number: int, template: Template = "usual", beginner: bool = False, raised: Collection[str] = ()) -> tuple[Shape, ...]:
    """What each of so many days holds, in order. A beginner's many days alternate: few lifts, often done, would leave three sorts of days half empty.

    Args:
        raised: muscles that are wanted more; where one half of the body has a day more than the other, it is the one with more of these.

    Raises:
        InputError: no such template.
    """
    if template == "usual" and beginner and number > BEGINNER_SHARES:
        template = "upper_lower"
    if template == "usual":
        whole: Shape = "whole"
        return _USUAL.get(number, (whole,) * number)
    if template not in _TURNS:
        raise InputError(f"no template is called {template!r}; allowed usual, {', '.join(_TURNS)}", asked=template)
    turn = _TURNS[template]
    if template == "upper_lower" and 2 * sum(m in _WHERE["lower"] for m in raised) > len(raised):
        turn = turn[::-1] if number % 2 else turn
    return tuple(turn[k % len(turn)] for k in range(number))


def days_of(muscle: str, held: Sequence[Shape]) -> int:
    """On how many days of some shapes work for a muscle stands: on all for one that goes anywhere."""
    own = next((shape for shape, muscles in _WHERE.items() if muscle in muscles), None)
    return sum(own is None or s in ("whole", own) or (s == "upper" and own != "lower") for s in held)


_WHERE: MappingProxyType[Shape, frozenset[str]] = MappingProxyType({
    "lower": frozenset({"quadriceps", "hamstrings", "glutes", "adductors", "hip_abductors", "hip_flexors"}),
    "push": frozenset({"chest", "triceps", "deltoids", "deltoid_anterior", "deltoid_middle"}),
    "pull": frozenset({"latissimus", "upper_back", "trapezius", "deltoid_posterior", "biceps", "elbow_flexors"}),
})  # fmt: skip
"""Which days muscles are for; the others go anywhere (common practice, no source)."""
TWICE = 2
"""Days a week that a raised muscle has at least (week_rules.csv, priority_twice)."""
LOADS_BACK = frozenset({"hip_extension"})
"""Single-joint work that the low back carries: it stays on leg days, not before them (common practice, no source)."""


def belongs(practice: Practice, shape: Shape, muscles: Sequence[Muscle], strict: bool = False) -> bool:
    """Whether a lift may stand on a day: shapes are starting points, so calves, trunk and single-joint work for a raised muscle go anywhere.

    Back extensions for raised glutes stay on leg days; where the client asked for the shape, and it gives raised muscles two days, all work for a
    raised muscle keeps to it.
    """
    region = practice.region
    if shape == "whole" or region == "any" or (not strict and _serves_raised(practice, muscles)):
        return True
    return shape == region or (shape == "upper" and region in ("push", "pull"))


def _serves_raised(practice: Practice, muscles: Sequence[Muscle]) -> bool:
    own = set(practice.targets)
    return not practice.multi and practice.family not in LOADS_BACK and any(m.raised and own & set(m.share) for m in muscles)
