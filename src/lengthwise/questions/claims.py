"""List what the studies say about each claim, how sure that is, and which new study would change the most decisions."""

from typing import TYPE_CHECKING, Annotated

from lengthwise.questions.ask import Ask, Question, Tell
from lengthwise.questions.fields import Said

if TYPE_CHECKING:
    from lengthwise.known.evidence import Claims


class ClaimsAsk(Ask):
    """Every claim: which numbers count, and what comes first."""

    memory: Annotated[bool, Said(words="count numbers from memory", flag=" /--without-memory")] = True
    next: Annotated[bool, Said(words="list first the claims that one more trial could change most")] = False

    @property
    def rests_on(self) -> str:
        """Studies and claims of one's own."""
        from lengthwise.known.known_studies import kept_by

        return kept_by()


def run(ask: ClaimsAsk, tell: Tell) -> "Claims":
    """Every claim behind the numbers: verdict, headline number, which way the studies lean."""
    from lengthwise.known.evidence import Claims
    from lengthwise.known.weighed_claims import weigh_all

    weighed = weigh_all(ask.memory)
    if not ask.next:
        return Claims(weighed)
    return Claims(tuple(sorted((a for a in weighed if a.open_to_trials), key=lambda a: -a.next_trial.value)))


QUESTION = Question(ask=ClaimsAsk, run=run, page="/evidence", answer="known.evidence.Claims", library=False)
