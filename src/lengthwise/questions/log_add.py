"""Log sets of LIFT from one line; asks first if the load is far above what the client can lift."""

from typing import TYPE_CHECKING, Annotated

from annotated_types import MaxLen

from lengthwise.errors import InputError
from lengthwise.questions.about_client import EntryAsk
from lengthwise.questions.ask import Question, Tell
from lengthwise.questions.fields import Day, Said

if TYPE_CHECKING:
    from lengthwise.records.log_entries import EnteredSets


class LogAddAsk(EntryAsk):
    """Sets of one lift, as done."""

    lift: Annotated[str, MaxLen(80), Said(words="id, name or alias of a lift", argument=True)]
    sets: Annotated[
        str, MaxLen(300), Said(words='such as "3x8 @ 60 r2", "8,8,7 @ 62,5 kg", "3x5 @ bw+10 pain knee"', argument=True)
    ]
    day: Annotated[Day | None, Said(words="day, such as 2026-03-02; today by default")] = None
    yes: Annotated[bool, Said(words="log the load even if it is far above what the client should be able to lift")] = False


def run(ask: LogAddAsk, tell: Tell) -> "EnteredSets":
    """The sets that were saved.

    Raises:
        QuickLineError: the line cannot be read. UnknownNameError: no such lift. InputError: a day in the future, or a load to confirm.
    """
    from lengthwise.records.log_doubt import doubt_of_line
    from lengthwise.records.log_entries import EnteredSets, add_sets

    if not ask.yes and (asked := doubt_of_line(ask.number, ask.lift, ask.sets)):
        raise InputError(f"{asked} Nothing was logged; use --yes to log it as written", asked=ask.sets)
    sets, entry = add_sets(ask.number, ask.lift, ask.sets, ask.day)
    return EnteredSets(entry, sets)


QUESTION = Question(ask=LogAddAsk, run=run, page="/log/{}", answer="records.log_entries.EnteredSets", address="")
