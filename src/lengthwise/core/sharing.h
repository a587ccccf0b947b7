/* Who does the work: the least sum of costs of all forces that keep the balance, at every position of a lift.
 *
 * Costs are price |x| + x^2/2, but for the first n_line variables with power 3: x^3/3 + smoothing x^2/2.
 */
#ifndef LENGTHWISE_SHARING_H
#define LENGTHWISE_SHARING_H

#include "columns.h"

typedef struct {
    int64_t n_line, power; /* 2 or 3 */
    double smoothing;
    const double *price; /* zero or positive (n_col) */
} Costs;

/* One position's problem: columns times x = rest between its bounds. */
typedef struct {
    const Columns *columns;
    const double *rest, *lower, *upper;
    Costs costs;
} Share;

/* Where a search stands. The slope of a variable is how fast it follows its pull: zero at a bound and at the kink of |x|. */
typedef struct {
    double *y, *pull, *x, *slope, *short_by;        /* now */
    double *direction, *change;                     /* of y, and of the pull with it */
    double *y_before, *x_before, *slope_before;     /* before the last step */
    double *matrix, *row, *trial, *trial_pull;      /* scratch */
    int32_t *free;                                   /* variables with a slope, rising (n_col) */
    int32_t *rests;                                  /* where each was found to rest (n_col) */
    int32_t follows;                                 /* whether the search begins there */
    double largest;                                  /* imbalance now */
    int64_t steps;
} Search;

/* matrix (n_row, n_row): scratch. */
size_t search_size(int64_t n_row, int64_t n_col);
Search search_in(int64_t n_row, int64_t n_col, double *matrix, double **scratch);

/* The answer of one position from the multipliers in search->y, into search->x, y and largest. squares (n_row): where it leaves the
 * multipliers of the squares, from which a neighbour can start. */
void share_at(const Share *share, Search *search, double *squares);

/* How many numbers of scratch sharing needs. */
size_t lw_share_scratch(const Problem *problem);

/* Shares at every position.
 *
 * start (n_pos, n_row): multipliers to start from; none: each position starts from those before it. The start decides how long it
 * takes, and not what comes out: see sharing.c.
 * Outputs: x (n_pos, n_col), multipliers (n_pos, n_row), how hard these pull on each variable (n_pos, n_col), largest imbalance left
 * (n_pos), Newton steps (n_pos).
 */
void lw_share(const Problem *problem, const Costs *costs, const double *start, double *point, double *multiplier, double *pull,
              double *imbalance_left, int64_t *steps, double *scratch);

#endif
