"""The store in short: where it is, and rows by table."""

from lengthwise.cli.shared import out, print_table
from lengthwise.records.store import StoreInfo


def show(found: StoreInfo) -> None:
    """Where it is, and what each table holds."""
    told = f"{found.where}, table version {found.version}" if found.where else "nothing is stored yet"
    out.print(told, markup=False, soft_wrap=True)
    print_table(found.rows.items(), {"table": lambda r: r[0].replace("_", " "), "rows": lambda r: str(r[1])})
