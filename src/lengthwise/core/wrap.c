/* Wrapping as MuJoCo does it (engine_util_misc.c, Apache-2.0; tests hold this to MuJoCo's answer): in the plane of a circle the line
 * touches it along the two tangents that belong together, or, with the side point inside, at one point of the circle.
 */
#include "wrap.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

#include "functions.h"
#include "vector.h"

#define CROSSED (-10000.0)
#define NEWTON_STEPS 20
#define NEWTON_ENOUGH 1e-6

static int segments_cross(const double *a, const double *b, const double *c, const double *d) {
    double det = (d[1] - c[1]) * (b[0] - a[0]) - (d[0] - c[0]) * (b[1] - a[1]);
    if (fabs(det) < TINY) return 0;
    double s = (d[0] - c[0]) * (a[1] - c[1]) - (d[1] - c[1]) * (a[0] - c[0]);
    double t = (b[0] - a[0]) * (a[1] - c[1]) - (b[1] - a[1]) * (a[0] - c[0]);
    if (det < 0) det = -det, s = -s, t = -t;
    return s >= 0 && s <= det && t >= 0 && t <= det; /* both over det lie from 0 to 1 */
}

static double arc_length(const double *p, const double *q, int second, double radius) {
    double cosine = (p[0] * q[0] + p[1] * q[1]) / (hypotenuse(p[0], p[1]) * hypotenuse(q[0], q[1]));
    double angle = arc_cosine(clamped(cosine, -1, 1)), turn = p[1] * q[0] - p[0] * q[1];
    if ((turn > 0 && second) || (turn < 0 && !second)) angle = 2 * PI - angle;
    return radius * angle;
}

/* How well a pair of tangent points suits: on the asked side, or near each other. */
static double suits(const double *touch, const double *side) {
    if (side == NULL) {
        double x = touch[0] - touch[2], y = touch[1] - touch[3];
        return -(x * x + y * y);
    }
    double x = touch[0] + touch[2], y = touch[1] + touch[3], n = hypotenuse(x, y);
    return n < TINY ? side[0] : (x * side[0] + y * side[1]) / n;
}

/* In the plane: end points `ends` (4) about a circle at the origin; touch points (4); -1 where the line misses it. */
static double around_circle(const double *ends, const double *side, double radius, double *touch) {
    double far0 = ends[0] * ends[0] + ends[1] * ends[1], far1 = ends[2] * ends[2] + ends[3] * ends[3], square = radius * radius;
    double step[2] = {ends[2] - ends[0], ends[3] - ends[1]}, length2 = step[0] * step[0] + step[1] * step[1];
    if (far0 < square || far1 < square || radius < TINY || length2 < TINY) return -1;
    double nearest = clamped(-(step[0] * ends[0] + step[1] * ends[1]) / length2, 0, 1);
    double x = ends[0] + nearest * step[0], y = ends[1] + nearest * step[1];
    if (x * x + y * y > square && (side == NULL || side[0] * x + side[1] * y >= 0)) return -1;
    double root0 = sqrt(far0 - square), root1 = sqrt(far1 - square), pair[2][4], good[2];
    double over[4] = {far0, far0, far1, far1}, toward[4] = {ends[0] * square, ends[1] * square, ends[2] * square, ends[3] * square};
    double across[4] = {radius * ends[1] * root0, -(radius * ends[0] * root0), -(radius * ends[3] * root1), radius * ends[2] * root1};
    for (int k = 0; k < 4; k++) pair[0][k] = (toward[k] + across[k]) / over[k], pair[1][k] = (toward[k] - across[k]) / over[k];
    for (int i = 0; i < 2; i++) good[i] = segments_cross(ends, pair[i], ends + 2, pair[i] + 2) ? CROSSED : suits(pair[i], side);
    int best = good[0] > good[1] ? 0 : 1;
    if (good[best] == CROSSED) return -1;
    memcpy(touch, pair[best], 4 * sizeof(double));
    return arc_length(touch, touch + 2, best, radius);
}

/* z with asin(a·z) + asin(b·z) - 2·asin(z) + angle = 0 from above by Newton's method; 0 where it does not get there. */
static double mirror_root(double a, double b, double angle) {
    double z = 1 - 1e-7, f = arc_sine(a * z) + arc_sine(b * z) - 2 * arc_sine(z) + angle;
    if (f > 0) return 0;
    for (int k = 0; fabs(f) > NEWTON_ENOUGH; k++) {
        double slope = a / fmax(TINY, sqrt(1 - z * z * a * a)) + b / fmax(TINY, sqrt(1 - z * z * b * b)) - 2 / fmax(TINY, sqrt(1 - z * z));
        double next = z - f / slope;
        if (k == NEWTON_STEPS || slope > -TINY || next > z) return 0;
        z = next;
        f = arc_sine(a * z) + arc_sine(b * z) - 2 * arc_sine(z) + angle;
        if (f > NEWTON_ENOUGH) return 0;
    }
    return z;
}

/* The line passes through the circle and touches it from within at one point (the way light is mirrored). */
static double within_circle(const double *ends, double radius, double *touch) {
    double far0 = hypotenuse(ends[0], ends[1]), far1 = hypotenuse(ends[2], ends[3]);
    if (far0 <= radius || far1 <= radius || radius < TINY) return -1;
    double step[2] = {ends[2] - ends[0], ends[3] - ends[1]}, length2 = step[0] * step[0] + step[1] * step[1];
    if (length2 > TINY) {
        double nearest = -(step[0] * ends[0] + step[1] * ends[1]) / length2;
        double x = ends[0] + nearest * step[0], y = ends[1] + nearest * step[1];
        if (nearest > 0 && nearest < 1 && hypotenuse(x, y) <= radius) return -1;
    }
    double a = radius / far0, b = radius / far1, cosine = (far0 * far0 + far1 * far1 - length2) / (2 * far0 * far1);
    double middle[2] = {0.5 * (ends[0] / far0 + ends[2] / far1), 0.5 * (ends[1] / far0 + ends[3] / far1)};
    double n = hypotenuse(middle[0], middle[1]);
    for (int k = 0; k < 4; k++) touch[k] = middle[k % 2] * radius / n;
    if (cosine < -1 + TINY) return -1;
    if (cosine > 1 - TINY) return 0;
    double z = mirror_root(a, b, arc_cosine(cosine));
    if (z == 0) return 0;
    int ahead = ends[0] * ends[3] - ends[1] * ends[2] > 0;
    double angle = arc_sine(z) - arc_sine((ahead ? a : b) * z), far = ahead ? far0 : far1, sine;
    const double *from = ahead ? ends : ends + 2;
    double x = from[0] / far, y = from[1] / far;
    sine_cosine(angle, &sine, &cosine);
    touch[0] = touch[2] = radius * (cosine * x - sine * y);
    touch[1] = touch[3] = radius * (sine * x + cosine * y);
    return 0;
}

/* Two axes of the plane through the sphere's centre and both ends. */
static void sphere_plane(const double *from, const double *to, double axes[2][3]) {
    double normal[3], other[3] = {1, 1, 1};
    copy3(from, axes[0]);
    unit3(axes[0]);
    cross(from, to, normal);
    if (unit3(normal) < TINY) {
        double x = fabs(axes[0][0]), y = fabs(axes[0][1]), z = fabs(axes[0][2]);
        other[y < x && y < z ? 1 : z < x && z < y ? 2 : 0] = 0;
        cross(axes[0], other, normal);
        unit3(normal);
    }
    cross(normal, axes[0], axes[1]);
    unit3(axes[1]);
}

/* Spreads the rise along a cylinder evenly over the way; gives the length of the helix. */
static double climb(const double *from, const double *to, double along, double touch[2][3]) {
    double before = hypotenuse(from[0] - touch[0][0], from[1] - touch[0][1]);
    double after = hypotenuse(to[0] - touch[1][0], to[1] - touch[1][1]), whole = before + along + after, rise = to[2] - from[2];
    touch[0][2] = from[2] + rise * before / whole;
    touch[1][2] = from[2] + rise * (before + along) / whole;
    double height = fabs(touch[1][2] - touch[0][2]);
    return sqrt(along * along + height * height);
}

static void local(const double *point, const double *place, const double *frame, double *out) {
    double shift[3] = {point[0] - place[0], point[1] - place[1], point[2] - place[2]};
    turned_back(frame, shift, out);
}

double wrap(const double *from, const double *to, const double *place, const double *frame, double radius, int is_sphere,
            const double *side, double *touch) {
    double p[2][3], beside[3] = {0, 0, 0}, axes[2][3] = {{1, 0, 0}, {0, 1, 0}}, flat_side[2], flat_touch[4], found[2][3];
    local(from, place, frame, p[0]);
    local(to, place, frame, p[1]);
    if (dot(p[0], p[0]) < TINY * TINY || dot(p[1], p[1]) < TINY * TINY) return -1;
    if (is_sphere) sphere_plane(p[0], p[1], axes);
    double ends[4] = {p[0][0], p[0][1], p[1][0], p[1][1]};
    if (is_sphere)
        for (int k = 0; k < 4; k++) ends[k] = dot(p[k / 2], axes[k % 2]);
    if (side != NULL) {
        local(side, place, frame, beside);
        flat_side[0] = is_sphere ? dot(beside, axes[0]) : beside[0], flat_side[1] = is_sphere ? dot(beside, axes[1]) : beside[1];
        double n = hypotenuse(flat_side[0], flat_side[1]);
        if (n < TINY) flat_side[0] = n = 1, flat_side[1] = 0;
        flat_side[0] *= radius / n, flat_side[1] *= radius / n;
    }
    int within = side != NULL && sqrt(dot(beside, beside)) < radius;
    double along = within ? within_circle(ends, radius, flat_touch)
                          : around_circle(ends, side == NULL ? NULL : flat_side, radius, flat_touch);
    if (along < 0) return -1;
    for (int i = 0; i < 2; i++)
        for (int k = 0; k < 3; k++) found[i][k] = flat_touch[2 * i] * axes[0][k] + flat_touch[2 * i + 1] * axes[1][k];
    if (!is_sphere) along = climb(p[0], p[1], along, found);
    for (int i = 0; i < 2; i++) {
        turned(frame, found[i], touch + 3 * i);
        for (int k = 0; k < 3; k++) touch[3 * i + k] += place[k];
    }
    return along;
}
