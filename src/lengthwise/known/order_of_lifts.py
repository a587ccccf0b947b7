"""An order of lifts with what stands beside it: for how many adults it holds, hard sets that fit, long halves."""

from dataclasses import dataclass
from typing import ClassVar

from lengthwise.grading.filters import hard_sets_in
from lengthwise.grading.ranking import RankedLift, Ranking, turn_sentence
from lengthwise.grading.sentences import lift_in_text, spoken
from lengthwise.growth.beside import trialled
from lengthwise.known.trial_answers import trials_between
from lengthwise.populations.order_words import adults_sentences
from lengthwise.populations.pairs import InAdults, in_adults


@dataclass(frozen=True)
class LiftInOrder:
    """A lift in its place: lifts of one tier cannot be told apart by growth, so preferences order them.

    Attributes:
        lift: in its place. hard_sets: that fit into the minutes asked for; None where none were.
        adults: in what part of the adults of the model it grows more than the reference; None where that was not worked out.
    """

    PUBLIC: ClassVar = """
        lift=lift.facts.lift_id name=lift.facts.name range=lift.facts.range value=lift.value growth=lift.growth
        better_than_reference=lift.better_than_reference tier=lift.tier fit=lift.fit preference=lift.preference
        criteria=lift.criteria first_share=lift.first_share top3_share=lift.top3_share rank_interval=lift.rank_interval
        says=lift.says why=lift.why coverage=lift.coverage load_kg=lift.facts.working_kg gear=lift.facts.gear unstable=lift.facts.unstable
        setup_s=lift.facts.setup_s seconds_per_set=lift.facts.seconds_per_set joints_nm=lift.facts.joints_nm hard_sets? adults
    """
    lift: RankedLift
    hard_sets: int | None
    adults: InAdults | None


@dataclass(frozen=True)
class OrderOfLifts:
    """The lifts for a muscle in order.

    Attributes:
        ranking: the order. lifts: each with what stands beside it.
        trials: what trials that held two of these lifts against each other saw, in words, those against the order first.
    """

    PUBLIC: ClassVar = """
        muscle=ranking.target.name taken=ranking.target.taken heads=ranking.target.heads reference=ranking.reference per=ranking.per ranking=lifts
        in_adults seen_by_trials=trials excluded@ranking.excluded{lift=key name reason}
        weights@ranking.weights{name value=preferred neighbourhood} would_change{sentence turns=ranking.turns}
        draws=ranking.n_draw not_meant_for_it=ranking.others long_halves=ranking.long_halves
    """
    ranking: Ranking
    lifts: tuple[LiftInOrder, ...]
    trials: tuple[str, ...]

    @property
    def in_adults(self) -> list[str]:
        """For how many adults the first lift is ahead of the second and of the reference, in words."""
        return adults_sentences(self.ranking)

    @property
    def sentence(self) -> str:
        """What would change the order, in words."""
        return turn_sentence(self.ranking)


def in_order(found: Ranking, minutes: float | None) -> OrderOfLifts:
    """A ranking with what stands beside it."""

    def beside(r: RankedLift) -> LiftInOrder:
        sets = None if minutes is None else hard_sets_in(r.facts, minutes)
        return LiftInOrder(r, sets, in_adults(found.target.name, r.facts.key, found.reference))

    return OrderOfLifts(found, tuple(beside(r) for r in found.lifts), _trial_sentences(found))


def _trial_sentences(found: Ranking) -> tuple[str, ...]:
    """What trials of two of the lifts clearly saw, alike in every head that they measured; those against the order first."""
    place = {r.facts.lift_id: i for i, r in enumerate(found.lifts) if r.facts.range == "full"}
    name = {r.facts.lift_id: lift_in_text(r.facts.name) for r in found.lifts}
    seen: dict[tuple[str, str, str], set[int]] = {}
    trials = trials_between(place)
    for head in found.target.heads:
        for t in trialled(trials, head, list(place)):
            seen.setdefault((t.cited, t.first, t.second), set()).add(t.ahead)
    told = []
    for (cited, *lifts), sides in seen.items():
        if sides in ({1}, {-1}):
            more, less = lifts if sides == {1} else lifts[::-1]
            against = place[more] > place[less]
            order = "this order has them the other way round" if against else "so has this order"
            said = f"A trial ({cited}) saw {spoken(found.target.name)} grow more from the {name[more]} than from the {name[less]}; {order}."
            told.append((not against, said))
    return tuple(said for _, said in sorted(told))
