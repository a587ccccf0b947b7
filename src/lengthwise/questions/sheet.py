"""Write a client's week, block of weeks or progress as PDF."""

from typing import TYPE_CHECKING, Annotated, Literal

from lengthwise.questions.about_client import ClientAsk
from lengthwise.questions.ask import Question, Tell
from lengthwise.questions.fields import Said

if TYPE_CHECKING:
    from lengthwise.planning.week import Week
    from lengthwise.report.typeset import Sheet


class SheetAsk(ClientAsk):
    """Paper for a client: the saved week (planned now if there is none), the block that it begins, or progress."""

    what: Annotated[Literal["week", "block", "progress"], Said(words="what to print")] = "week"
    link: Annotated[str, Said(words="address of the log page, for the QR code on the sheet")] = ""


def run(ask: SheetAsk, tell: Tell) -> "Sheet":
    """The page, to be typeset.

    Raises:
        InputError: the screening says to see a clinician first; for progress, nothing was logged.
    """
    from lengthwise.questions.answering.reviewing import review_client
    from lengthwise.questions.answering.sheets import progress_paper
    from lengthwise.records.kept_weeks import week_of_today
    from lengthwise.records.past import past_of_client
    from lengthwise.weeks.standing import as_it_stands
    from lengthwise.weeks.week_plans import plan_week

    client = ask.client.client
    if ask.what == "progress":
        return progress_paper(review_client(client.name, rank=True, progress=tell))
    kept, past = week_of_today(ask.client.number), past_of_client(ask.client)
    return of_week(ask, as_it_stands(client, kept, past) if kept else plan_week(client, progress=tell, past=past))


def of_week(ask: SheetAsk, week: "Week") -> "Sheet":
    """The page of a week, or of the block that it begins."""
    from lengthwise.questions.answering.sheets import block_paper, week_paper
    from lengthwise.records.past import past_of_client

    client, past = ask.client.client, past_of_client(ask.client)
    return week_paper(client, week, ask.link, past) if ask.what == "week" else block_paper(client, week, past=past)


QUESTION = Question(ask=SheetAsk, run=run, page="/week/{}", answer="report.typeset.Sheet", address="")
