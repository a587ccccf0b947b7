"""A muscle's sets divided, as a table."""

from lengthwise.cli.shared import new_table, out
from lengthwise.grading.dividing import Split
from lengthwise.grading.sentences import lift_in_text, plain
from lengthwise.known.library import all_lifts


def show(found: Split) -> None:
    """Sets and share of each lift, and what each head gets."""
    lifts = all_lifts().lifts
    columns = (f"{plain(h)}\nper set" for h in found.per_set)
    title = f"{found.weekly_sets} weekly sets for {plain(found.target.name)}"
    table = new_table("lift", "sets", "share", *columns, title=title)
    for lift, share in found.share.items():
        table.add_row(
            lifts[lift].name, str(found.sets[lift]), f"{abs(share):.0%}", *(f"{found.per_set[h][lift]:.2f}" for h in found.per_set)
        )
    out.print(table)
    for lift in dict.fromkeys(found.reference.values()):
        heads = ", ".join(plain(h) for h, own in found.reference.items() if own == lift)
        out.print(f"Per set: growth as in `rank`, × the {lift_in_text(lifts[lift].name)}: {heads}", highlight=False)
    if found.target.taken:
        out.print(found.target.taken)
    for head, got in found.reached.items():
        out.print(f"{plain(head)}: {got:.0%} of the growth its best lift alone would give")
    for head in found.bare:
        out.print(f"{plain(head)}: none of these lifts trains it", style="yellow")
    out.print(found.trade_off_sentence)
