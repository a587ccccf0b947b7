"""Show a client: body, screening, places and their loads, known lifts against the model, weekly sets."""

from typing import TYPE_CHECKING

from lengthwise.questions.about_client import ClientAsk
from lengthwise.questions.ask import Question, Tell

if TYPE_CHECKING:
    from lengthwise.weeks.clients import WhatFollows


class PersonShowAsk(ClientAsk):
    """A client's record."""


def run(ask: PersonShowAsk, tell: Tell) -> "WhatFollows":
    """What the record leads to, its body fitted to the known lifts."""
    from lengthwise.practice.beginning import screening_of
    from lengthwise.practice.known_strength import calibration_of
    from lengthwise.weeks.clients import WhatFollows

    client = ask.client.client
    return WhatFollows(client, screening_of(client), calibration_of(client))


QUESTION = Question(
    ask=PersonShowAsk,
    run=run,
    page="/people/{}/follows",
    answer="weeks.clients.WhatFollows",
    waiting="Fitting the body to known lifts.",
    spread=True,
    address="/people/{number:client}",
)
