"""Makes src/lengthwise/growth/data/arms.json again: what the body computes for every arm of the studies.

Run after a change of the body, the lifts or the mechanics:  python validation/arm_features.py
"""

from dataclasses import replace
from pathlib import Path

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.evidence.claims import starter_library
from lengthwise.grading.old_grade import with_old_grade
from lengthwise.growth.features import profile_of, write_table
from lengthwise.growth.programme import Done, programme
from lengthwise.lifts.catalogue import built_in

PLACE = Path(__file__).parents[1] / "src" / "lengthwise" / "growth" / "data" / "arms.json"


def main() -> None:
    """Compute every arm and write the file."""
    wanted: dict[Done, set[str]] = {}
    for study in starter_library().studies:
        heads = {h for o in study.outcomes for h in o.heads}
        for arm in study.arms:
            for done in programme(arm.done):
                wanted.setdefault(replace(done, sets=None), set()).update(heads)
    found = {}
    for done, heads in wanted.items():
        all_heads = with_old_grade(profile_of(body_of(Person()), done, built_in().lifts))
        found[done.text] = {h: f for h, f in all_heads.items() if h in heads}
    PLACE.write_text(write_table(found), encoding="utf-8")
    print(f"{len(found)} lifts of arms written to {PLACE}")


if __name__ == "__main__":
    main()
