"""Writes what the audit of the library finds: tests/reference/lift_findings.toml and the tables of docs/limits_lifts.md and docs/lifts.md.

python validation/lift_findings.py
"""

from collections import Counter, defaultdict
from pathlib import Path
from textwrap import fill

from lengthwise.body import anatomy
from lengthwise.known.lift_audits import agreement, audit_lifts
from lengthwise.lifts.catalogue import built_in, gear

ROOT = Path(__file__).parents[1]
WHY = {
    "prime_mover": "Expected to lead (common practice) and working below a fifth of its strength in the model",
    "not_limited_by_muscle": "The body tips before a muscle fails, as it does in the gym: a strong joint could move far more than a pull at hand height lets the feet hold",
    "wrong_way": "The main target gets longer in the lifting phase",
    "jump": "A curve has one step far larger than its neighbours at nine positions",
}


def main() -> None:
    rows = audit_lifts(n_pos=9, jobs=2)
    kinds: dict[str, list[str]] = defaultdict(list)
    for row in rows:
        for finding in row.findings:
            text = finding.text.split(" was expected")[0] if finding.kind == "prime mover" else ""
            entry = f"{row.lift_id} {text}".strip()
            if entry not in kinds[finding.kind.replace(" ", "_")]:
                kinds[finding.kind.replace(" ", "_")].append(entry)
    lines = ["# What the audit of the library finds odd (written by validation/lift_findings.py).", "[finding]"]
    lines += [f"{kind} = [\n" + "".join(f'  "{e}",\n' for e in sorted(entries)) + "]" for kind, entries in sorted(kinds.items())]
    (ROOT / "tests" / "reference" / "lift_findings.toml").write_text("\n".join(lines) + "\n", encoding="utf-8")
    _limits(kinds, *agreement(rows), len(rows))
    _coverage({row.lift_id: row.long for row in rows})


def _limits(kinds: dict[str, list[str]], agree: int, of: int, n: int) -> None:
    page = ROOT / "docs" / "limits_lifts.md"
    kept = page.read_text(encoding="utf-8").split("<!-- table -->")[0] if page.exists() else "# Lifts: what does not hold\n\n"
    out = [kept.rstrip() + "\n\n<!-- table -->", f"\n## Audit of {n} lifts\n"]
    out.append(f"Expected prime movers that lead in the model: {agree} of {of} ({agree / of:.1%}).\n")
    for kind, entries in sorted(kinds.items()):
        out.append(f"### {kind.replace('_', ' ').capitalize()} ({len(entries)})\n\n{fill(WHY.get(kind, '') + '.', 100)}\n")
        by_head: dict[str, list[str]] = defaultdict(list)
        for entry in sorted(entries):
            lift, _, head = entry.partition(" ")
            by_head[head].append(lift)
        listed = (f"- {head + ': ' if head else ''}{', '.join(lifts)}" for head, lifts in sorted(by_head.items()))
        out += [fill(entry, 100, subsequent_indent="  ") for entry in listed]
        out.append("")
    page.write_text("\n".join(out), encoding="utf-8")


def _coverage(long: dict[str, tuple[str, ...]]) -> None:
    lifts = built_in().lifts
    by_gear = Counter(lift.gear for lift in lifts.values())
    out = [
        "# The lifts\n",
        f"{len(lifts)} lifts in {len(set(built_in().family.values()))} families (written by validation/lift_findings.py). "
        "`lengthwise lifts` lists them; `lengthwise lifts audit --sheet lifts.pdf` draws them all.\n",
        "| gear | lifts |",
        "| --- | --- |",
        *(f"| {gear()[g].name} | {k} |" for g, k in by_gear.most_common()),
        "\n## Coverage of every head, measured\n",
        "Loaded long: on the base body the head works at a fifth of its strength or more somewhere in the upper third of its span, in a set "
        "of ten with two in reserve. Without a gym: body weight or a band.\n",
        "| head | named first | a target | loaded long | without a gym | some of them (first named first; † loaded long) |",
        "| --- | --- | --- | --- | --- | --- |",
    ]
    for head in anatomy.heads():
        own = [i for i, lift in lifts.items() if head in lift.targets]
        main = sum(lifts[i].targets[0] == head for i in own)
        home = sum(lifts[i].gear in ("body", "band") for i in own)
        stretched = [i for i in own if head in long[i]]
        first = sorted(own, key=lambda i: (lifts[i].targets.index(head), i not in stretched))[:4]
        names = ", ".join(lifts[i].name + ("†" if i in stretched else "") for i in first)
        out.append(f"| {head} | {main} | {len(own)} | {len(stretched)} | {home} | {names} |")
    page = ROOT / "docs" / "lifts.md"
    _, heading, by_hand = page.read_text(encoding="utf-8").partition("\n## Common faults\n")
    page.write_text("\n".join(out) + "\n" + heading + by_hand, encoding="utf-8")


if __name__ == "__main__":
    main()
