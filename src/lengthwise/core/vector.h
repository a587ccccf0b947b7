/* Three-vectors, quaternions (w first) and 3x3 matrices (row by row). */
#ifndef LENGTHWISE_VECTOR_H
#define LENGTHWISE_VECTOR_H

#include <math.h>

#include "functions.h"
#include "team.h"

#define TINY 1e-15
#define PI 3.14159265358979323846
#define DEG (PI / 180)

static inline double clamped(double v, double low, double high) { return v < low ? low : v > high ? high : v; }

static inline double dot(const double *a, const double *b) { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; }

static inline double larger(double a, double b) { return a > b ? a : b; }

static inline double smaller(double a, double b) { return a < b ? a : b; }

/* a b over n numbers in eight sums side by side, so that the compiler can work on several at once. */
static inline double dot_long(const double *a, const double *b, int n) {
    double part[8] = {0}, left = 0;
    int i = 0;
    for (; i + 8 <= n; i += 8)
        for (int k = 0; k < 8; k++) part[k] += a[i + k] * b[i + k];
    for (; i < n; i++) left += a[i] * b[i];
    return ((part[0] + part[4]) + (part[1] + part[5])) + ((part[2] + part[6]) + (part[3] + part[7])) + left;
}

/* The same by all hands together: one for each sum. */
static inline double dot_of_all(const double *a, const double *b, int n) {
#if HANDS == 1
    return dot_long(a, b, n);
#else
    double own = 0;
    meet();
    int long_part = n / 8 * 8, first = HAND < 8 ? HAND : HAND == 8 ? long_part : n;
    for (int i = first; i < (HAND < 8 ? long_part : n); i += HAND < 8 ? 8 : 1) own += a[i] * b[i];
    return sum_of_eight_and_rest(own);
#endif
}

static inline void cross(const double *a, const double *b, double *out) {
    double x = a[1] * b[2] - a[2] * b[1], y = a[2] * b[0] - a[0] * b[2], z = a[0] * b[1] - a[1] * b[0];
    out[0] = x, out[1] = y, out[2] = z;
}

static inline void copy3(const double *a, double *out) { out[0] = a[0], out[1] = a[1], out[2] = a[2]; }

/* Scales to unit length and gives the length there was; the x axis where there was none. */
static inline double unit3(double *a) {
    double n = sqrt(dot(a, a));
    if (n < TINY) {
        a[0] = 1, a[1] = a[2] = 0;
        return n;
    }
    for (int k = 0; k < 3; k++) a[k] /= n;
    return n;
}

/* Rotation b, then a. `out` may be either. */
static inline void quat_product(const double *a, const double *b, double *out) {
    double w = a[0] * b[0] - a[1] * b[1] - a[2] * b[2] - a[3] * b[3];
    double x = a[0] * b[1] + a[1] * b[0] + a[2] * b[3] - a[3] * b[2];
    double y = a[0] * b[2] - a[1] * b[3] + a[2] * b[0] + a[3] * b[1];
    double z = a[0] * b[3] + a[1] * b[2] - a[2] * b[1] + a[3] * b[0];
    out[0] = w, out[1] = x, out[2] = y, out[3] = z;
}

static inline void quat_unit(double *q) {
    double n = 1 / sqrt(q[0] * q[0] + q[1] * q[1] + q[2] * q[2] + q[3] * q[3]);
    for (int k = 0; k < 4; k++) q[k] *= n;
}

static inline void quat_matrix(const double *q, double *m) {
    double w = q[0], x = q[1], y = q[2], z = q[3];
    m[0] = w * w + x * x - y * y - z * z, m[1] = 2 * (x * y - w * z), m[2] = 2 * (x * z + w * y);
    m[3] = 2 * (x * y + w * z), m[4] = w * w - x * x + y * y - z * z, m[5] = 2 * (y * z - w * x);
    m[6] = 2 * (x * z - w * y), m[7] = 2 * (y * z + w * x), m[8] = w * w - x * x - y * y + z * z;
}

/* A turn by an angle about a unit axis. */
static inline void quat_about(const double *axis, double angle, double *out) {
    double s;
    sine_cosine(angle / 2, &s, out);
    out[1] = s * axis[0], out[2] = s * axis[1], out[3] = s * axis[2];
}

static inline void turned(const double *m, const double *v, double *out) {
    double a = m[0] * v[0] + m[1] * v[1] + m[2] * v[2], b = m[3] * v[0] + m[4] * v[1] + m[5] * v[2];
    double c = m[6] * v[0] + m[7] * v[1] + m[8] * v[2];
    out[0] = a, out[1] = b, out[2] = c;
}

static inline void turned_back(const double *m, const double *v, double *out) {
    double a = m[0] * v[0] + m[3] * v[1] + m[6] * v[2], b = m[1] * v[0] + m[4] * v[1] + m[7] * v[2];
    double c = m[2] * v[0] + m[5] * v[1] + m[8] * v[2];
    out[0] = a, out[1] = b, out[2] = c;
}

static inline void matrix_product(const double *a, const double *b, double *out) {
    for (int r = 0; r < 3; r++)
        for (int c = 0; c < 3; c++) out[3 * r + c] = a[3 * r] * b[c] + a[3 * r + 1] * b[3 + c] + a[3 * r + 2] * b[6 + c];
}

#endif
