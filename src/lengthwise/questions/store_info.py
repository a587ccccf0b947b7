"""Show where the store is and how much it holds."""

from typing import TYPE_CHECKING

from lengthwise.questions.ask import Ask, Question, Tell

if TYPE_CHECKING:
    from lengthwise.records.store import StoreInfo


def run(ask: Ask, tell: Tell) -> "StoreInfo":
    """Counted now; if there is no store, none is made."""
    from lengthwise.records.store import info

    return info()


QUESTION = Question(
    ask=Ask,
    run=run,
    page="/records",
    answer="records.store.StoreInfo",
    address="/store",
    open_to="lead",
    lasts=False,
    spread=True,
    library=False,
)
