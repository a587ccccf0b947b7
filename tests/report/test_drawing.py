import numpy as np
import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.equilibrium import set_up
from lengthwise.report.drawing import at_one_scale, draw_position
from lengthwise.report.plotting import Figure


def test_a_metre_is_as_long_in_every_drawing_of_a_row():
    """A body 0.6 m wide beside a bar of 2.2 m: worked out on paper, 2.0 m high over 2.8 m wide."""
    figure = Figure(figsize=(11, 11 * 2.0 / 2.8))
    axes = list(figure.subplots(1, 2, gridspec_kw={"wspace": 0, "left": 0, "right": 1, "bottom": 0, "top": 1}))
    for ax, wide, high in zip(axes, (0.6, 2.2), (2.0, 1.5), strict=True):
        ax.set(xlim=(0, wide), ylim=(0, high), aspect="equal")
    assert at_one_scale(axes) == pytest.approx(2.0 / 2.8)
    figure.draw_without_rendering()
    scale = [ax.get_window_extent().width / (ax.get_xlim()[1] - ax.get_xlim()[0]) for ax in axes]
    assert scale[0] == pytest.approx(scale[1], rel=1e-3)
    assert axes[0].get_ylim() == axes[1].get_ylim() == (0, 2.0)


def test_every_drawing_of_a_lift_stands_on_one_floor():
    """The rear foot of a step-up is under the box's top at its start alone: the floor was drawn higher at the end, and the box vanished."""
    setting = set_up(body_of(Person()), built_in().lifts["step_up"], np.linspace(0, 1, 3))
    floors = []
    for position in range(3):
        ax = Figure().subplots()
        draw_position(ax, setting, position, {}, pixel_m=0.02)
        floors.append(ax.patches[0].get_xy())
    assert np.array(floors) == pytest.approx(np.broadcast_to(floors[0], np.shape(floors)))
