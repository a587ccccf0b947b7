"""What a study saw, in percentage points of growth with an error: sizes of arms, differences of two arms, or only a side."""

import json
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from lengthwise import distributions
from lengthwise.errors import InputError
from lengthwise.evidence.checking import DOUBTFUL_PER_WEEK
from lengthwise.evidence.comparison import change_sd, percent_growth
from lengthwise.evidence.effect import PRE_POST_CORRELATION, WITHIN_CORRELATION
from lengthwise.evidence.spread import se_from_interval
from lengthwise.evidence.study import Contrast, Outcome, Study

USUAL_SD = {"ultrasound": 8.0, "other": 6.0}
"""Standard deviation between people of the growth of a muscle over some weeks [percentage points], where a report fixes none: an
estimate between the median (6.8 and 5.3) and the root mean square (9.0 and 6.3) of the ten studies that fix one."""
USUAL_N = 12
"""People in an arm whose number is not printed: estimate, about the median of those that print it."""
LEAST_OF_USUAL = 0.5
"""An error recovered from a p is at least this part of the usual one, since growth is printed rounded (own choice)."""
NOT_CLEAR = float(distributions.norm.ppf(0.975))
"""Standard errors that a difference of sizes lies from 0 at most where the report found none (5 %); its error is then so large at least."""
NONE_FOUND = "no difference found: p above 0.05"
SIZES = ("size", "none")
"""Kinds of what is seen of one arm."""
WHOLE = ("sum", "whole", "mean")
"""Words of a site that stands for the whole muscle and then counts alone."""


@dataclass(frozen=True, kw_only=True)
class Seen:
    """One number of a study.

    Attributes:
        heads: measured together. arms: one for a size; two for a difference (first minus second) or a side.
        value: growth or difference [percentage points]; for a side +1, the first grew more, or -1.
        se: standard error [percentage points]; of the difference that was tested where only the side is known.
        how: where the error comes from.
        kind: "size", "none" (a size that is not printed, since no significant growth was found), "difference", "side", or "lean" (a side
            that no test of the difference stands behind).
    """

    heads: tuple[str, ...]
    arms: tuple[str, ...]
    value: float
    se: float
    how: str
    kind: str


def write_seen(seen: Mapping[str, Sequence[Seen]]) -> bytes:
    """What studies saw, by their ids, as the content of a file."""
    return json.dumps({name: [vars(s) for s in some] for name, some in seen.items()}).encode()


def read_seen(content: bytes) -> dict[str, tuple[Seen, ...]]:
    """What studies saw back from `write_seen`.

    Raises:
        ValueError, KeyError, TypeError: the content is damaged.
    """
    table = json.loads(content)
    return {
        name: tuple(Seen(**{**s, "heads": tuple(s["heads"]), "arms": tuple(s["arms"])}) for s in some)
        for name, some in table.items()
    }


def seen_in(study: Study) -> tuple[Seen, ...]:
    """Every number of a study that bears on growth, each once; a muscle whose parts are measured too is left to its parts."""
    groups = dict.fromkeys(o.heads for o in study.outcomes if o.heads)
    out: list[Seen] = []
    for heads in groups:
        if not _has_parts(study, heads):
            out += _of_group(study, heads)
    return tuple(out)


def _has_parts(study: Study, heads: tuple[str, ...]) -> bool:
    """Whether smaller groups that were measured in the same arms make up this one."""
    arms = {o.arm for o in study.outcomes if o.heads == heads and _told(study, o)}
    parts = [o for o in study.outcomes if o.heads and set(o.heads) < set(heads) and _told(study, o)]
    made = [{h for o in parts if o.arm == a for h in o.heads} for a in arms]
    return bool(arms) and all(m == set(heads) for m in made)


def _told(study: Study, o: Outcome) -> bool:
    said = any(c.muscle == o.muscle and o.arm in (c.arm, c.versus) and _says(c) for c in study.contrasts)
    return _growth(o) is not None or said


def _growth(o: Outcome) -> float | None:
    """Growth of an arm [%]; 0 where none was found, whose error then says how much it could have been."""
    return 0.0 if o.growth_told else percent_growth(o)


def _says(c: Contrast) -> bool:
    return c.verdict is not None or c.difference is not None


def _of_group(study: Study, heads: tuple[str, ...]) -> list[Seen]:
    sizes = {a.name: s for a in study.arms if (s := _size(study, a.name, heads)) is not None}
    if any(_too_fast(study, s.value) for s in sizes.values()):
        pairs = combinations(sizes.values(), 2)
        return [_side(a, b) for a, b in pairs if a.value != b.value]
    settled = _settled(study, heads, sizes)
    others = _differences(study, heads, [c for c in _contrasts(study, heads) if not {c.arm, c.versus} <= set(sizes)])
    return [*settled.values(), *others]


def _too_fast(study: Study, growth: float) -> bool:
    """Growth that is hard to believe (evidence/checking.py): then only which arm grew more counts."""
    return study.weeks is not None and growth / study.weeks > DOUBTFUL_PER_WEEK


def _side(a: Seen, b: Seen) -> Seen:
    se = float(np.hypot(a.se, b.se))
    return Seen(
        heads=a.heads,
        arms=(*a.arms, *b.arms),
        value=float(np.sign(a.value - b.value)),
        se=se,
        how="growth beyond belief: the side alone",
        kind="side",
    )


def _rows(study: Study, arm: str, heads: tuple[str, ...]) -> list[Outcome]:
    mine = [o for o in study.outcomes if o.arm == arm and o.heads == heads and _growth(o) is not None]
    whole = [o for o in mine if o.site.startswith(WHOLE)]
    return whole or mine


def _size(study: Study, arm: str, heads: tuple[str, ...]) -> Seen | None:
    """Growth of an arm: the mean over its sites, with their mean error, since sites of one muscle go together."""
    rows = _rows(study, arm, heads)
    if not rows:
        return None
    growth = [_growth(o) or 0.0 for o in rows]
    errors = [arm_error(study, o) for o in rows]
    return Seen(
        heads=heads,
        arms=(arm,),
        value=float(np.mean(growth)),
        se=float(np.mean([e for e, _ in errors])),
        how=errors[0][1],
        kind="none" if all(o.growth_told for o in rows) else "size",
    )


def arm_error(study: Study, o: Outcome) -> tuple[float, str]:
    """Standard error of an arm's growth [percentage points], such that two arms add up to the error of their difference."""
    n = o.n or USUAL_N
    if o.growth_told:
        unseen = float(distributions.t.ppf(0.975, n - 1)) * _usual_sd(study, o)[0] / math.sqrt(n)
        return math.hypot(
            usual_error(study, o), unseen / math.sqrt(3)
        ), "no significant growth: anywhere below what n people could show"
    found = sd_of_growth(o)
    if found is None:
        return usual_error(study, o), _usual_sd(study, o)[1]
    return _arms_part(study) * found[0] / math.sqrt(n), found[1]


def sd_of_growth(o: Outcome) -> tuple[float, str] | None:
    """Standard deviation between people of an arm's growth [percentage points] and where it comes from, where the report fixes it."""
    if o.percent_sd is not None:
        return o.percent_sd, "printed SD of growth"
    if o.pre_mean is None:
        return None
    if (change := change_sd(o)) is not None:
        return 100 * change / o.pre_mean, "printed SD of the change"
    if o.pre_sd and o.post_sd:
        change = math.sqrt(o.pre_sd**2 + o.post_sd**2 - 2 * PRE_POST_CORRELATION * o.pre_sd * o.post_sd)
        return 100 * change / o.pre_mean, f"SDs before and after, correlation {PRE_POST_CORRELATION}"
    return None


def _arms_part(study: Study) -> float:
    """What two limbs of a person share does not part them."""
    return math.sqrt(1 - WITHIN_CORRELATION) if study.design == "within_person" else 1.0


def _usual_sd(study: Study, o: Outcome) -> tuple[float, str]:
    """The standard deviation of growth where an arm prints none: that of the report's others by the same measure, else the usual one."""
    others = [found[0] for x in study.outcomes if x.measure == o.measure and (found := sd_of_growth(x)) is not None]
    if others:
        return float(np.sqrt(np.mean(np.square(others)))), "SD of growth of its other arms"
    return USUAL_SD["ultrasound" if "ultrasound" in o.measure else "other"], "usual SD of growth"


def usual_error(study: Study, o: Outcome) -> float:
    """The error of an arm that prints none; two limbs of a person differ by USUAL_SD["other"] as people do."""
    n, (sd, how) = o.n or USUAL_N, _usual_sd(study, o)
    if study.design == "within_person" and how.startswith("usual"):
        return USUAL_SD["other"] / math.sqrt(2 * n)
    return _arms_part(study) * sd / math.sqrt(n)


def _contrasts(study: Study, heads: tuple[str, ...]) -> list[Contrast]:
    muscles = {o.muscle for o in study.outcomes if o.heads == heads}
    mine = [c for c in study.contrasts if c.muscle in muscles]
    whole = [c for c in mine if c.site.startswith(WHOLE)]
    return whole or mine


def _settled(study: Study, heads: tuple[str, ...], sizes: dict[str, Seen]) -> dict[str, Seen]:
    """Sizes whose error follows from the test of their difference, where the report prints one."""
    told = [c for c in _contrasts(study, heads) if {c.arm, c.versus} == set(sizes)]
    tested = [(c, found) for c in told if (found := _test_of(study, heads, c)) is not None]
    if len(tested) != 1:
        return sizes
    c, (t, how) = tested[0]
    a, b = sizes[c.arm], sizes[c.versus]
    se = abs(a.value - b.value) / t
    if how == NONE_FOUND and se <= math.hypot(a.se, b.se):
        return sizes
    usual = LEAST_OF_USUAL * math.dist((0, 0), [usual_error(study, _rows(study, s.arms[0], heads)[0]) for s in (a, b)])
    half = max(se, usual) / math.sqrt(2)
    return {s.arms[0]: Seen(heads=heads, arms=s.arms, value=s.value, se=half, how=how, kind="size") for s in (a, b)}


def _test_of(study: Study, heads: tuple[str, ...], c: Contrast) -> tuple[float, str] | None:
    """How many standard errors a difference lies from 0, and where that is told; at most NOT_CLEAR where none was found."""
    if c.t:
        return abs(c.t), f"t = {c.t:g} of the difference"
    se, how = _printed_error(study, heads, c)
    if c.difference and se:
        return abs(c.difference) / se, how
    if c.p is not None:
        return _quantile(study, heads, c), f"p = {c.p:g} of the difference"
    return (NOT_CLEAR, NONE_FOUND) if c.verdict == "no_difference" else None


def _quantile(study: Study, heads: tuple[str, ...], c: Contrast) -> float:
    """The t behind an exact p."""
    assert c.p is not None
    return float(distributions.t.ppf(1 - c.p / 2, _free(study, heads, c)))


def _free(study: Study, heads: tuple[str, ...], c: Contrast) -> int:
    """Degrees of freedom of a difference between two arms."""
    a, b = (_any_row(study, arm, heads).n or USUAL_N for arm in (c.arm, c.versus))
    return a - 1 if study.design == "within_person" else a + b - 2


def _differences(study: Study, heads: tuple[str, ...], contrasts: Sequence[Contrast]) -> list[Seen]:
    """Differences and sides of the arms whose growth is not printed: one for each pair of arms, the mean over its sites."""
    out = []
    for pair in dict.fromkeys((c.arm, c.versus) for c in contrasts):
        found = [s for c in contrasts if (c.arm, c.versus) == pair and (s := _difference(study, heads, c))]
        for kind in ("difference", "side", "lean"):
            some = [s for s in found if s.kind == kind]
            if some:
                out.append(_mean_of(some))
                break
    return out


def _mean_of(some: Sequence[Seen]) -> Seen:
    first = some[0]
    value = float(np.mean([s.value for s in some]))
    return Seen(
        heads=first.heads, arms=first.arms, value=value, se=float(np.mean([s.se for s in some])), how=first.how, kind=first.kind
    )


def _difference(study: Study, heads: tuple[str, ...], c: Contrast) -> Seen | None:
    arms = (c.arm, c.versus)
    usual = float(math.dist((0, 0), [usual_error(study, _any_row(study, a, heads)) for a in arms]))
    if c.difference is not None and c.start is not None:
        se, how = _printed_error(study, heads, c)
        return (
            Seen(heads=heads, arms=arms, value=100 * c.difference / c.start, se=100 * se / c.start, how=how, kind="difference")
            if se
            else None
        )
    if c.difference is not None:
        return None
    if c.verdict == "no_difference":
        return Seen(heads=heads, arms=arms, value=0.0, se=usual, how="no difference found; usual SD of growth", kind="difference")
    side = {"more": 1.0, "less": -1.0}.get(c.verdict or "")
    if side is None:
        return None
    if c.p is not None:
        return Seen(
            heads=heads,
            arms=arms,
            value=side * usual * _quantile(study, heads, c),
            se=usual,
            how=f"usual SD times t of p = {c.p:g}",
            kind="difference",
        )
    if c.how("verdict") == "computed":
        return Seen(heads=heads, arms=arms, value=side, se=usual, how="growth was significant in one arm alone", kind="lean")
    return Seen(heads=heads, arms=arms, value=side, se=usual, how="only the side is printed", kind="side")


def _printed_error(study: Study, heads: tuple[str, ...], c: Contrast) -> tuple[float | None, str]:
    if c.se is not None:
        return c.se, "printed standard error"
    if c.ci_low is not None and c.ci_high is not None:
        return se_from_interval(c.ci_low, c.ci_high, _free(study, heads, c)).value, "printed interval"
    return None, ""


def _any_row(study: Study, arm: str, heads: tuple[str, ...]) -> Outcome:
    """A row of an arm for some heads.

    Raises:
        InputError: it measures other ones; what is imported is checked for that (known/known_names.py).
    """
    found = next((o for o in study.outcomes if o.arm == arm and o.heads == heads), None)
    if found is None:
        known = dict.fromkeys("; ".join(o.heads) for o in study.outcomes if o.arm == arm)
        raise InputError(
            f"study {study.id}, arm {arm!r}: no row measures {'; '.join(heads)}, in which it is compared with another arm; found: "
            f"{', '.join(known)}. Correct it, or take it out: lengthwise study remove {study.id}",
            asked=study.id, allowed=list(known),
        )  # fmt: skip
    return found
