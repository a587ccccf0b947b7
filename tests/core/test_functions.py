"""The functions that the core writes out (core/functions.h), held against extended precision of the machine's library by NumPy."""

import ctypes
import subprocess

import numpy as np
import pytest

from lengthwise.core import build

WRAPPED = """
#include "functions.h"
void sines(long n, const double *a, double *out) { double c; for (long i = 0; i < n; i++) sine_cosine(a[i], out + i, &c); }
void cosines(long n, const double *a, double *out) { double s; for (long i = 0; i < n; i++) sine_cosine(a[i], &s, out + i); }
void exponentials(long n, const double *a, double *out) { for (long i = 0; i < n; i++) out[i] = exponential(a[i]); }
void logarithms(long n, const double *a, double *out) { for (long i = 0; i < n; i++) out[i] = logarithm(a[i]); }
void arc_sines(long n, const double *a, double *out) { for (long i = 0; i < n; i++) out[i] = arc_sine(a[i]); }
void arc_cosines(long n, const double *a, double *out) { for (long i = 0; i < n; i++) out[i] = arc_cosine(a[i]); }
void arc_hyperbolic_sines(long n, const double *a, double *out) { for (long i = 0; i < n; i++) out[i] = arc_hyperbolic_sine(a[i]); }
void directions(long n, const double *y, const double *x, double *out) { for (long i = 0; i < n; i++) out[i] = direction_of(y[i], x[i]); }
void powers(long n, const double *v, const double *e, double *out) { for (long i = 0; i < n; i++) out[i] = power(v[i], e[i]); }
"""
ROUNDED = 4e-16
"""Of the exact value, or of 1 where that is larger: not quite two units in the last place."""


@pytest.fixture(scope="module")
def compiled(tmp_path_factory):
    command = build.compiler()
    if command is None:
        pytest.skip("no compiler on this machine")
    folder = tmp_path_factory.mktemp("functions")
    (folder / "wrapped.c").write_text(WRAPPED, encoding="utf-8")
    subprocess.run(
        [*command, *build.FLAGS, f"-I{build.HERE}", "-o", "wrapped.so", "wrapped.c", "-lm"], cwd=folder, check=True, timeout=120
    )
    return ctypes.CDLL(str(folder / "wrapped.so"))


def asked(compiled, name, *arrays):
    arrays = [np.ascontiguousarray(a, np.float64) for a in arrays]
    out = np.empty(len(arrays[0]))
    getattr(compiled, name)(ctypes.c_long(len(out)), *(ctypes.c_void_p(a.ctypes.data) for a in (*arrays, out)))
    return out


def apart(found, exact):
    return float(np.max(np.abs(found - exact) / np.maximum(np.abs(exact), 1)))


@pytest.mark.parametrize(
    ("name", "oracle", "low", "high"),
    [
        ("sines", np.sin, -50, 50), ("cosines", np.cos, -50, 50), ("exponentials", np.exp, -600, 5), ("logarithms", np.log, 1e-3, 1e6),
        ("arc_sines", np.arcsin, -1, 1), ("arc_cosines", np.arccos, -1, 1), ("arc_hyperbolic_sines", np.arcsinh, -30, 30),
    ],
)  # fmt: skip
def test_a_function_is_the_librarys_to_rounding(compiled, name, oracle, low, high):
    v = np.concatenate([np.random.default_rng(0).uniform(low, high, 200_000), [low, high], [] if low > 0 else [0.0, 1e-9, -1e-9]])
    v = v[(v >= low) & (v <= high)]
    assert apart(asked(compiled, name, v), oracle(v.astype(np.longdouble))) <= ROUNDED


def test_small_angles_keep_their_digits(compiled):
    v = np.logspace(-300, -2, 1000)
    assert asked(compiled, "sines", v) == pytest.approx(np.sin(v), rel=ROUNDED, abs=0)
    assert asked(compiled, "directions", v, np.ones_like(v)) == pytest.approx(np.arctan(v), rel=ROUNDED, abs=0)


def test_directions_all_the_way_round(compiled):
    y, x = np.random.default_rng(1).normal(size=(2, 200_000)) * 10.0 ** np.random.default_rng(2).integers(-8, 8, (2, 200_000))
    assert apart(asked(compiled, "directions", y, x), np.arctan2(y.astype(np.longdouble), x.astype(np.longdouble))) <= 2 * ROUNDED
    ends = np.array([[0, 1], [0, -1], [-0.0, -1], [1, 0], [-1, 0], [1, 1], [-1, -1], [0, 0]], float)
    assert asked(compiled, "directions", *ends.T) == pytest.approx(np.arctan2(*ends.T), abs=ROUNDED)


def test_powers(compiled):
    v, e = np.random.default_rng(3).uniform(0, 1, 100_000), np.random.default_rng(4).uniform(1, 2, 100_000)
    assert apart(asked(compiled, "powers", v, e), v.astype(np.longdouble) ** e) <= ROUNDED
    assert asked(compiled, "powers", np.array([0.0, 1.0]), np.array([1.15, 1.15])).tolist() == [0.0, 1.0]
