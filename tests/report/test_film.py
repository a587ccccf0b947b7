import io
from typing import get_args

import numpy as np
import pytest
from PIL import Image

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.cli.question_commands import face_of
from lengthwise.cli.shared import ending
from lengthwise.errors import InputError
from lengthwise.known.lifts import profile_lift
from lengthwise.mechanics.profile import Request
from lengthwise.report import filming as films


def test_a_film_opens_again_moves_and_lasts_a_repetition(monkeypatch):
    """Pillow reads back what it wrote: up and down, 16:9, endless; a coarse picture, since only the frames are counted."""
    monkeypatch.setattr(films, "PIXEL_M", 0.02)
    monkeypatch.setattr(films, "N_WAY", 3)
    found = profile_lift(body_of(Person()), "standing_calf_raise", Request(n_pos=5))
    film = Image.open(io.BytesIO(films.film([found]).content))
    assert film.format == "WEBP" and film.n_frames == 2 * 3 - 2 and film.size == (960, 540)
    pictures = []
    for k in range(film.n_frames):
        film.seek(k)
        pictures.append(np.asarray(film.convert("L"), float))
    assert np.abs(pictures[0] - pictures[2]).mean() > 0.2
    assert np.abs(pictures[1] - pictures[3]).mean() < 1.0


def test_a_film_lasts_from_five_to_ten_seconds():
    assert 5_000 <= (2 * films.N_WAY - 2) * films.FRAME_MS <= 10_000


def test_another_ending_is_refused_before_anything_is_computed(tmp_path):
    with pytest.raises(InputError, match=r"film 'squat\.mp4'; allowed ending \.webp"):
        ending("film", ".webp")(tmp_path / "squat.mp4")
    (to,) = face_of("film").options.values()
    assert get_args(to.annotation)[1].callback(tmp_path / "squat.webp") == tmp_path / "squat.webp"
