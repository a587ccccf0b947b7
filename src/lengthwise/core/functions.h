/* Functions of angles, powers and logarithms written out as series, so that every machine and every compiler gives the same bits: those of
 * libraries differ in the last place from one processor to the next. Within 2e-16 of the exact value, or of 1 where that is larger;
 * angles below 1e5 radians.
 */
#ifndef LENGTHWISE_FUNCTIONS_H
#define LENGTHWISE_FUNCTIONS_H

#include <math.h>
#include <stdint.h>
#include <string.h>

#define ROUND_TO_INTEGER 6755399441055744.0 /* 1.5 * 2^52: adding it leaves the nearest integer in the low bits */
#define QUARTER_TURN 1.57079632679489661923

static inline uint64_t bits_of(double v) {
    uint64_t bits;
    memcpy(&bits, &v, sizeof bits);
    return bits;
}

static inline double number_of(uint64_t bits) {
    double v;
    memcpy(&v, &bits, sizeof v);
    return v;
}

/* exp for -700 < v < 700: 2^n times the series of the rest (degree 13: 0.35^14/14! < 1e-17). */
static inline double exponential(double v) {
    double shifted = v * 1.4426950408889634074 + ROUND_TO_INTEGER, n = shifted - ROUND_TO_INTEGER;
    double r = (v - n * 6.93147180369123816490e-01) - n * 1.90821492927058770002e-10, p = 1.0 / 6227020800;
    p = p * r + 1.0 / 479001600, p = p * r + 1.0 / 39916800, p = p * r + 1.0 / 3628800, p = p * r + 1.0 / 362880;
    p = p * r + 1.0 / 40320, p = p * r + 1.0 / 5040, p = p * r + 1.0 / 720, p = p * r + 1.0 / 120, p = p * r + 1.0 / 24;
    p = p * r + 1.0 / 6, p = p * r + 0.5, p = p * r + 1, p = p * r + 1;
    return p * number_of((bits_of(shifted) << 52) + 0x3ff0000000000000);
}

/* log for v above 1e-300: exponent, and the area function's series of the rest (0.172^23/23 < 1e-18). */
static inline double logarithm(double v) {
    uint64_t bits = bits_of(v), exponent = (bits + 0x195f619980c433) >> 52; /* + 1024; the rest from sqrt(1/2) to sqrt(2) */
    double m = number_of(bits - ((exponent - 1024) << 52)), n = number_of(exponent | 0x4330000000000000) - 4503599627371520.0; /* 2^52 + 1024 */
    double s = (m - 1) / (m + 1), z = s * s, p = 1.0 / 21;
    p = p * z + 1.0 / 19, p = p * z + 1.0 / 17, p = p * z + 1.0 / 15, p = p * z + 1.0 / 13, p = p * z + 1.0 / 11;
    p = p * z + 1.0 / 9, p = p * z + 1.0 / 7, p = p * z + 1.0 / 5, p = p * z + 1.0 / 3, p = p * z + 1;
    return n * 0.69314718055994530942 + 2 * s * p;
}

/* v to some power, for v of 0 or more. */
static inline double power(double v, double exponent) { return v > 1e-300 ? exponential(exponent * logarithm(v)) : 0; }

static inline double hypotenuse(double x, double y) { return sqrt(x * x + y * y); }

static inline double arc_hyperbolic_sine(double v) { return copysign(logarithm(fabs(v) + sqrt(v * v + 1)), v); }

/* Both of an angle: series about the nearest quarter turn (0.79^19/19! < 1e-18), which is taken off in three parts. */
static inline void sine_cosine(double angle, double *sine, double *cosine) {
    double shifted = angle * (1 / QUARTER_TURN) + ROUND_TO_INTEGER, n = shifted - ROUND_TO_INTEGER;
    double r = ((angle - n * 1.57079632673412561417) - n * 6.07710050630396597660e-11) - n * 2.02226624879595063154e-21, z = r * r;
    double s = 1.0 / 355687428096000, c = 1.0 / 20922789888000;
    uint64_t quarter = bits_of(shifted) & 3;
    s = s * z - 1.0 / 1307674368000, s = s * z + 1.0 / 6227020800, s = s * z - 1.0 / 39916800, s = s * z + 1.0 / 362880;
    s = s * z - 1.0 / 5040, s = s * z + 1.0 / 120, s = s * z - 1.0 / 6, s = r + r * (z * s);
    c = c * z - 1.0 / 87178291200, c = c * z + 1.0 / 479001600, c = c * z - 1.0 / 3628800, c = c * z + 1.0 / 40320;
    c = c * z - 1.0 / 720, c = c * z + 1.0 / 24, c = 1 - (0.5 * z - z * z * c);
    *sine = quarter & 1 ? c : s, *cosine = quarter & 1 ? s : c;
    if (quarter & 2) *sine = -*sine;
    if ((quarter + 1) & 2) *cosine = -*cosine;
}

/* The angle of a direction from the x axis, -pi to pi: that of the nearest of five known directions, and the series of the rest (0.125^19/19
 * < 1e-18). */
static inline double direction_of(double y, double x) {
    double far = fabs(x) > fabs(y) ? fabs(x) : fabs(y), near = fabs(x) > fabs(y) ? fabs(y) : fabs(x);
    if (far == 0) return 0;
    double k = (near > 0.125 * far) + (near > 0.375 * far) + (near > 0.625 * far) + (near > 0.875 * far), known = 0.25 * k;
    double at = k == 0 ? 0 : k == 1 ? 0.24497866312686415417 : k == 2 ? 0.46364760900080611621 : k == 3 ? 0.64350110879328438680 : 0.78539816339744830962;
    double t = (near - known * far) / (far + known * near), z = t * t, p = 1.0 / 17;
    p = p * z - 1.0 / 15, p = p * z + 1.0 / 13, p = p * z - 1.0 / 11, p = p * z + 1.0 / 9, p = p * z - 1.0 / 7, p = p * z + 1.0 / 5, p = p * z - 1.0 / 3;
    double angle = at + (t + t * (z * p));
    if (fabs(y) >= fabs(x)) angle = QUARTER_TURN - angle;
    if (x < 0) angle = 2 * QUARTER_TURN - angle;
    return copysign(angle, y);
}

/* For -1 <= v <= 1. */
static inline double arc_sine(double v) { return direction_of(v, sqrt((1 - v) * (1 + v))); }

static inline double arc_cosine(double v) { return direction_of(sqrt((1 - v) * (1 + v)), v); }

#endif
