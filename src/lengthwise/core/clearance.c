/* How far points lie from round cones and from the sections of a trunk, and which way leads out of them. */
#include <math.h>
#include <stdint.h>

#include "vector.h"

enum { CONE = 8, FRAME = 13, ROW = 4, BLOCK = 32 };

/* Nears the distances (n_point) and ways out (n_point, 3) of points by one cone (ball a x y z r, ball b x y z r). Roots are drawn only
 * where the cone is nearer than what was found before. */
static void near_cone(int64_t n_point, const double *points, const double *cone, double *distance, double *way) {
    double axis[3], size = 1e-18;
    for (int k = 0; k < 3; k++) axis[k] = cone[4 + k] - cone[k], size += axis[k] * axis[k];
    for (int64_t j = 0; j < n_point; j++) {
        const double *p = points + 3 * j;
        double to[3] = {p[0] - cone[0], p[1] - cone[1], p[2] - cone[2]}, t = clamped(dot(to, axis) * (1 / size), 0, 1);
        for (int k = 0; k < 3; k++) to[k] -= t * axis[k];
        double r = cone[3] + (cone[7] - cone[3]) * t, least = distance[j] + r, square = dot(to, to);
        if (least <= 0 || square >= least * least) continue;
        double n = sqrt(square);
        distance[j] = n - r;
        for (int k = 0; k < 3; k++) way[3 * j + k] = to[k] / (n + 1e-12);
    }
}

/* The middle (3) of the box around points and how far they lie from it at most. */
static double boxed(int64_t n_point, const double *points, double *middle) {
    double half = 0;
    for (int k = 0; k < 3; k++) {
        double low = points[k], high = points[k];
        for (int64_t j = 1; j < n_point; j++) low = smaller(low, points[3 * j + k]), high = larger(high, points[3 * j + k]);
        middle[k] = (low + high) / 2, half += (high - low) * (high - low) / 4;
    }
    return sqrt(half);
}

/* How near a cone can be to whatever lies within a ball. */
static double least_from(const double *cone, const double *middle, double radius) {
    double axis[3], to[3], size = 1e-18;
    for (int k = 0; k < 3; k++) axis[k] = cone[4 + k] - cone[k], size += axis[k] * axis[k], to[k] = middle[k] - cone[k];
    double t = clamped(dot(to, axis) / size, 0, 1);
    for (int k = 0; k < 3; k++) to[k] -= t * axis[k];
    return sqrt(dot(to, to)) - larger(cone[3], cone[7]) - radius;
}

/* Distances and ways of a few neighbouring points by all cones; those that are further away than what was found are passed by. */
static void near_cones(int64_t n_point, const double *points, int64_t n_cone, const double *cones, double *distance, double *way) {
    double middle[3], radius = boxed(n_point, points, middle), most = INFINITY;
    for (int64_t k = 0; k < n_cone; k++) {
        if (least_from(cones + CONE * k, middle, radius) > most) continue;
        near_cone(n_point, points, cones + CONE * k, distance, way);
        most = distance[0];
        for (int64_t j = 1; j < n_point; j++) most = larger(most, distance[j]);
    }
}

/* Distance of p from elliptic sections (rows of height, middle x, half depth, half width) in a frame (axes, origin, size). */
static double from_sections(const double *p, const double *frame, int n_row, const double *rows, double *way) {
    double to[3], at[3], size = frame[12];
    for (int k = 0; k < 3; k++) to[k] = p[k] - frame[9 + k];
    turned_back(frame, to, at);
    for (int k = 0; k < 3; k++) at[k] /= size;
    double low = rows[0], high = rows[ROW * (n_row - 1)], h = clamped(at[2], low, high);
    int i = 0;
    while (i < n_row - 2 && h > rows[ROW * (i + 1)]) i++;
    const double *r = rows + ROW * i, *s = r + ROW;
    double t = (h - r[0]) / (s[0] - r[0]), v[3];
    for (int k = 0; k < 3; k++) v[k] = r[k + 1] + (s[k + 1] - r[k + 1]) * t;
    double x = at[0] - v[0], y = at[1], e = sqrt(x * x / (v[1] * v[1]) + y * y / (v[2] * v[2]));
    double d = (e - 1) * fmin(v[1], v[2]), over = fmax(low - at[2], at[2] - high);
    double local[3] = {x / (v[1] * v[1]), y / (v[2] * v[2]), 0};
    if (over > d) d = over, local[0] = local[1] = 0, local[2] = at[2] > high ? 1 : -1;
    double n = sqrt(dot(local, local)) + 1e-12;
    for (int k = 0; k < 3; k++) local[k] /= n;
    turned(frame, local, way);
    return d * size;
}

/* Distances (n_pos, n_point) and ways out (n_pos, n_point, 3) of points (n_pos, n_point, 3) to the nearest of n_cone cones
 * (n_pos, n_cone, 8) and n_section trunks: frames (n_pos, n_section, 13), n_row[i] rows (n_section, most_row, 4). */
void lw_clearance(int64_t n_pos, int64_t n_point, const double *points, int64_t n_cone, const double *cones, int64_t n_section,
                  const double *frames, const int32_t *n_row, int64_t most_row, const double *rows, double *distance, double *way) {
    for (int64_t i = 0; i < n_pos; i++) {
        const double *own = points + 3 * i * n_point;
        double *near = distance + i * n_point, *out = way + 3 * i * n_point, turn[3];
        for (int64_t j = 0; j < n_point; j++) near[j] = INFINITY, out[3 * j] = out[3 * j + 1] = out[3 * j + 2] = 0;
        for (int64_t j = 0; j < n_point; j += BLOCK) {
            int64_t n = n_point - j < BLOCK ? n_point - j : BLOCK;
            near_cones(n, own + 3 * j, n_cone, cones + CONE * i * n_cone, near + j, out + 3 * j);
        }
        for (int64_t k = 0; k < n_section; k++)
            for (int64_t j = 0; j < n_point; j++) {
                const double *frame = frames + FRAME * (i * n_section + k);
                double d = from_sections(own + 3 * j, frame, n_row[k], rows + ROW * k * most_row, turn);
                if (d < near[j]) near[j] = d, copy3(turn, out + 3 * j);
            }
    }
}
