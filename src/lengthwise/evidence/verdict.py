"""What the evidence says of a claim: supported, against, equivalent or open."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal, get_args

import numpy as np

from lengthwise.distributions import norm, t
from lengthwise.evidence.claims import Claim, Published
from lengthwise.evidence.synthesis import Directions, PooledAnswer

Word = Literal["supported", "against", "equivalent", "open"]
VERDICTS: tuple[Word, ...] = get_args(Word)
"""supported: the 95 % interval lies above 0. against: below 0. equivalent: the 90 % interval lies within ± the margin, so any
difference is too small to matter (two one-sided tests at 5 %: Lakens 2017, Soc Psychol Personal Sci 8:355-362). open: none of these."""

MARGINS = {"SMD": 0.2, "SMD before training": 0.07, "ln growth ratio": 0.02, "percentage points": 2.0}
"""A difference smaller than this does not matter, by scale: 0.2 standard deviations is called small (Cohen 1988, Statistical Power
Analysis); in standard deviations between people before training a fifth of all that training grows (0.34, claim training_grows; own
choice); 2 % of muscle size, as a ratio or in percentage points of the start (own choice). A claim may state its own."""

SIGN_LEVEL = 0.05
"""Level of the sign test where only directions are known."""


@dataclass(frozen=True)
class Verdict:
    """One of VERDICTS, and what it rests on in words."""

    word: Word
    reason: str


def margin_of(claim: Claim, scale: str) -> float | None:
    """The difference that does not matter, in units of a scale; None where no margin is stated for it."""
    if claim.margin is not None:
        return claim.margin
    return MARGINS["SMD"] if scale not in MARGINS and scale.startswith("SMD") and " per " not in scale else MARGINS.get(scale)


def many(n: int) -> str:
    """A number of studies in words."""
    return f"{n} {'study' if n == 1 else 'studies'}"


def small(p: float) -> str:
    """A p in words: never nought, since none is."""
    return "p < 0.001" if p < 0.001 else f"p = {p:.2g}" if p < 0.1 else f"p = {p:.2f}"


@lru_cache(maxsize=256)
def _half_widths(df: float) -> tuple[float, float]:
    """Half of a 95 % and of a 90 % interval, in standard errors; what a next trial may find asks for the same two hundreds of times."""
    half, narrow = (float(t.ppf(p, df) if np.isfinite(df) else norm.ppf(p)) for p in (0.975, 0.95))
    return half, narrow


def word_of(estimate: float, se: float, df: float, margin: float | None) -> Word:
    """The verdict of a number with its standard error and degrees of freedom, given the difference that does not matter."""
    half, narrow = (se * errors for errors in _half_widths(df))
    if margin is not None and -margin < estimate - narrow and estimate + narrow < margin:
        return "equivalent"
    if estimate - half > 0:
        return "supported"
    return "against" if estimate + half < 0 else "open"


def _of_directions(d: Directions, published: Sequence[Published]) -> Verdict:
    """Directions alone decide by a sign test; reports that others wrote without a number are told and decide nothing."""
    roles = [p.role for p in published]
    told = (
        (len(d.favours), "study for", "studies for"),
        (len(d.against), "study against", "studies against"),
        (roles.count("supporting"), "report in favour", "reports in favour"),
        (roles.count("against"), "report against", "reports against"),
    )
    words = ", ".join(f"{n} {one if n == 1 else several}" for n, one, several in told if n)
    if not (published or d.leaning or d.neither or d.unknown):
        return Verdict("open", "no study bears on it yet")
    if d.leaning and d.p < SIGN_LEVEL:
        return Verdict(
            "supported" if len(d.favours) > len(d.against) else "against", f"{words} (sign test {small(d.p)}); no effect size"
        )
    return Verdict("open", f"{words or 'only context'}; no effect size with a standard error")


def unnumbered_pool(published: Sequence[Published]) -> Published | None:
    """A pool of several studies that decided against a claim and prints no number: one study's number does not speak before it."""
    return next((p for p in published if p.role == "against" and p.estimate is None and (p.n_study or 0) > 1), None)


def verdict(claim: Claim, answer: PooledAnswer | None, directions: Directions, published: Sequence[Published] = ()) -> Verdict:
    """What the answer to quote says of a claim, or the studies' directions where there is no number."""
    if answer is None:
        if claim.practice and not (directions.leaning or directions.neither):
            return Verdict("open", "common practice; no study of the library bears on it")
        return _of_directions(directions, published)
    margin = margin_of(claim, answer.scale)
    word = word_of(answer.estimate, answer.se, answer.df, margin)
    low, high = answer.ci
    number = f"{answer.estimate:+.2g} ({low:+.2g} to {high:+.2g}) {answer.scale}, {many(answer.n_study)}{answer.counted}"
    pooled = unnumbered_pool(published)
    if answer.basis == "one study" and pooled is not None:
        led = f"{pooled.what} in a pool of {many(pooled.n_study or 1)} ({pooled.cited}), which prints no number"
        return Verdict("open", f"{led}; one study alone finds {number}")
    bearing = directions.leaning + len(directions.neither)
    if answer.basis == "one study" and bearing > 1 and word != "open":
        return Verdict(
            "open", f"{number}: only one of the {bearing} that bear on it prints an effect size, which decides nothing alone"
        )
    words = {
        "supported": f"the interval lies above 0{_barely(answer)}",
        "against": f"the interval lies below 0{_barely(answer)}",
        "equivalent": f"90% sure to lie within ±{margin:g}, too small to matter" if margin else "",
        "open": "the interval includes 0, and more than a small difference is possible",
    }
    return Verdict(word, f"{number}: {words[word]}")


def _barely(answer: PooledAnswer) -> str:
    """The p of an interval whose nearer end was printed as 0, since rounding hides on which side it lies."""
    if answer.ci[0] and answer.ci[1]:
        return ""
    z, normal = abs(answer.estimate) / answer.se, not np.isfinite(answer.df)
    p = answer.printed_p if answer.printed_p is not None else 2 * float(norm.sf(z) if normal else t.sf(z, answer.df))
    return f", but only just: {small(p)}"
