/* The largest (or smallest) load at every position of a lift, and what one more percent of strength would add. */
#ifndef LENGTHWISE_CAPACITY_H
#define LENGTHWISE_CAPACITY_H

#include "columns.h"
#include "simplex.h"

/* Makes these variables the basis; those not in it rest where their cost asks for. */
void begin_from(const Programme *programme, Simplex *simplex, const int32_t *basis);

/* The best vertex of one position from the basis that is there: x (n_col), dual (n_row), reduced costs (n_col), largest imbalance.
 * `searched` is cost less tie, which the search goes by; `rest` is overwritten. Returns the outcome. */
int32_t vertex_at(Programme programme, const double *searched, Simplex *simplex, double *rest, double *point, double *dual, double *reduced,
                  double *imbalance);

/* As lw_slopes, of one position; every group is searched by `simplex` from where `kept` ends. room: 3 * n_col + n_row numbers. */
int32_t slopes_at(const Programme *as_is, Simplex *kept, Simplex *simplex, const int32_t *basis, int64_t n_group, int64_t n_line,
                  const double *weight, double step, double *slope, double *room);

/* How many numbers of scratch capacity needs. */
size_t lw_capacity_scratch(const Problem *problem);

/* The best vertex at every position: the most of cost x (n_col), and of vertices as good as each other the least of tie x (n_col).
 *
 * The tie must be small enough to decide nothing else; duals and reduced costs come without it.
 * start (n_pos, n_row): a basis to start each position from; none: that of the position before. The start decides how long it takes, and
 * not what comes out. Outputs: x (n_pos, n_col), change of the objective per unit of rest (n_pos, n_row), cost less that times columns
 * (n_pos, n_col), largest imbalance (n_pos), basis (n_pos, n_row), outcome (n_pos; simplex.h), steps (n_pos).
 */
void lw_capacity(const Problem *problem, const double *cost, const double *tie, const int32_t *start, double *point, double *dual,
                 double *reduced, double *imbalance, int32_t *basis, int32_t *outcome, int64_t *steps, double *scratch);

/* How many numbers of scratch slopes need. */
size_t lw_slopes_scratch(const Problem *problem);

/* How the objective at one position changes with ln strength of some groups of the first n_line columns, where the dual is not unique.
 *
 * There the derivatives to both sides are averaged, each the price of the bounds a `step` away. basis (n_row): of the vertex. weight
 * (n_group, n_line): how much each line counts. Output: slope (n_group). Returns OPTIMAL; UNIQUE where the dual is unique and
 * nothing was written; or the outcome of the run that failed.
 */
int32_t lw_slopes(const Problem *problem, const double *cost, int64_t position, const int32_t *basis, int64_t n_group, int64_t n_line,
                  const double *weight, double step, double *slope, double *scratch);

enum { UNIQUE = -1 };

#endif
