/* Where parts of flesh stand in one another, and how far each point has to go to be out. */
#include <math.h>
#include <stdint.h>

#include "vector.h"

enum { BELLY, TOP, UNDER, BARE };
enum { COLUMNS = 1024, AT_ONCE = 64 };
#define AGREES 0.2

typedef struct {
    const double *points, *normals, *centres, *reach;
    const int32_t *part, *layer;
    double radius, low;
    int32_t n_level, *start, *sorted;
    float *place;
    int64_t n_point;
} Flesh;

/* The first cell of a column of cells; columns that share a number only cost time. */
static int32_t column(const Flesh *f, const double *p, int east, int north) {
    uint32_t x = (uint32_t)((int32_t)floor(p[0] / f->radius) + east), y = (uint32_t)((int32_t)floor(p[1] / f->radius) + north);
    return (int32_t)((x * 73856093u ^ y * 19349663u) % COLUMNS) * f->n_level;
}

static int32_t level(const Flesh *f, const double *p) {
    return (int32_t)clamped(floor((p[2] - f->low) / f->radius), 0, f->n_level - 1);
}

/* Puts points in order of their cells: `start` (COLUMNS * n_level + 1), `sorted` and `place` (n_point) are filled. */
static void sort_into_cells(Flesh *f) {
    int64_t n_point = f->n_point;
    int32_t n_cell = COLUMNS * f->n_level;
    f->low = INFINITY;
    for (int64_t j = 0; j < n_point; j++) f->low = smaller(f->low, f->points[3 * j + 2]);
    for (int32_t c = 0; c <= n_cell; c++) f->start[c] = 0;
    for (int64_t j = 0; j < n_point; j++)
        if (f->layer[j] != BARE) f->start[column(f, f->points + 3 * j, 0, 0) + level(f, f->points + 3 * j)]++;
    for (int32_t c = 1; c <= n_cell; c++) f->start[c] += f->start[c - 1];
    for (int64_t j = n_point - 1; j >= 0; j--) {
        if (f->layer[j] == BARE) continue;
        int32_t at = --f->start[column(f, f->points + 3 * j, 0, 0) + level(f, f->points + 3 * j)];
        f->sorted[at] = (int32_t)j;
        for (int k = 0; k < 3; k++) f->place[k * n_point + at] = (float)f->points[3 * j + k];
    }
}

/* Whether the surface at q is one that p has to stay outside of. Parts are numbered from deep to superficial: what is deeper than a sheet
 * stays below its underside, what is more superficial stays above its top; a sheet's own points ask for surfaces that look its way, and a
 * belly's for those that look towards its middle. */
static int faces(const Flesh *f, int64_t p, int64_t q) {
    int deeper = f->part[p] < f->part[q];
    const double *n = f->normals + 3 * q;
    if (f->layer[q] != BELLY) return f->layer[q] == (deeper ? UNDER : TOP);
    if (f->layer[p] != BELLY) {
        double turn = dot(f->normals + 3 * p, n);
        return (f->layer[p] == TOP) == deeper ? turn < -AGREES : turn > AGREES;
    }
    const double *a = f->centres + 3 * q, *b = f->centres + 3 * p;
    double way[3] = {b[0] - a[0], b[1] - a[1], b[2] - a[2]};
    return dot(way, n) > AGREES * sqrt(dot(way, way));
}

/* Squared distances of n sorted points from i on; all of one kind, so that the compiler works on several at once. */
static void squares(const Flesh *f, int32_t i, int n, const double *at, float *out) {
    const float *x = f->place + i, *y = x + f->n_point, *z = y + f->n_point, a = (float)at[0], b = (float)at[1], c = (float)at[2];
    for (int k = 0; k < n; k++) out[k] = (x[k] - a) * (x[k] - a) + (y[k] - b) * (y[k] - b) + (z[k] - c) * (z[k] - c);
}

/* For each part the nearest point whose surface p has to stay outside of, or -1. */
static void look_around(const Flesh *f, int64_t p, int32_t n_part, float *near, int32_t *nearest) {
    const double *at = f->points + 3 * p;
    float most = (float)(f->radius * f->radius);
    int32_t low = level(f, at) - 1, high = level(f, at) + 1;
    low = low < 0 ? 0 : low, high = high >= f->n_level ? f->n_level - 1 : high;
    for (int32_t a = 0; a < n_part; a++) near[a] = most, nearest[a] = -1;
    near[f->part[p]] = 0;
    for (int c = 0; c < 9; c++) {
        int32_t first = column(f, at, c % 3 - 1, c / 3 - 1), end = f->start[first + high + 1];
        for (int32_t i = f->start[first + low]; i < end; i += AT_ONCE) {
            int n = end - i < AT_ONCE ? end - i : AT_ONCE;
            float square[AT_ONCE];
            squares(f, i, n, at, square);
            for (int k = 0; k < n; k++) {
                if (square[k] >= most) continue;
                int32_t q = f->sorted[i + k], a = f->part[q];
                if (square[k] < near[a] && faces(f, p, q)) near[a] = square[k], nearest[a] = q;
            }
        }
    }
}

/* The way (3) out of the part that p stands deepest in; nothing where it stands in none. */
static void way_out(const Flesh *f, int64_t p, int32_t n_part, float *near, int32_t *nearest, double *out) {
    const double *at = f->points + 3 * p;
    double deepest = 0;
    look_around(f, p, n_part, near, nearest);
    for (int32_t a = 0; a < n_part; a++) {
        int32_t q = nearest[a];
        if (q < 0) continue;
        const double *b = f->points + 3 * q, *n = f->normals + 3 * q;
        double to[3] = {b[0] - at[0], b[1] - at[1], b[2] - at[2]}, depth = dot(to, n);
        if (depth <= deepest || dot(to, to) - depth * depth > f->reach[q] * f->reach[q]) continue;
        deepest = depth;
        for (int k = 0; k < 3; k++) out[k] = depth * n[k];
    }
}

/* Ways out (n_pos, n_asked, 3) of some points, `asked`, among n_point with normals and the middles that they lie around, both (n_pos, n_point, 3), and how far beside a
 * point its surface goes on (n_pos, n_point); part and layer (n_point): BELLY, TOP or UNDER of a sheet, BARE for what neither pushes nor
 * is pushed. Scratch: start (COLUMNS * n_level + 1), sorted (n_point), place (3, n_point), near and nearest (n_part). */
void lw_contacts(int64_t n_pos, int64_t n_point, const double *points, const double *normals, const double *centres, const double *reach,
                 const int32_t *part, const int32_t *layer, int64_t n_asked, const int32_t *asked, double radius, int32_t n_part,
                 int32_t n_level, int32_t *start, int32_t *sorted, float *place, float *near, int32_t *nearest, double *out) {
    for (int64_t i = 0; i < n_pos; i++) {
        int64_t at = 3 * n_point * i;
        Flesh f = {points + at, normals + at, centres + at, reach + n_point * i, part, layer, radius, 0, n_level, start, sorted, place, n_point};
        sort_into_cells(&f);
        for (int64_t j = 0; j < n_asked; j++) {
            double *own = out + 3 * (n_asked * i + j);
            own[0] = own[1] = own[2] = 0;
            if (layer[asked[j]] != BARE) way_out(&f, asked[j], n_part, near, nearest, own);
        }
    }
}
