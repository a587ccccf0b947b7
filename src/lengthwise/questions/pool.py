"""Pool the studies behind a claim, or a table of effects."""

from typing import TYPE_CHECKING, Annotated, Any

from annotated_types import MaxLen
from pydantic import AfterValidator, Field

from lengthwise.evidence.pooling import NAMES, TESTS, Convention
from lengthwise.questions.ask import Ask, Question, Tell
from lengthwise.questions.fields import Said

if TYPE_CHECKING:
    from lengthwise.known.evidence import PooledClaim
    from lengthwise.questions.answering.effect_tables import Pooled

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
Column = Annotated[str, Field(min_length=1, max_length=120, pattern=r"\S")]
"""The name of a row or of a column of numbers."""


class PoolAsk(Ask):
    """A claim: which numbers count, and how to pool its studies again (as they stand by default). Or a table of effects instead."""

    claim: Annotated[str, MaxLen(80), Said(words="id of a claim; `claims` lists them", argument=True, example="long_length")] = ""
    method: Method = None
    test: Test = None
    memory: Annotated[bool, Said(words="count numbers from memory", flag=" /--without-memory")] = True
    table: Annotated[Any, Said(words="an `EffectTable` instead of a claim", inside=True)] = (
        None  # its part is not loaded for a claim
    )
    moderators: Annotated[
        tuple[str, ...],
        AfterValidator(lambda names: tuple(dict.fromkeys(names))),
        Said(
            words="numeric column of the table to regress on",
            each="moderator",
            written=list[Column],
            sent={"max_length": 10},
            with_file=True,
        ),
    ] = ()
    prior_scale: Annotated[
        float | None,
        Said(words="scale of a half-normal prior for τ, to add a Bayesian pool", sent={"ge": 1e-6, "le": 1e6}, with_file=True),
    ] = None
    correlation: Annotated[
        float,
        Field(ge=0, lt=1),
        Said(words="correlation of sampling errors within a cluster, 0 to below 1", sent={"le": 0.99, "lt": None}, with_file=True),
    ] = 0.0

    @property
    def convention(self) -> Convention:
        """How to pool."""
        return Convention(self.method or "reml", self.test or "z")

    @property
    def rests_on(self) -> str:
        """Studies and claims of one's own."""
        from lengthwise.known.known_studies import kept_by

        return kept_by()


def run(ask: PoolAsk, tell: Tell) -> "PooledClaim | Pooled":
    """The headline's numbers, or those of its studies pooled anew; every finding, what others have pooled. Of a table what its rows add up to.

    Raises:
        UnknownNameError: no such claim or column. InputError: it is to be pooled anew and no study has an effect size; a table as of `pool_effects`.
    """
    if ask.table is not None:
        from lengthwise.questions.answering.effect_tables import pool_effects

        return pool_effects(ask.table, ask)
    from lengthwise.known.evidence import pool_claim

    return pool_claim(ask.claim, ask.convention if ask.method or ask.test else None, ask.memory)


QUESTION = Question(
    ask=PoolAsk, run=run, page="/evidence/pool", answer="known.evidence.PooledClaim", address="/claims/{claim}", library=False
)
