"""Accounts as a table."""

from rich.box import SIMPLE_HEAD
from rich.table import Table

from lengthwise.actions.accounts import Accounts
from lengthwise.cli.shared import out


def show(found: Accounts) -> None:
    """Who may sign in, as what, and how."""
    table = Table("name", "role", "second factor", "made", box=SIMPLE_HEAD)
    for a in found.accounts:
        role = f"{a.role}, leads" if a.leads else a.role
        table.add_row(a.name, role, "yes" if a.has_factor else "", f"{a.made_at:%Y-%m-%d}")
    out.print(table)
