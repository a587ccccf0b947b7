/* The columns of a balance as a sparse matrix: one pattern for a whole lift, new numbers at every position.
 *
 * A Problem asks at every position: columns times x = rest, lower <= x <= upper. It is given as blocks of neighbouring columns that
 * are stored alike, so that a new kind of force is one more block.
 */
#ifndef LENGTHWISE_COLUMNS_H
#define LENGTHWISE_COLUMNS_H

#include <stddef.h>
#include <stdint.h>

#include "team.h"

enum { DENSE = 8 }; /* columns that are worked on side by side */

typedef struct {
    const double *entry; /* (n_pos, n_row, n) */
    const double *unit;  /* what each column is multiplied by (n_pos, n); none: 1 */
    double factor;       /* what all are multiplied by */
    int64_t n;
} Block;

typedef struct {
    int64_t n_pos, n_row, n_col, n_block;
    const Block *block;
    const double *scale; /* what rows are divided by (n_row) */
    const double *rest;  /* before that division (n_pos, n_row) */
    const double *lower; /* may be -inf (n_pos, n_col) */
    const double *upper; /* may be inf (n_pos, n_col) */
} Problem;

/* The same pattern by rows, for many hands: row i has entry[k] of column[k], rising, for start[i] <= k < start[i + 1]. */
typedef struct {
    int32_t *start, *column, *entry;
} Rows;

/* One position: column j holds value[k] in row[k] for start[j] <= k < start[j + 1]. */
typedef struct {
    int64_t n_row, n_col;
    int32_t *start, *row;
    Rows rows; /* where there is more than one hand */
    double *value;
    double largest; /* of all values, without sign */
    double *dense;  /* the first n_dense columns once more, row by row with their zeros (n_row, n_dense) */
    int64_t n_dense;
} Columns;

/* How many of n columns are worth keeping dense; a warp takes them one by one. */
static inline int64_t dense_of(int64_t n) { return HANDS == 1 ? n / DENSE * DENSE : 0; }

/* Hands out n numbers, or n integers, of the caller's memory. */
double *take_numbers(double **scratch, int64_t n);
int32_t *take_integers(double **scratch, int64_t n);
size_t integers_size(int64_t n);

size_t rows_size(int64_t n_row, int64_t n_entry);
Rows rows_in(int64_t n_row, int64_t n_col, const int32_t *start, const int32_t *row, int64_t n_entry, double **scratch);

/* How many numbers the columns of a problem need. */
size_t columns_size(const Problem *problem);

/* The pattern: every entry that is not zero at some position. */
Columns columns_in(const Problem *problem, double **scratch);

/* The values at one position. */
void columns_at(Columns *columns, const Problem *problem, int64_t position);

/* Writes the dense columns anew from the others; what is zero in the pattern must be there already. */
void columns_spread(Columns *columns);

/* Every column times a vector of rows (n_col). */
void columns_pull(const Columns *columns, const double *y, double *out);

/* One column times a vector of rows. */
static inline double column_dot(const Columns *columns, int64_t j, const double *y) {
    double sum = 0;
    for (int32_t k = columns->start[j]; k < columns->start[j + 1]; k++) sum += columns->value[k] * y[columns->row[k]];
    return sum;
}

/* y += size times one column; all hands together. */
static inline void column_add(const Columns *columns, int64_t j, double size, double *y) {
    int32_t first = columns->start[j], count = columns->start[j + 1] - first;
    for EACH(k, count) y[columns->row[first + k]] += size * columns->value[first + k];
    meet();
}

/* y -= columns x; all hands together. */
void columns_take(const Columns *columns, const double *x, double *y);

#endif
