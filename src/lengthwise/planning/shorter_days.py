"""A shorter day gives up what matters least: trunk and calves, then single joints, then a set of each lift; what is left is as it was (common
practice, no source).
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from lengthwise.planning.pairing import minutes_of, pairs_of
from lengthwise.planning.practice import ALONE, BIG
from lengthwise.planning.question import NEARLY_MET, WeekQuestion
from lengthwise.planning.week import Choice, PlannedDay, Week
from lengthwise.planning.week_model import counted, direct, sets_allowed

SLACK_MIN = 1e-3
"""Minutes by which a day may be late: rounding."""
LEAST, SINGLE, OTHER, MAIN, WANTED = range(5)
"""What a shorter day gives up, first to last: calves and trunk, single joints, other lifts, the client's own ones, those first of all for a raised
muscle."""
Key = tuple[str, str]
Sets = Mapping[int, int]


def with_shorter_days(question: WeekQuestion, week: Week, new: Collection[Key] = (), late_min: float = SLACK_MIN) -> Week:
    """A week whose days fit the minutes of now; a day that cannot hold a lift, or whose lifts cannot all stand, stays as it was.

    Args:
        new: lifts that took the place of others, which give up sets before any other if they take longer. late_min: minutes by which a day may be late.
    """
    free = {o.day: d for d, o in enumerate(question.days) if o.day not in question.closed}
    for k, x in enumerate(week.days):
        if x.day in free:
            cut = FullDay(question, free[x.day], counted_in(question, week), new).cut(x, late_min)
            week = replace(week, days=(*week.days[:k], cut, *week.days[k + 1 :]))
    return week


def counted_in(question: WeekQuestion, week: Week) -> dict[str, float]:
    """Counted sets of each muscle in a week."""
    known = {c.key: c for c in question.choices}
    planned = [(known[x.lift, x.range], x.sets) for d in week.days for x in d.lifts if (x.lift, x.range) in known]
    return {m.name: sum(n * counted(c, m) for c, n in planned) for m in question.muscles}


@dataclass(frozen=True)
class FullDay:
    """A day that gives up sets: of a question, the place of the day in it, and counted sets of each muscle in the week."""

    question: WeekQuestion
    d: int
    had: Mapping[str, float]
    new: Collection[Key]

    def cut(self, day: PlannedDay, late_min: float = SLACK_MIN) -> PlannedDay:
        """The day with the sets that its minutes hold."""
        at = {c.key: i for i, c in enumerate(self.question.choices)}
        if any((x.lift, x.range) not in at for x in day.lifts):
            return day
        was = {at[x.lift, x.range]: x.sets for x in day.lifts}
        if self._minutes(was) <= self.question.days[self.d].minutes + late_min:
            return day
        left = self._given_back(was, self._given_up(was))
        lifts = tuple(replace(x, sets=left[i]) for x in day.lifts if (i := at[x.lift, x.range]) in left)
        return replace(day, minutes=self._minutes(left), lifts=lifts) if left else day

    def _minutes(self, sets: Sets) -> float:
        """What sets take, with lifts in turn where they have to be [min]."""
        mine = dict(sorted(sets.items()))
        return minutes_of(self.question, mine, pairs_of(self.question, self.d, mine))

    def _fits(self, sets: Sets) -> bool:
        return self._minutes(sets) <= self.question.days[self.d].minutes + SLACK_MIN

    def _given_up(self, was: Sets) -> Sets:
        """The sets that are left where so many are given up, one after the other, that the minutes suffice."""
        left = dict(was)
        for i, n in self._steps(was):
            left = {k: m for k, m in {**left, i: n}.items() if m}
            if self._fits(left):
                break
        return left

    def _given_back(self, was: Sets, left: Sets) -> Sets:
        """The same with what the minutes still hold, what matters most first: a lift given up later may have made room for one before it."""
        for i in reversed(self._in_turn(was)) if left else ():
            most = next((n for n in range(was[i], left.get(i, self._least(i) - 1), -1) if self._fits({**left, i: n})), 0)
            left = {**left, i: most} if most else left
        return left

    def _steps(self, was: Sets) -> Iterator[tuple[int, int]]:
        """Lifts in turn, each with the sets that it keeps: new ones down to their least; small ones set by set until nothing is left of them; other
        lifts a set each, those with most sets first; then these as well.
        """
        turn, rank = [i for i in self._in_turn(was) if not self._fixed(i)], self._ranks(was)
        main = [i for i in turn if rank[i] >= OTHER]
        new = [i for i in turn if self.question.choices[i].key in self.new]
        yield from self._a_set_each(new, was)
        was = {**was, **{i: self._least(i) for i in new}}
        for i in (i for i in turn if i not in main):
            yield from ((i, n) for n in [*range(was[i] - 1, self._least(i) - 1, -1), 0])
        yield from self._a_set_each(main, was)
        yield from ((i, 0) for i in main)

    def _fixed(self, i: int) -> bool:
        """Whether a lift is fixed on the day by hand."""
        return (self.question.days[self.d].day, self.question.choices[i].key) in self.question.pinned

    def _a_set_each(self, lifts: Sequence[int], was: Sets) -> Iterator[tuple[int, int]]:
        """Lifts down to their least, each time one that has most sets left."""
        for most in range(max(was.values(), default=0), 0, -1):
            yield from ((i, most - 1) for i in lifts if was[i] >= most > self._least(i))

    def _least(self, i: int) -> int:
        return round(sets_allowed(self.question, self.question.choices[i], self.question.days[self.d])[0])

    def _in_turn(self, was: Sets) -> list[int]:
        """The day's lifts, what matters least first; of equal ones that whose muscle has most left without it, then the later one."""
        late, rank = {i: -k for k, i in enumerate(was)}, self._ranks(was)
        return sorted(was, key=lambda i: (rank[i], -self._left(self.question.choices[i], was[i]), late[i]))

    def _ranks(self, was: Sets) -> dict[int, int]:
        """When the day gives up each lift: one for one joint early where its raised muscle keeps the middle of its band, late where a big one needs it."""
        needed = self._needed(was)
        rank = {i: MAIN if i in needed else self._rank(i) for i in was}
        return {i: SINGLE if n == OTHER and self._to_spare(i, was[i]) else n for i, n in rank.items()}

    def _to_spare(self, i: int, sets: int) -> bool:
        """Whether the raised muscles that a lift for one joint is meant for keep the middle of their bands without it."""
        choice = self.question.choices[i]
        raised = [m for m in self.question.muscles if m.raised and direct(choice, m)]
        kept = (self.had[m.name] - sets * counted(choice, m) >= (m.low + m.high) / 2 for m in raised)
        return bool(raised) and not choice.practice.multi and all(kept)

    def _needed(self, was: Sets) -> set[int]:
        """Lifts for one joint without which, and those that go before them, the week would leave a big muscle below its floor."""
        big = [m for m in self.question.muscles if m.name in BIG]
        left, needed = dict(self.had), set[int]()
        single = [i for i in was if self._rank(i) == SINGLE]
        for i in sorted(single, key=lambda i: -self._left(self.question.choices[i], was[i])):
            choice = self.question.choices[i]
            without = {m.name: left[m.name] - was[i] * counted(choice, m) for m in big if direct(choice, m)}
            if any(without[m.name] < m.floor - NEARLY_MET for m in big if m.name in without):
                needed.add(i)
            else:
                left |= without
        return needed

    def holds(self, day: PlannedDay) -> bool:
        """Whether a day has no more lifts than one should, and ends in time."""
        rules, offer = self.question.rules, self.question.days[self.d]
        few = self.question.beginner or offer.minutes < rules.short_day_min
        at = {c.key: i for i, c in enumerate(self.question.choices)}
        most = rules.few_lifts_a_day if few else rules.most_lifts_a_day
        return len(day.lifts) <= most and self._fits({at[x.lift, x.range]: x.sets for x in day.lifts})

    def _rank(self, i: int) -> int:
        return self.rank_of(self.question, self.question.choices[i])

    @staticmethod
    def rank_of(question: WeekQuestion, choice: Choice) -> int:
        """When a day gives up a lift: from LEAST, first of all, to WANTED, last."""
        own = [m for m in question.muscles if direct(choice, m)]
        raised = [m for m in own if m.raised]
        if choice.practice.multi and not choice.gentle:
            first = any(choice.practice.targets[0] in m.share for m in raised)
            return WANTED if first else MAIN if choice.kept or raised else OTHER
        return OTHER if raised or choice.practice.multi else LEAST if own and all(m.name in ALONE for m in own) else SINGLE

    def _left(self, choice: Choice, sets: int) -> float:
        """The least part of its band that is left, without a lift, to a muscle that it is meant for."""
        own = [m for m in self.question.muscles if direct(choice, m)]
        return min(((self.had[m.name] - sets * counted(choice, m)) / max(m.low, 1.0) for m in own), default=1.0)
