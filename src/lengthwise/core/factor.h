/* Small dense systems, row by row: a positive definite one by Cholesky, a basis by its inverse. All hands work together (team.h). */
#ifndef LENGTHWISE_FACTOR_H
#define LENGTHWISE_FACTOR_H

#include <stdint.h>

/* Overwrites the lower triangle of a symmetric matrix by M, lower triangular, matrix = M'M; 1 if it is not positive, else 0. */
int cholesky(double *matrix, int64_t n);

/* Overwrites x by the solution of M'M solution = x. */
void cholesky_solve(const double *factor, int64_t n, double *x);

/* Overwrites a matrix by its inverse; 1 if it is singular, else 0. swap: n integers of scratch; room: 2 n numbers. */
int invert(double *matrix, int64_t n, int32_t *swap, double *room);

/* The first m rows of a matrix, but row `kept`, less size (m) times the pivot row (n); of row i of a triangle the first i + 1 numbers. What is
 * zero is skipped: most columns hold few numbers. */
void take_off(double *matrix, int64_t n, int64_t m, int64_t kept, const double *size, const double *pivot, int triangle);

/* size (n) times a matrix (n, n). */
void rows_times(const double *size, const double *matrix, int64_t n, double *out);

/* Of n numbers `stride` apart the place, from k on, of the one that is largest without its sign. */
int64_t largest_from(const double *column, int64_t stride, int64_t n, int64_t k);

void swap_rows(double *a, double *b, int64_t n);

#endif
