"""Accounts as a table."""

from lengthwise.actions.accounts import Accounts
from lengthwise.cli.shared import print_table


def show(found: Accounts) -> None:
    """Who may sign in, as what, and how."""
    columns = {
        "name": lambda a: a.name,
        "role": lambda a: f"{a.role}, leads" if a.leads else a.role,
        "second factor": lambda a: "yes" if a.has_factor else "",
        "made": lambda a: f"{a.made_at:%Y-%m-%d}",
    }
    print_table(found.accounts, columns)
