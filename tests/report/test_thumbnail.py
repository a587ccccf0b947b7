"""A stamp of a lift shows its start and its end at one scale, the targets red."""

from io import BytesIO

import numpy as np
import pytest
from PIL import Image

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.figure.painting import View, can_paint
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.equilibrium import set_up
from lengthwise.report.thumbnail import SIZE, thumbnail


@pytest.mark.skipif(not can_paint(), reason="the core is not built")
def test_a_squat_is_lower_at_its_start_and_its_thighs_are_red():
    setting = set_up(body_of(Person()), built_in().lifts["back_squat"], np.array([0.0, 1.0]))
    image = np.asarray(Image.open(BytesIO(thumbnail(setting, View(-52, 12)))).convert("RGBA"), float)
    assert image.shape == (SIZE[1], SIZE[0], 4)
    start, end = image[:, : SIZE[0] // 2], image[:, SIZE[0] // 2 :]
    tall = [int((half[..., 3] > 128).any(1).sum()) for half in (start, end)]
    assert tall[0] < 0.85 * tall[1]
    red = (image[..., 0] > image[..., 1] + 60) & (image[..., 3] > 128)
    assert red[:, : SIZE[0] // 2].sum() > 40
