"""The weighted sum of typed criteria that lifts were once ordered by: kept as a rival that the estimate of growth has to beat."""

from dataclasses import replace

from lengthwise.grading.criteria import score, values_of
from lengthwise.grading.criterion_weights import default_weights
from lengthwise.grading.facts import facts_of
from lengthwise.grading.target import Target
from lengthwise.growth.features import Features, features_of
from lengthwise.mechanics.profile import LiftProfile


def with_old_grade(found: LiftProfile) -> dict[str, Features]:
    """The features of every head of a profile, each with its old grade, 0-1."""
    facts, weights = facts_of(found), default_weights().value
    return {h: replace(f, old_grade=score(values_of(facts, Target(h, (h,))), weights)) for h, f in features_of(found).items()}
