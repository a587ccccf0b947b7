/* Dual simplex with bounds on all variables: exact steepest edge, ratio test that passes over bounds.
 *
 * With every variable boxed any basis can be made dual feasible by choosing bounds, so there is no first phase and the basis of a
 * neighbour is always a start. What comes out must not depend on that start: a final basis is put in rising order and worked out anew.
 * Sources (from memory): Forrest & Goldfarb 1992, Math. Program. 57 (steepest edge); Maros 2003, EJOR 149 (passing over bounds).
 */
#include "simplex.h"

#include <math.h>
#include <string.h>

#include "factor.h"
#include "vector.h"

#define PIVOT 1e-9     /* least number to divide by */
#define PRICED 1e-12   /* least reduced cost that decides at which bound a variable rests */
#define EQUAL 1e-12    /* ratios nearer than this count as equal; the larger pivot enters */
#define AGREE 1e-7     /* how well a pivot must agree with itself worked out by row and by column */
#define AT_BOUND 1e-7
#define MOST_STEPS 2000
#define MOST_UPDATES 40 /* of an inverse before it is worked out anew */

void simplex_bound(const Programme *programme, Simplex *simplex) {
    int64_t n_col = programme->columns->n_col, all = n_col + programme->columns->n_row;
    for EACH(j, n_col) {
        simplex->low[j] = larger(programme->lower[j], -FAR);
        simplex->high[j] = smaller(programme->upper[j], FAR);
    }
    for EACH_FROM(j, n_col, all) simplex->low[j] = simplex->high[j] = 0;
    meet();
}

static double cost_of(const Programme *programme, int32_t j) { return j < programme->columns->n_col ? -programme->cost[j] : 0; }

static double resting_at(const Simplex *simplex, int32_t j) {
    return simplex->where[j] == AT_LOWER ? simplex->low[j] : simplex->high[j];
}

size_t simplex_size(int64_t n_row, int64_t n_col) {
    size_t n = (size_t)n_row, m = (size_t)(n_row + n_col);
    return 4 * n + 5 * m + 2 * integers_size(n_row) + 2 * integers_size(n_row + n_col);
}

Simplex simplex_in(int64_t n_row, int64_t n_col, double *inverse, double **scratch) {
    Simplex simplex = {0};
    simplex.inverse = inverse;
    double **rows[] = {&simplex.value, &simplex.entering, &simplex.dual};
    double **all[] = {&simplex.reduced, &simplex.alpha, &simplex.low, &simplex.high};
    for (int k = 0; k < 3; k++) *rows[k] = take_numbers(scratch, n_row);
    for (int k = 0; k < 4; k++) *all[k] = take_numbers(scratch, n_row + n_col);
    simplex.ratio = take_numbers(scratch, 2 * n_row + n_col);
    simplex.basis = take_integers(scratch, n_row);
    simplex.swap = take_integers(scratch, n_row);
    simplex.where = take_integers(scratch, n_row + n_col);
    simplex.candidate = take_integers(scratch, n_row + n_col);
    return simplex;
}

void simplex_reset(const Programme *programme, Simplex *simplex) {
    int32_t n = (int32_t)programme->columns->n_row, m = (int32_t)programme->columns->n_col;
    for EACH(j, m) simplex->where[j] = AT_LOWER;
    for EACH(i, n) simplex->basis[i] = m + (int32_t)i, simplex->where[m + i] = (int32_t)i;
    meet();
}

static void sort_basis(const Columns *columns, Simplex *simplex) {
    int64_t filled = 0, all = columns->n_col + columns->n_row;
    for (int64_t first = 0; first < all; first += HANDS) {
        int64_t j = first + HAND;
        int found = j < all && simplex->where[j] >= 0;
        int64_t at = next_of_all(found, &filled);
        if (found) simplex->where[j] = (int32_t)at, simplex->basis[at] = (int32_t)j;
    }
    meet();
}

/* The inverse of the basis; 1 if that is singular. Row k of the inverse belongs to basic variable k. */
static int factorise(const Columns *columns, Simplex *simplex) {
    int64_t n = columns->n_row;
    clear(simplex->inverse, n * n);
    for EACH(k, n) {
        int32_t j = simplex->basis[k];
        if (j >= columns->n_col) simplex->inverse[(j - columns->n_col) * n + k] = 1;
        else
            for (int32_t e = columns->start[j]; e < columns->start[j + 1]; e++)
                simplex->inverse[columns->row[e] * n + k] = columns->value[e];
    }
    meet();
    return invert(simplex->inverse, n, simplex->swap, simplex->ratio);
}

/* Multipliers of the basis, and from them the reduced cost of every variable. */
static void price(const Programme *programme, Simplex *simplex) {
    const Columns *columns = programme->columns;
    int64_t n = columns->n_row;
    for EACH(k, n) simplex->entering[k] = cost_of(programme, simplex->basis[k]);
    rows_times(simplex->entering, simplex->inverse, n, simplex->dual);
    columns_pull(columns, simplex->dual, simplex->reduced);
    for EACH(j, columns->n_col) simplex->reduced[j] = simplex->where[j] >= 0 ? 0 : -programme->cost[j] - simplex->reduced[j];
    meet();
}

/* inverse times a vector of rows. */
static void through_inverse(const Simplex *simplex, int64_t n, const double *rows, double *out) {
    for EACH(k, n) out[k] = dot_long(simplex->inverse + k * n, rows, (int)n);
    meet();
}

/* inverse times a column. */
static void column_through(const Columns *columns, const Simplex *simplex, int32_t j, double *out) {
    int64_t n = columns->n_row;
    for EACH(k, n) out[k] = column_dot(columns, j, simplex->inverse + k * n);
    meet();
}

/* Rests every other variable at the bound that its reduced cost asks for, and works out the basic ones. */
static void place(const Programme *programme, Simplex *simplex, double nudge) {
    const Columns *columns = programme->columns;
    double *left = simplex->entering, *at = simplex->alpha;
    for EACH(i, columns->n_row) left[i] = programme->rest[i] + nudge * uneven(i);
    for EACH(j, columns->n_col) {
        int basic = simplex->where[j] >= 0;
        if (!basic && fabs(simplex->reduced[j]) > PRICED) simplex->where[j] = simplex->reduced[j] > 0 ? AT_LOWER : AT_UPPER;
        at[j] = basic ? 0 : resting_at(simplex, (int32_t)j);
    }
    meet();
    columns_take(columns, at, left);
    through_inverse(simplex, columns->n_row, left, simplex->value);
}

static int refresh(const Programme *programme, Simplex *simplex) {
    sort_basis(programme->columns, simplex);
    if (factorise(programme->columns, simplex)) return 1;
    price(programme, simplex);
    place(programme, simplex, programme->nudge);
    return 0;
}

static double violation(const Simplex *simplex, int64_t k) {
    int32_t j = simplex->basis[k];
    return larger(simplex->low[j] - simplex->value[k], simplex->value[k] - simplex->high[j]);
}

/* The basic variable that leaves: the steepest edge of the dual; -1 if all are within bounds. */
static int64_t leaving(const Programme *programme, const Simplex *simplex) {
    int64_t n = programme->columns->n_row, found = -1;
    double steepest = 0;
    for EACH(k, n) {
        double by = violation(simplex, k);
        if (by <= VIOLATED) continue;
        const double *row = simplex->inverse + k * n;
        double norm = dot_long(row, row, (int)n);
        if (by * by / norm > steepest) steepest = by * by / norm, found = k;
    }
    return best_of_all(steepest, found);
}

/* The dual step at which each variable could enter for row r, INFINITY for those that cannot; `toward` is 1 when the row must rise, else -1. */
static void set_ratios(const Programme *programme, Simplex *simplex, int64_t r, double toward) {
    const Columns *columns = programme->columns;
    const double *low = simplex->low, *high = simplex->high, *reduced = simplex->reduced, *alpha = simplex->alpha;
    const int32_t *where = simplex->where;
    columns_pull(columns, simplex->inverse + r * columns->n_row, simplex->alpha);
    for EACH(j, columns->n_col) {
        double helps = where[j] == AT_LOWER ? -toward * alpha[j] : toward * alpha[j];
        int enters = (where[j] < 0) & (low[j] < high[j]) & (helps > PIVOT);
        simplex->ratio[j] = enters ? fabs(reduced[j]) / fabs(alpha[j]) : INFINITY;
    }
    meet();
}

/* The least of n numbers. */
static double least_of(const double *values, int64_t n) {
#if HANDS == 1
    double part[8], least = INFINITY;
    int64_t i = 0;
    for (int k = 0; k < 8; k++) part[k] = INFINITY;
    for (; i + 8 <= n; i += 8)
        for (int k = 0; k < 8; k++) part[k] = values[i + k] < part[k] ? values[i + k] : part[k];
    for (; i < n; i++) least = smaller(least, values[i]);
    for (int k = 0; k < 8; k++) least = smaller(least, part[k]);
    return least;
#else
    double least = INFINITY;
    for EACH(i, n) least = smaller(least, values[i]);
    return -most_of_all(-least);
#endif
}

/* The variable with the least dual step, of equal ones that with the largest pivot; -1 where none can enter. */
static int32_t nearest(const Simplex *simplex, int64_t n_col) {
    double limit = least_of(simplex->ratio, n_col) + EQUAL, most = 0;
    int64_t best = -1;
    if (limit == INFINITY) return -1;
    for EACH(j, n_col)
        if (simplex->ratio[j] <= limit && fabs(simplex->alpha[j]) > most) most = fabs(simplex->alpha[j]), best = j;
    return (int32_t)best_of_all(best < 0 ? -INFINITY : most, best);
}

/* The variable that enters, after moving those that the step passes to their other bound; -1 if the violation cannot be undone. */
static int32_t entering(const Programme *programme, Simplex *simplex, int64_t r, double toward) {
    int64_t n = programme->columns->n_row, n_col = programme->columns->n_col;
    double slope = violation(simplex, r), *moved = simplex->entering, *shift = simplex->dual;
    int any = 0;
    set_ratios(programme, simplex, r, toward);
    clear(moved, n);
    for (int32_t j; (j = nearest(simplex, n_col)) >= 0; any = 1) {
        double width = simplex->high[j] - simplex->low[j];
        slope -= fabs(simplex->alpha[j]) * width;
        if (slope < 0) {
            if (any) {
                through_inverse(simplex, n, moved, shift);
                for EACH(i, n) simplex->value[i] -= shift[i];
                meet();
            }
            return j;
        }
        int rises = simplex->where[j] == AT_LOWER;
        meet();
        column_add(programme->columns, j, rises ? width : -width, moved);
        simplex->where[j] = rises ? AT_UPPER : AT_LOWER;
        simplex->ratio[j] = INFINITY;
        meet();
    }
    return -1;
}

/* Brings j into row r of the basis; `column` is the inverse times its column. */
static void exchange(const Programme *programme, Simplex *simplex, int64_t r, int32_t j, double toward, const double *column) {
    int64_t n = programme->columns->n_row;
    int32_t out = simplex->basis[r];
    double bound = toward > 0 ? simplex->low[out] : simplex->high[out], *pivot = simplex->inverse + r * n;
    double step = (simplex->value[r] - bound) / column[r], dual = simplex->reduced[j] / simplex->alpha[j];
    double entered = resting_at(simplex, j) + step;
    meet();
    for EACH(k, n) simplex->value[k] -= step * column[k];
    for EACH(c, programme->columns->n_col)
        if (simplex->where[c] < 0) simplex->reduced[c] -= dual * simplex->alpha[c];
    meet();
    simplex->reduced[j] = 0, simplex->reduced[out] = -dual;
    simplex->where[out] = toward > 0 ? AT_LOWER : AT_UPPER, simplex->where[j] = (int32_t)r;
    simplex->basis[r] = j, simplex->value[r] = entered;
    for EACH(i, n) pivot[i] /= column[r];
    meet();
    take_off(simplex->inverse, n, n, r, column, pivot, 0);
}

/* One exchange. Returns OPTIMAL when none is needed, INFEASIBLE, LOST when the inverse has become too rough, or -1 to go on. */
static int advance(const Programme *programme, Simplex *simplex) {
    int64_t r = leaving(programme, simplex);
    if (r < 0) return OPTIMAL;
    double toward = simplex->value[r] < simplex->low[simplex->basis[r]] ? 1 : -1;
    int32_t j = entering(programme, simplex, r, toward);
    if (j < 0) return INFEASIBLE;
    column_through(programme->columns, simplex, j, simplex->dual);
    if (fabs(simplex->dual[r] - simplex->alpha[j]) > AGREE * (1 + fabs(simplex->dual[r]))) return LOST;
    exchange(programme, simplex, r, j, toward, simplex->dual);
    simplex->steps++;
    return -1;
}

static double amount_of(const Simplex *simplex, int32_t j) {
    return simplex->where[j] >= 0 ? simplex->value[simplex->where[j]] : resting_at(simplex, j);
}

static int leans_on_infinity(const Programme *programme, const Simplex *simplex) {
    double most = 0;
    for EACH(j, programme->columns->n_col) most = larger(most, fabs(amount_of(simplex, (int32_t)j)));
    return most_of_all(most) >= CLEAR_OF_FAR;
}

/* Exchanges until none is needed; `fresh`: the inverse has just been worked out. */
static int search(const Programme *programme, Simplex *simplex, int fresh) {
    int64_t updates = fresh ? 0 : MOST_UPDATES, failures = 0;
    for (int64_t step = 0; step < MOST_STEPS; step++) {
        if (updates >= MOST_UPDATES) {
            if (refresh(programme, simplex)) return LOST;
            updates = 0, fresh = 1;
        }
        int outcome = advance(programme, simplex);
        if (outcome == -1) updates++, fresh = 0;
        else if (!fresh) {
            if (outcome == LOST && ++failures > 5) return LOST;
            updates = MOST_UPDATES;
        } else if (outcome != OPTIMAL) return outcome;
        else {
            if (programme->nudge > 0) place(programme, simplex, 0);
            return leans_on_infinity(programme, simplex) ? BEYOND : OPTIMAL;
        }
    }
    return LOST;
}

int simplex_solve(const Programme *programme, Simplex *simplex) {
    simplex_bound(programme, simplex);
    return search(programme, simplex, 0);
}

int simplex_again(const Programme *programme, Simplex *simplex) {
    simplex_bound(programme, simplex);
    place(programme, simplex, programme->nudge);
    return search(programme, simplex, 1);
}

void simplex_copy(const Columns *columns, const Simplex *from, Simplex *to) {
    int64_t n = columns->n_row, all = n + columns->n_col;
    for EACH(j, all) to->where[j] = from->where[j];
    for EACH(i, n) to->basis[i] = from->basis[i];
    copy(to->reduced, from->reduced, all);
    copy(to->inverse, from->inverse, n * n);
}

void simplex_answer(const Programme *programme, const Simplex *simplex, double *x, double *dual) {
    const Columns *columns = programme->columns;
    int64_t n = columns->n_row;
    for EACH(j, columns->n_col) x[j] = amount_of(simplex, (int32_t)j);
    for EACH(k, n) simplex->ratio[k] = -cost_of(programme, simplex->basis[k]);
    rows_times(simplex->ratio, simplex->inverse, n, dual);
}

int simplex_degenerate(const Programme *programme, const Simplex *simplex) {
    int found = 0;
    for EACH(k, programme->columns->n_row)
        found |= simplex->basis[k] < programme->columns->n_col && violation(simplex, k) > -AT_BOUND;
    return any_of_all(found);
}
