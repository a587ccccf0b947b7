"""Show what PERSON could do instead of LIFT, with load, reason and what is lost."""

from typing import TYPE_CHECKING, Annotated, Literal

from lengthwise.questions.about_client import ClientAsk
from lengthwise.questions.ask import Question, Tell
from lengthwise.questions.fields import LiftId, Said

if TYPE_CHECKING:
    from lengthwise.weeks.swapping import Swap


class SwapAsk(ClientAsk):
    """A lift to replace, and why."""

    lift: Annotated[LiftId, Said(words="the lift to replace: id, name or alias", argument=True, example="back_squat")]
    because: Annotated[Literal["", "pain", "gear", "time", "taste"], Said(words="why it is replaced")] = ""
    joint: Annotated[
        Literal["", "neck", "shoulder", "elbow", "wrist", "trunk", "back", "hip", "knee", "ankle"],
        Said(
            words="the joint that hurts (trunk is the back); by default the one that hurt last, else a sore joint from the record"
        ),
    ] = ""


def run(ask: SwapAsk, tell: Tell) -> "Swap":
    """Lifts for the same heads, best first.

    Raises:
        InputError: the screening says to see a clinician first. NoSolutionError: nothing available does the same.
    """
    from lengthwise.records.past import past_of_client
    from lengthwise.weeks.swapping import swap_lift

    return swap_lift(ask.client.client, ask.lift, ask.because, past_of_client(ask.client), tell, ask.joint)


QUESTION = Question(
    ask=SwapAsk,
    run=run,
    page="/week/{}/swap?lift=bench_press",
    answer="weeks.swapping.Swap",
    waiting="Computing the lifts for this body; this happens once.",
    spread=True,
    address="/week/{number:client}/swap",
)
