"""The store in short: where it is, and rows by table."""

from rich.box import SIMPLE_HEAD
from rich.table import Table

from lengthwise.actions.store import StoreInfo
from lengthwise.cli.shared import out


def show(found: StoreInfo) -> None:
    """Where it is, and what each table holds."""
    table = Table("table", "rows", box=SIMPLE_HEAD)
    for name, n in found.rows.items():
        table.add_row(name.replace("_", " "), str(n))
    told = f"{found.where}, tables of version {found.version}" if found.where else "nothing is kept yet"
    out.print(told, markup=False, soft_wrap=True)
    out.print(table)
