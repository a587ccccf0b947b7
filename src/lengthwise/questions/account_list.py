"""List accounts."""

from typing import TYPE_CHECKING

from lengthwise.questions.ask import Ask, Question, Tell

if TYPE_CHECKING:
    from lengthwise.records.accounts import Accounts


def run(ask: Ask, tell: Tell) -> "Accounts":
    """Everybody who may sign in; nobody where only this machine is served. Passwords are never told."""
    from lengthwise.records.accounts import Accounts, list_accounts

    return Accounts(list_accounts())


QUESTION = Question(
    ask=Ask,
    run=run,
    page="/accounts",
    answer="records.accounts.Accounts",
    address="/accounts",
    open_to="lead",
    lasts=False,
    spread=True,
    library=False,
)
