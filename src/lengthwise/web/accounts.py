"""Whether anybody could sign in: what must be true before the workbench may be reached from other machines."""

from lengthwise.actions import accounts
from lengthwise.web.kept_clients import store_exists


def accounts_exist() -> bool:
    """Whether at least one account with a password is kept; looking makes no store."""
    return store_exists() and accounts.accounts_exist()
