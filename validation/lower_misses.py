"""Write tests/reference/unmet_lower.toml: the rows of topic 3 that the body does not meet, measured now, with the reason.

A reason is kept from the file when the row was in it; a new miss gets "new: explain".
"""

import sys
import tomllib
from pathlib import Path

TESTS = Path(__file__).parents[1] / "tests"
sys.path.insert(0, str(TESTS / "body"))
from rows_lower import checks  # noqa: E402

FILE = TESTS / "reference" / "unmet_lower.toml"
HEAD = """# Rows of topic 3 (biomechanics.csv) that the body does not meet; docs/limits_lower.md says more. Written by validation/lower_misses.py,
# except `why`. tests/body/test_reference_lower.py asserts that each is still unmet and still measures this.
"""


def main() -> None:
    """Measure every row and write the misses."""
    known = {r["id"]: r["why"] for r in tomllib.loads(FILE.read_text(encoding="utf-8")).get("row", [])} if FILE.exists() else {}
    out = [HEAD]
    for rid, check in checks().items():
        found = check.compute()
        if not check.low <= found <= check.high:
            why = known.get(rid, "new: explain")
            out.append(
                f'\n[[row]]\nid = "{rid}"\nmeasured = {found:.4g}\nallowed = [{check.low:.4g}, {check.high:.4g}]\nwhy = "{why}"\n'
            )
    FILE.write_text("".join(out), encoding="utf-8")


if __name__ == "__main__":
    main()
