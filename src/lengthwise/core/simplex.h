/* The best vertex of one linear programme: maximise cost x subject to columns x = rest, lower <= x <= upper.
 *
 * Infinite bounds are taken as FAR; a vertex that leans on one of them has no end, or no answer. Variables from n_col on stand for one
 * row each and are held at zero; they fill the basis at the start.
 */
#ifndef LENGTHWISE_SIMPLEX_H
#define LENGTHWISE_SIMPLEX_H

#include <math.h>

#include "columns.h"

#define FAR 2000
#define CLEAR_OF_FAR (0.999 * FAR)
#define VIOLATED 1e-11 /* how far outside its bounds a basic variable must lie to leave */

/* BEYOND: the vertex leans on an infinite bound. LOST: the arithmetic failed; ask another solver. */
enum { OPTIMAL = 0, INFEASIBLE = 1, BEYOND = 2, LOST = 3 };

enum { AT_LOWER = -1, AT_UPPER = -2 };

typedef struct {
    const Columns *columns;
    const double *rest, *lower, *upper, *cost;
    double nudge; /* by about how much rest is moved to break ties among bases; 0: not at all */
} Programme;

typedef struct {
    int32_t *basis, *where; /* which variables (n_row); the row of each of those, AT_LOWER or AT_UPPER for the others (n_col + n_row) */
    double *inverse;        /* of the basis (n_row, n_row) */
    double *value;          /* of the basic variables (n_row) */
    double *reduced;        /* cost of moving each variable (n_col + n_row) */
    double *low, *high;     /* their bounds, within FAR (n_col + n_row) */
    double *alpha, *entering, *dual, *ratio; /* scratch */
    int32_t *candidate, *swap;
    int64_t steps;
} Simplex;

/* inverse (n_row, n_row): a search needs what is there from one exchange to the next, and not from one programme to another. */
size_t simplex_size(int64_t n_row, int64_t n_col);
Simplex simplex_in(int64_t n_row, int64_t n_col, double *inverse, double **scratch);

/* From 1 to 2, different for every row and with no pattern. */
static inline double uneven(int64_t i) {
    double turns = (double)i * 0.6180339887498949;
    return 1 + (turns - floor(turns));
}

/* Bounds within FAR; those of a row's own variable are zero. */
void simplex_bound(const Programme *programme, Simplex *simplex);

/* Starts from nothing: every row's own variable is basic. */
void simplex_reset(const Programme *programme, Simplex *simplex);

/* Solves from the basis that is there. Returns OPTIMAL, INFEASIBLE, BEYOND or LOST. */
int simplex_solve(const Programme *programme, Simplex *simplex);

/* As simplex_solve, where bounds or rest alone differ from what was solved last and its basis is still there. */
int simplex_again(const Programme *programme, Simplex *simplex);

/* Takes over where another search stands. */
void simplex_copy(const Columns *columns, const Simplex *from, Simplex *to);

/* What was found: x (n_col) and the change of the objective per unit of rest (n_row). */
void simplex_answer(const Programme *programme, const Simplex *simplex, double *x, double *dual);

/* Whether a basic variable lies on a bound, so that the dual is not unique. */
int simplex_degenerate(const Programme *programme, const Simplex *simplex);

#endif
