"""Heads that are measured together are weighed by their volumes: those of the body beside measured ones."""

import pytest

from lengthwise.body import anatomy
from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.growth.features import volume_cm3


def share(head: str, of: tuple[str, ...]) -> float:
    lines = body_of(Person()).lines
    volume = {h: volume_cm3(h, float((lines.max_force_n * lines.optimal_m)[lines.of_head(h)].sum())) for h in of}
    return volume[head] / sum(volume.values())


@pytest.mark.parametrize(
    ("head", "percent"),
    [("vastus_lateralis", 11.66), ("vastus_medialis", 6.06), ("vastus_intermedius", 3.84), ("rectus_femoris", 3.79)],
)
def test_heads_of_the_quadriceps_share_its_volume_as_measured(head: str, percent: float):
    """T4-078 to T4-081: parts of the leg's muscle volume, Handsfield et al. 2014, J Biomech 47(3):631-638 (24 healthy, MRI)."""
    assert share(head, anatomy.muscles()["quadriceps"]) == pytest.approx(percent / 25.35, abs=0.04)


@pytest.mark.parametrize(("head", "percent"), [("semimembranosus", 3.46), ("biceps_femoris_long", 2.92)])
def test_two_hamstrings_stand_to_each_other_as_measured(head: str, percent: float):
    """T4-082 and T4-083, the same people."""
    assert share(head, ("semimembranosus", "biceps_femoris_long")) == pytest.approx(percent / 6.38, abs=0.04)
