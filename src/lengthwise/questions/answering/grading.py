"""Choosing lifts: rank, compare, weights; each question as one function."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

import numpy as np

from lengthwise.body.person import Person
from lengthwise.errors import InputError, unknown
from lengthwise.files.folders import data_folder
from lengthwise.files.whole_files import read_text, write_whole
from lengthwise.grading.criteria import Criterion, criteria, preferences
from lengthwise.grading.criterion_weights import Weights, default_weights, read_weights, write_weights
from lengthwise.grading.draws import streams
from lengthwise.grading.filters import LiftWishes, candidates, refused_unsolved
from lengthwise.grading.growth_value import reference_of
from lengthwise.grading.long_half import LongHalf
from lengthwise.grading.ranking import RankedLift, Ranking, RankQuestion, rank
from lengthwise.grading.studied_lift import Candidate, Refused, Studied
from lengthwise.grading.target import Target, target_named
from lengthwise.known.lifts import all_lifts
from lengthwise.known.studies import Progress, no_progress, study_all
from lengthwise.known.trial_answers import posterior_of
from lengthwise.lifts.catalogue import Catalogue
from lengthwise.mechanics.profile import Request
from lengthwise.practice.long_halves import LEADING, long_halves
from lengthwise.training.client import Client, Place
from lengthwise.training.load_step import step_over_load

if TYPE_CHECKING:
    from lengthwise.questions.rank import RankAsk

LONGEST_NAME = 40
"""Most letters of a set of weights' name."""


def rank_lifts(asked: "RankAsk", progress: Progress = no_progress) -> Ranking:
    """The lifts for a muscle in order.

    Raises:
        NoSolutionError: no lift is left.
    """
    target, person, record, lifts = target_named(asked.muscle), asked.person, asked.record, all_lifts()
    pool = candidates(lifts, target, asked.ranges, asked.request)
    wishes, out = _wishes(asked.wishes, record)
    refused = {c.key: r for c in pool if (r := refused_unsolved(c, wishes) or _left_out(c, out)) is not None}
    asking = [c for c in pool if c.key not in refused]
    beside = _reference(target, lifts, asked.request)
    extra = [beside] if beside and beside.key not in {c.key for c in asking} else []
    places = tuple(record.places.values()) if record else ()
    found = [_stepped(s, places) for s in study_all(person, [*asking, *extra], target.heads, progress)]
    known = {s.facts.key: s for s in found if isinstance(s, Studied)}
    reference = known.get(beside.key) if beside else None
    posterior = posterior_of()
    question = RankQuestion(
        target=target,
        learned=posterior.sample(asked.draws),
        weights=asked.weighing,
        wishes=wishes,
        per=asked.per,
        reference=reference,
        own_gear=bool(places),
    )
    others = len(lifts.lifts) - len({c.lift_id for c in pool})
    own = [_borne(s, record) for s in found[: len(asking)]]
    ranked = rank([*own, *refused.values()], question, np.random.default_rng(asked.seed), others)
    ranked = replace(ranked, long_halves=_long_halves(asked, person, ranked, known))
    return replace(ranked, lifts=tuple(_told(r, record) for r in ranked.lifts))


def _wishes(asked: LiftWishes, record: Client | None) -> tuple[LiftWishes, dict[str, str]]:
    """What lifts must meet, and which ones a record leaves out."""
    if record is None:
        return asked, {}
    from lengthwise.weeks.record_wishes import allowed_by  # only here: a body alone loads nothing of weeks

    return allowed_by(record, asked)


def _borne(found: Studied | Refused, record: Client | None) -> Studied | Refused:
    """A studied lift, or why a sore joint of the record leaves it out."""
    if record is None or not record.sore_joints:
        return found
    from lengthwise.weeks.record_wishes import spared  # only here, as above

    return spared(record, found)


def _told(lift: RankedLift, record: Client | None) -> RankedLift:
    """A ranked lift with what a sore joint of the record leaves of its load."""
    if record is None or not record.sore_joints:
        return lift
    from lengthwise.weeks.record_wishes import kept_lighter  # only here, as above

    return kept_lighter(record, lift)


def _left_out(candidate: Candidate, reasons: Mapping[str, str]) -> Refused | None:
    reason = reasons.get(candidate.lift_id)
    return Refused(candidate.key, candidate.lift.name, reason) if reason else None


def _long_halves(asked: "RankAsk", person: Person, ranked: Ranking, known: Mapping[str, Studied]) -> tuple[LongHalf, ...]:
    """The long halves worth a thought beside an order of full ranges; none where the question itself let halves compete."""
    if asked.ranges != ("full",):
        return ()
    first = [known[r.facts.key] for r in ranked.lifts[:LEADING]]
    draws = posterior_of().sample(asked.draws)
    return long_halves(person, first, ranked.target, draws, streams(asked.draws, np.random.default_rng(asked.seed)))


def _stepped(found: Studied | Refused, places: Sequence[Place]) -> Studied | Refused:
    """A studied lift with the jump to the next load that exists where the person trains."""
    if isinstance(found, Refused):
        return found
    f = found.facts
    step = step_over_load(f.lift_id, f.gear, f.working_kg, f.moved_kg, places)
    return replace(found, facts=replace(f, load_step_fraction=step))


def _reference(target: Target, lifts: Catalogue, request: Request) -> Candidate | None:
    """The lift that growth is told as a multiple of, over its whole range; none where none is named or the library lacks it."""
    name = reference_of(target)
    return Candidate(name, lifts.lifts[name], replace(request, range="full")) if name in lifts.lifts else None


def changed_weights(name: str, changed: Mapping[str, float]) -> Weights:
    """A saved set of weights, some of them changed.

    Raises:
        UnknownNameError: no such set or criterion. InputError: a weight that is not allowed. DataFileError: the set's file has faults.
    """
    weights = weights_named(name)
    return weights.with_values(changed, f"{weights.name}, changed") if changed else weights


# ---- weights ----


def weights_folder() -> Path:
    """Where a user's own sets of weights live."""
    return data_folder() / "weights"


def saved_weights() -> list[str]:
    """Names of all sets of weights, the default first."""
    return ["default", *sorted(f.stem for f in weights_folder().glob("*.toml"))]


def weights_named(name: str) -> Weights:
    """A set of weights by name.

    Raises:
        UnknownNameError: none is called so. DataFileError: its file has faults.
    """
    if name == "default":
        return default_weights()
    if name not in saved_weights():
        raise unknown("set of weights", name, saved_weights())
    return read_weights(name, read_text(weights_folder() / f"{name}.toml", f"{name}.toml"))


def save_weights(name: str, base: str, changed: dict[str, float]) -> Weights:
    """Save a set of weights under a name: another set with some weights changed.

    Raises:
        InputError: a name that cannot be a file's, or is the default's.
    """
    if name == "default" or len(name) > LONGEST_NAME or not name.replace("_", "").replace("-", "").isalnum():
        raise InputError(
            f"weights cannot be saved as {name!r}; allowed up to {LONGEST_NAME} letters, digits, - and _, and not 'default'",
            asked=name,
        )
    made = weights_named(base).with_values(changed, name)
    weights_folder().mkdir(parents=True, exist_ok=True)
    write_whole(weights_folder() / f"{name}.toml", write_weights(made))
    return made


def parse_weights(words: Sequence[str]) -> dict[str, float]:
    """Weights written as criterion=value.

    Raises:
        InputError: a part that is not. UnknownNameError: no such criterion.
    """
    out = {}
    for word in words:
        name, _, value = word.partition("=")
        if name.strip() not in preferences():
            raise unknown("preference", name.strip(), preferences())
        try:
            out[name.strip()] = float(value)
        except ValueError:
            raise InputError(f"cannot read {word!r}; write criterion=weight, such as time=3", asked=word) from None
    return out


@dataclass(frozen=True)
class LiftsCounted:
    """How much one criterion counts, and why."""

    PUBLIC: ClassVar = """
        weight weight_reason title=criterion.title measure=criterion.measure unit=criterion.unit points=criterion.points
        claim=criterion.claim why=criterion.why curve_reason=criterion.reason
    """

    weight: float
    weight_reason: str
    criterion: Criterion


@dataclass(frozen=True)
class WeightsTold:
    """A set of weights, with the curve and claim of every criterion."""

    PUBLIC: ClassVar = "name=weights.name neighbourhood=weights.neighbourhood saved criteria"

    weights: Weights

    @property
    def saved(self) -> list[str]:
        """Every set there is."""
        return saved_weights()

    @property
    def criteria(self) -> dict[str, LiftsCounted]:
        """Each criterion that is a preference."""
        w = self.weights
        return {n: LiftsCounted(w.value[n], w.reason[n], c) for n, c in criteria().items() if n in preferences()}
