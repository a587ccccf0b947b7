/* Most passive structures fill one row alone, so that a basis falls into those and a small system of the rest. */
#include "standing.h"

#include <math.h>

#include "factor.h"
#include "vector.h"

#define LEAST_PIVOT 1e-9

/* What a basis looks like: the basic variable that fills one row alone (n_row) or -1; the place of every other row in the small system
 * (n_row); its variables (m). */
typedef struct {
    int32_t *alone, *place, *column;
} Split;

static int is_own(const Columns *columns, int32_t j) { return j >= columns->n_col; }

static int32_t only_row(const Columns *columns, int32_t j) {
    if (is_own(columns, j)) return j - (int32_t)columns->n_col;
    return columns->start[j + 1] - columns->start[j] == 1 ? columns->row[columns->start[j]] : -1;
}

/* How many the small system has, by one hand for all; -1 where two variables fill the same row alone. */
static int64_t split_in(const Columns *columns, const int32_t *basis, const Split *split) {
    int64_t n = columns->n_row, m = 0, height = 0;
    for (int64_t r = 0; r < n; r++) split->alone[r] = -1;
    for (int64_t k = 0; k < n; k++) {
        int32_t r = only_row(columns, basis[k]);
        if (r < 0) split->column[m++] = basis[k];
        else if (split->alone[r] >= 0) return -1;
        else split->alone[r] = basis[k];
    }
    for (int64_t r = 0; r < n; r++) split->place[r] = split->alone[r] < 0 ? (int32_t)height++ : -1;
    return height == m ? m : -1;
}

/* Solves a (m, m) for b in place by elimination with pivots; 0 if that fails. All hands together. */
static int eliminate(double *restrict a, double *restrict b, int64_t m) {
    for (int64_t k = 0; k < m; k++) {
        int64_t p = largest_from(a + k, m, m, k);
        const double *pivot = a + k * m;
        if (fabs(a[p * m + k]) < LEAST_PIVOT) return 0;
        meet();
        if (p != k) swap_rows(a + k * m, a + p * m, m), swap_rows(b + k, b + p, 1);
        for (int64_t i = k + 1; i < m; i++) {
            double *row = a + i * m, by = row[k] / pivot[k];
            if (by == 0) continue;
            for EACH_FROM(c, k + 1, m) row[c] -= by * pivot[c];
            if (HAND == 0) b[i] -= by * b[k];
        }
        meet();
    }
    for (int64_t i = m - 1; i >= 0; i--) {
        double solved = b[i];
        for (int64_t k = i + 1; k < m; k++) solved -= a[i * m + k] * b[k];
        meet();
        b[i] = solved / a[i * m + i];
        meet();
    }
    return 1;
}

/* Whether a value lies within its bounds and clear of FAR. */
static int is_inside(const Simplex *simplex, int32_t j, double value) {
    return value >= simplex->low[j] - VIOLATED && value <= simplex->high[j] + VIOLATED && fabs(value) < CLEAR_OF_FAR;
}

/* What the variables that are not basic leave of the rest (n_row); 0 where one of them rests beyond. */
static int leave(const Programme *programme, Simplex *simplex, double *left) {
    const Columns *columns = programme->columns;
    int inside = 1;
    for EACH(i, columns->n_row) left[i] = programme->rest[i] + programme->nudge * uneven(i);
    for EACH(j, columns->n_col) {
        double at = simplex->where[j] >= 0 ? 0 : simplex->where[j] == AT_LOWER ? simplex->low[j] : simplex->high[j];
        simplex->alpha[j] = at;
        inside &= fabs(at) < CLEAR_OF_FAR;
    }
    meet();
    columns_take(columns, simplex->alpha, left);
    return !any_of_all(!inside);
}

int simplex_stands(const Programme *programme, Simplex *simplex) {
    const Columns *columns = programme->columns;
    int64_t n = columns->n_row;
    double *left = simplex->entering, *b = simplex->value, *a = simplex->inverse;
    Split split = {simplex->candidate, simplex->candidate + n, simplex->swap};
    simplex_bound(programme, simplex);
    int64_t m = said_by_first(HAND == 0 ? split_in(columns, simplex->basis, &split) : 0);
    meet();
    if (m < 0 || !leave(programme, simplex, left)) return 0;
    clear(a, m * m);
    for EACH(q, m)
        for (int32_t e = columns->start[split.column[q]]; e < columns->start[split.column[q] + 1]; e++)
            if (split.place[columns->row[e]] >= 0) a[split.place[columns->row[e]] * m + q] = columns->value[e];
    for EACH(r, n)
        if (split.place[r] >= 0) b[split.place[r]] = left[r];
    meet();
    if (!eliminate(a, b, m)) return 0;
    for (int64_t q = 0; q < m; q++) {
        if (!is_inside(simplex, split.column[q], b[q])) return 0;
        column_add(columns, split.column[q], -b[q], left);
    }
    int inside = 1;
    for EACH(r, n) {
        int32_t j = split.alone[r];
        if (j >= 0) inside &= is_inside(simplex, j, is_own(columns, j) ? left[r] : left[r] / columns->value[columns->start[j]]);
    }
    return !any_of_all(!inside);
}
