#include "keys.h"

#include <math.h>

static int signum(double v) { return (v > 0) - (v < 0); }

/* Slope at an end from its two intervals, kept from overshooting. */
static double end_slope(double width, double next_width, double rise, double next_rise) {
    double slope = ((2 * width + next_width) * rise - width * next_rise) / (width + next_width);
    if (signum(slope) != signum(rise)) return 0;
    return signum(rise) != signum(next_rise) && fabs(slope) > 3 * fabs(rise) ? 3 * rise : slope;
}

/* Slope between two intervals: none where they turn, else their weighted harmonic mean. */
static double middle_slope(double width, double next_width, double before, double after) {
    if (!(before * after > 0)) return 0;
    double near = 2 * next_width + width, far = next_width + 2 * width;
    return (near + far) / (near / before + far / after);
}

static double rise_of(int n, const double *knot, const double *value, int k) {
    return (value[(k + 1) * n] - value[k * n]) / (knot[k + 1] - knot[k]);
}

void keys_slopes(int n_key, int n, const double *knot, const double *value, double *slope) {
    int last = n_key - 1;
    for (int c = 0; c < n; c++) {
        const double *own = value + c;
        double *out = slope + c, first = rise_of(n, knot, own, 0);
        if (n_key == 2) {
            out[0] = out[n] = first;
            continue;
        }
        out[0] = end_slope(knot[1] - knot[0], knot[2] - knot[1], first, rise_of(n, knot, own, 1));
        for (int k = 1; k < last; k++)
            out[k * n] = middle_slope(knot[k] - knot[k - 1], knot[k + 1] - knot[k], rise_of(n, knot, own, k - 1), rise_of(n, knot, own, k));
        out[last * n] = end_slope(knot[last] - knot[last - 1], knot[last - 1] - knot[last - 2], rise_of(n, knot, own, last - 1),
                                  rise_of(n, knot, own, last - 2));
    }
}

void keys_at(int n_key, int n, const double *knot, const double *value, const double *slope, double phase, double *out) {
    int k = 0;
    while (k < n_key - 2 && knot[k + 1] <= phase) k++;
    const double *v = value + k * n, *s = slope + k * n;
    double w = knot[k + 1] - knot[k], t = (phase - knot[k]) / w;
    for (int c = 0; c < n; c++) {
        double rise = (v[n + c] - v[c]) / w, bend = (3 * rise - 2 * s[c] - s[n + c]) * w, tail = (s[c] + s[n + c] - 2 * rise) * w;
        out[c] = v[c] + t * (s[c] * w + t * (bend + t * tail));
    }
}
