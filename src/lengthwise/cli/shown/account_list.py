"""Accounts as a table."""

from lengthwise.cli.shared import out, print_table
from lengthwise.records.accounts import Accounts


def show(found: Accounts) -> None:
    """Who may sign in, as what, and how."""
    if not found.accounts:
        out.print("no accounts yet; only this machine can open Lengthwise. Add one with: lengthwise account add NAME")
        return
    columns = {
        "name": lambda a: a.name,
        "role": lambda a: f"lead {a.role}" if a.leads else a.role,
        "second factor": lambda a: "yes" if a.has_factor else "",
        "since": lambda a: f"{a.made_at:%Y-%m-%d}",
    }
    print_table(found.accounts, columns)
