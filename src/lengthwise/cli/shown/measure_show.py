"""A client's measurements as a table."""

from lengthwise.cli.shared import new_table, out
from lengthwise.questions.measure_show import MeasureShowAsk
from lengthwise.records.log_entries import Measurements


def show(found: Measurements, asked: MeasureShowAsk) -> None:
    """Every reading and the mean, in the client's units."""
    client = asked.client.client
    table = new_table("day", "what", "site", "side", "readings", "mean", "note")
    for m in found.measurements:
        shown, unit = m.shown(client.mass_unit, client.length_unit)
        mean = f"{sum(shown) / len(shown):.1f} {unit}" if shown else ""
        words = " ".join(f"{v:.1f}" for v in shown) or m.reference
        table.add_row(m.day.isoformat(), m.kind.replace("_", " "), m.site, m.side, words, mean, m.note)
    out.print(table)
