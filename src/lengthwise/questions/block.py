"""Plan a block of weeks for a client: sets, available loads, repetitions and reserve, with the rules behind them.

Uses the lifts you name, else those of the saved week, else those of a week planned now. A client without training days gets the known
lifts.
"""

from typing import TYPE_CHECKING, Annotated

from annotated_types import MaxLen
from pydantic import Field

from lengthwise.questions.about_client import ClientAsk
from lengthwise.questions.ask import Question, Tell
from lengthwise.questions.fields import Day, Said

if TYPE_CHECKING:
    from lengthwise.storage.weeks import PlannedWeek
    from lengthwise.training.block import TrainingBlock


class BlockAsk(ClientAsk):
    """A block of weeks for a client: of the lifts named, else of the saved week, else of one planned now."""

    monday: Annotated[Day | None, Said(words="a day in the week to start from; today by default")] = None
    lifts: Annotated[
        tuple[Annotated[str, MaxLen(100)], ...],
        Field(max_length=20),
        Said(words="LIFT, LIFT:SETS or LIFT:SETS:RANGE", each="lift", example=["push_up:3"]),
    ] = ()
    weeks: Annotated[int, Field(ge=4, le=8), Said(words="how many weeks, the last one lighter")] = 6
    gain: Annotated[float, Field(ge=0, le=5), Said(words="assumed weekly gain of strength; 0 uses today's", unit="%")] = 0

    @property
    def kept_week(self) -> "PlannedWeek | None":
        """The saved week, if the block is laid out from it."""
        from lengthwise.days import monday_meant
        from lengthwise.records.kept_weeks import week_of

        return None if self.lifts or not self.client.number else week_of(self.client.number, monday_meant(self.monday))

    @property
    def rests_on(self) -> str:
        """The day, and the saved week."""
        kept = self.kept_week
        return f"{super().rests_on} {kept.number if kept else 0}"


def run(ask: BlockAsk, tell: Tell) -> "TrainingBlock":
    """The weeks.

    Raises:
        InputError: the screening says to see a clinician first, no lifts, or a lift that cannot be read.
    """
    from lengthwise.records.past import past_of_client
    from lengthwise.weeks.block_plans import block_for, block_of_week
    from lengthwise.weeks.standing import as_it_stands
    from lengthwise.weeks.week_plans import plan_week

    client, kept, gain = ask.client.client, ask.kept_week, ask.gain / 100
    past = past_of_client(ask.client)
    if ask.lifts or (kept is None and not client.days):
        return block_for(client, ask.lifts, ask.weeks, gain, past)
    week = as_it_stands(client, kept.week, past) if kept else plan_week(client, progress=tell, past=past)
    return block_of_week(client, week, ask.weeks, gain, past)


QUESTION = Question(
    ask=BlockAsk,
    run=run,
    page="/week/{}/block",
    answer="training.block.TrainingBlock",
    waiting="Planning the block; if no week is saved, one is planned first…",
    spread=True,
    address="/week/{number:client}/block",
)
