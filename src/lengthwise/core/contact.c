/* Where parts of flesh stand in one another, and how far each point has to go to be out. */
#include <math.h>
#include <stdint.h>

#include "vector.h"

enum { BELLY, TOP, UNDER, BARE };
enum { AT_ONCE = 64, LANES = 8, FLAT = 3 };
#define AGREES 0.2
#define A_LITTLE_MORE 1.0001 /* squares are of single precision */

typedef struct {
    const double *points, *normals, *centres, *reach;
    const int32_t *part, *layer;
    double radius, low[3], size[3];
    int32_t n_cell[3], *start, *sorted, *whose;
    float *place;
    int64_t n_point, row;
} Flesh;

/* Which cell along an axis a point lies in. */
static int32_t cell(const Flesh *f, const double *p, int axis) {
    return (int32_t)clamped(floor((p[axis] - f->low[axis]) / f->size[axis]), 0, f->n_cell[axis] - 1);
}

/* The first cell of a column of cells. */
static int32_t column(const Flesh *f, int32_t east, int32_t north) { return (east * f->n_cell[1] + north) * f->n_cell[2]; }

static int32_t cell_of(const Flesh *f, const double *p) { return column(f, cell(f, p, 0), cell(f, p, 1)) + cell(f, p, 2); }

/* Puts points in order of their cells: `start` (one more than cells), `sorted`, `whose` and `place` (n_point) are filled. */
static void sort_into_cells(Flesh *f) {
    int64_t n_point = f->n_point;
    int32_t n_cell = f->n_cell[0] * f->n_cell[1] * f->n_cell[2];
    for (int k = 0; k < 3; k++) {
        f->low[k] = INFINITY;
        for (int64_t j = 0; j < n_point; j++) f->low[k] = smaller(f->low[k], f->points[3 * j + k]);
    }
    for (int32_t c = 0; c <= n_cell; c++) f->start[c] = 0;
    for (int64_t j = 0; j < n_point; j++)
        if (f->layer[j] != BARE) f->start[cell_of(f, f->points + 3 * j)]++;
    for (int32_t c = 1; c <= n_cell; c++) f->start[c] += f->start[c - 1];
    for (int64_t j = n_point - 1; j >= 0; j--) {
        if (f->layer[j] == BARE) continue;
        int32_t at = --f->start[cell_of(f, f->points + 3 * j)];
        f->sorted[at] = (int32_t)j, f->whose[at] = f->part[j];
        for (int k = 0; k < 3; k++) f->place[k * f->row + at] = (float)f->points[3 * j + k];
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

/* Squared distances of n sorted points from i on, by LANES at once; what stands behind them is worked out too and not used. */
static void squares(const Flesh *f, int32_t i, int n, const double *at, float *out) {
    const float *x = f->place + i, *y = x + f->row, *z = y + f->row, a = (float)at[0], b = (float)at[1], c = (float)at[2];
    for (int g = 0; g < n; g += LANES)
        for (int k = g; k < g + LANES; k++) out[k] = (x[k] - a) * (x[k] - a) + (y[k] - b) * (y[k] - b) + (z[k] - c) * (z[k] - c);
}

/* Squared distance of p from the cells `step` beside its own along an axis. */
static double beside(const Flesh *f, const double *p, int axis, int32_t own, int step) {
    double edge = f->low[axis] + f->size[axis] * (own + (step > 0)) - p[axis];
    return step ? edge * edge : 0;
}

/* For each part the nearest point whose surface p has to stay outside of, or -1. Few of the points around are nearer than what was found
 * of their part: they are picked without a branch first. */
static void look_around(const Flesh *f, int64_t p, int32_t n_part, float *near, int32_t *nearest) {
    const double *at = f->points + 3 * p;
    double reach = f->radius * A_LITTLE_MORE;
    int32_t x = cell(f, at, 0), y = cell(f, at, 1);
    for (int32_t a = 0; a < n_part; a++) near[a] = (float)(f->radius * f->radius), nearest[a] = -1;
    near[f->part[p]] = 0;
    for (int c = 0; c < 9; c++) {
        int32_t east = x + c % 3 - 1, north = y + c / 3 - 1;
        if (east < 0 || north < 0 || east >= f->n_cell[0] || north >= f->n_cell[1]) continue;
        double left = reach * reach - beside(f, at, 0, x, c % 3 - 1) - beside(f, at, 1, y, c / 3 - 1);
        if (left <= 0) continue;
        double rise = sqrt(left), bottom[3] = {0, 0, at[2] - rise}, top[3] = {0, 0, at[2] + rise};
        int32_t first = column(f, east, north), end = f->start[first + cell(f, top, 2) + 1];
        for (int32_t i = f->start[first + cell(f, bottom, 2)]; i < end; i += AT_ONCE) {
            int n = end - i < AT_ONCE ? end - i : AT_ONCE, n_nearer = 0, nearer[AT_ONCE];
            float square[AT_ONCE];
            squares(f, i, n, at, square);
            for (int k = 0; k < n; k++) nearer[n_nearer] = k, n_nearer += square[k] < near[f->whose[i + k]];
            for (int m = 0; m < n_nearer; m++) {
                int k = nearer[m];
                int32_t a = f->whose[i + k], q = f->sorted[i + k];
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
 * is pushed; n_cell: cells along each axis, as wide as the radius, a third as high. Scratch: start (one more than cells), sorted and whose (n_point), place (3, n_point + LANES, all
 * of it finite), near and nearest (n_part). */
void lw_contacts(int64_t n_pos, int64_t n_point, const double *points, const double *normals, const double *centres, const double *reach,
                 const int32_t *part, const int32_t *layer, int64_t n_asked, const int32_t *asked, double radius, int32_t n_part,
                 const int32_t *n_cell, int32_t *start, int32_t *sorted, int32_t *whose, float *place, float *near, int32_t *nearest, double *out) {
    for (int64_t i = 0; i < n_pos; i++) {
        int64_t at = 3 * n_point * i;
        Flesh f = {points + at, normals + at, centres + at, reach + n_point * i, part, layer, radius, {0}, {radius, radius, radius / FLAT}, {n_cell[0], n_cell[1], n_cell[2]}, start, sorted, whose, place, n_point, n_point + LANES};
        sort_into_cells(&f);
        for (int64_t j = 0; j < n_asked; j++) {
            double *own = out + 3 * (n_asked * i + j);
            own[0] = own[1] = own[2] = 0;
            if (layer[asked[j]] != BARE) way_out(&f, asked[j], n_part, near, nearest, own);
        }
    }
}
