"""A one-repetition maximum as tables."""

from lengthwise.cli.shared import out, print_table
from lengthwise.training.one_rm_told import OneRm


def show(found: OneRm) -> None:
    """The estimate, what to trust, every equation, and loads for other repetitions."""
    out.print(f"1RM [bold]{found.one_rm:.1f}[/] ({found.equation}), {found.low:.1f} to {found.high:.1f} across all equations.")
    for note in found.notes:
        out.print(f"- {note}")
    print_table(found.by.items(), {"equation": lambda x: x[0], "1RM": lambda x: f"{x[1]:.1f}"})
    columns = {
        "repetitions": lambda r: str(r.repetitions),
        "load by equation": lambda r: f"{r.load:.1f} ({r.percent:.0f}%)",
        "printed % of 1RM": lambda r: "" if r.printed_percent is None else f"{r.printed_percent:g}",
        "printed elsewhere": lambda r: "" if r.other_percent is None else f"{r.other_percent:g}",
    }
    print_table(found.table, columns)
