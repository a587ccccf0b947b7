"""A change is carried out on the week before as a coach does it by hand, before anything is planned: sessions go to their new days, lifts whose
equipment is gone are replaced, shorter days give up what matters least. What was not asked for stays.
"""

from dataclasses import dataclass, field, replace

from lengthwise.planning.instead import Instead, Key, left_of, with_instead
from lengthwise.planning.moved_days import Moves
from lengthwise.planning.programme import INFINITE
from lengthwise.planning.question import Question
from lengthwise.planning.shorter_days import SLACK_MIN, with_shorter_days
from lengthwise.planning.week import Week
from lengthwise.planning.whole import model_of

WHOLE = 0.99
"""What takes the place of a lift may give as much of a muscle's sets as that one gave: all but none (own choice)."""
MOST_SAVED = 3.0
"""No pair saves so many times what is usual (own choice)."""
A_MINUTE = 1.0
"""A day of a week that grows is no shorter one while it is late by no more, as loads and rests went on (own choice)."""


@dataclass(frozen=True)
class Carried:
    """What is carried out on the week before.

    Attributes:
        moves: sessions that went to other weekdays, on which the week before stands already. instead: what may take the place of lines that cannot
            stand. trouble: worth that anything beyond that must gain.
    """

    moves: Moves = field(default_factory=dict)
    instead: Instead = field(default_factory=dict)
    trouble: float = 0.0


NOTHING_CARRIED = Carried()


def carried_out(question: Question, week: Week, carried: Carried) -> Question:
    """The question near to the week before with the change carried out on it; without a change near to that week as it is."""
    now, names = week, dict[Key, str]()
    if carried.instead:
        most = question.most_share or WHOLE
        left = replace(question, previous=left_of(week, carried.instead), trouble=INFINITE, most_share=most)
        now, names = with_instead(model_of(left, (MOST_SAVED,) * len(question.days)), week, carried.instead)
    now = with_shorter_days(replace(question, previous=now), now, names, SLACK_MIN if carried.trouble else A_MINUTE)
    touched = bool(carried.moves) or now != week or carried.trouble == INFINITE
    return replace(question, previous=now, in_place_of=names, trouble=carried.trouble if touched else 0.0)
