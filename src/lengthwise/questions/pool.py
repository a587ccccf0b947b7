"""Pool the studies behind a claim, or a table of effects."""

from typing import TYPE_CHECKING, Annotated

from annotated_types import MaxLen
from pydantic import AfterValidator

from lengthwise.evidence.pooling import NAMES, TESTS, Convention
from lengthwise.questions.ask import Ask, Question, Tell
from lengthwise.questions.fields import Said

if TYPE_CHECKING:
    from lengthwise.actions.evidence import PooledClaim

Method = Annotated[
    str | None,
    AfterValidator(lambda name: name and Convention(name).method),
    Said(words="estimator of τ², the spread between studies", names=lambda: tuple(NAMES)),
]
Test = Annotated[
    str | None,
    AfterValidator(lambda name: name and Convention(test=name).test),
    Said(words="normal, Student's t, or Hartung–Knapp", names=lambda: TESTS),
]


class PoolAsk(Ask):
    """A claim: which numbers count, and how its studies are pooled anew; as they stand where neither is named."""

    claim: Annotated[str, MaxLen(80), Said(words="id of a claim; `claims` lists them", argument=True, example="long_length")] = ""
    method: Method = None
    test: Test = None
    memory: Annotated[bool, Said(words="count numbers from memory", flag=" /--without-memory")] = True

    @property
    def convention(self) -> Convention:
        """How to pool."""
        return Convention(self.method or "reml", self.test or "z")

    @property
    def rests_on(self) -> str:
        """Studies and claims of one's own."""
        from lengthwise.actions.known_studies import kept_by

        return kept_by()


def run(ask: PoolAsk, tell: Tell) -> "PooledClaim":
    """The headline's numbers, or those of its studies pooled anew; every finding, what others have pooled.

    Raises:
        UnknownNameError: no such claim. InputError: it is to be pooled anew and no study has an effect size.
    """
    from lengthwise.actions.evidence import pool_claim

    return pool_claim(ask.claim, ask.convention if ask.method or ask.test else None, ask.memory)


QUESTION = Question(ask=PoolAsk, run=run, answer="actions.evidence.PooledClaim", address="/claims/{claim}", library=False)
