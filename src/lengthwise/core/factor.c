#include "factor.h"

#include <math.h>

#include "team.h"
#include "vector.h"

#define LEAST_PIVOT 1e-11

#if HANDS == 1
void take_off(double *restrict matrix, int64_t n, int64_t m, int64_t kept, const double *size, const double *pivot, int triangle) {
    for (int64_t i = 0; i < m; i++) {
        double *restrict row = matrix + i * n, by = size[i];
        if (i == kept || by == 0) continue;
        for (int64_t c = 0; c < (triangle ? i + 1 : n); c++) row[c] -= by * pivot[c];
    }
}

/* Row i of a matrix, its first `count` numbers, less two multiples of pivot rows, one after the other. */
static inline void take_off_two(double *restrict row, int64_t count, double first, const double *restrict one, double second, const double *restrict two) {
    for (int64_t c = 0; c < count; c++) row[c] = (row[c] - first * one[c]) - second * two[c];
}

void rows_times(const double *restrict size, const double *restrict matrix, int64_t n, double *restrict out) {
    clear(out, n);
    for (int64_t k = 0; k < n; k++) {
        double by = size[k];
        if (by == 0) continue;
        for (int64_t i = 0; i < n; i++) out[i] += by * matrix[k * n + i];
    }
}
#else
enum { ROWS = 4, PARTS = 2 }; /* rows that are under way at once, and numbers of each that a hand takes */

/* The rows of `left` among the 32 from `base` on, a few at a time; `own`: what this hand's row is multiplied by. */
static void take_off_some(double *matrix, int n, int base, unsigned left, double own, const double *pivot, int triangle) {
    double at[PARTS], by[ROWS], now[ROWS][PARTS];
    int row[ROWS];
    for (int first = HAND; first - HAND < n; first += PARTS * HANDS) {
#pragma unroll
        for (int p = 0; p < PARTS; p++) at[p] = first + p * HANDS < n ? pivot[first + p * HANDS] : 0;
        for (unsigned rest = left; rest;) {
#pragma unroll
            for (int r = 0; r < ROWS; r++) {
                int bit = rest ? __ffs(rest) - 1 : -1;
                row[r] = bit < 0 ? -1 : base + bit;
                by[r] = from_hand(own, bit < 0 ? 0 : bit);
                rest &= rest - 1;
            }
#pragma unroll
            for (int r = 0; r < ROWS; r++)
#pragma unroll
                for (int p = 0; p < PARTS; p++) {
                    int c = first + p * HANDS;
                    now[r][p] = row[r] >= 0 && c < (triangle ? row[r] + 1 : n) ? matrix[row[r] * n + c] : 0;
                }
#pragma unroll
            for (int r = 0; r < ROWS; r++)
#pragma unroll
                for (int p = 0; p < PARTS; p++) {
                    int c = first + p * HANDS;
                    if (row[r] >= 0 && c < (triangle ? row[r] + 1 : n)) matrix[row[r] * n + c] = now[r][p] - by[r] * at[p];
                }
        }
    }
}

void take_off(double *restrict matrix, int64_t n, int64_t m, int64_t kept, const double *size, const double *pivot, int triangle) {
    meet();
    for (int base = 0; base < m; base += HANDS) {
        int i = base + HAND;
        double own = i < m && i != kept ? size[i] : 0;
        unsigned filled = hands_where(own != 0);
        if (filled) take_off_some(matrix, (int)n, base, filled, own, pivot, triangle);
    }
    meet();
}

void rows_times(const double *restrict size, const double *restrict matrix, int64_t n, double *restrict out) {
    meet();
    for EACH(i, n) {
        double sum = 0;
#pragma unroll 8
        for (int64_t k = 0; k < n; k++) {
            double by = size[k];
            sum = by == 0 ? sum : sum + by * matrix[k * n + i];
        }
        out[i] = sum;
    }
    meet();
}
#endif

/* Turns row k, from which all later rows were taken off, into one of the factor; 1 if it is not positive. */
static int finish_row(double *pivot, int64_t k) {
    if (!(pivot[k] > 0)) return 1;
    double root = sqrt(pivot[k]), inverse = 1 / root;
    meet();
    for EACH(i, k) pivot[i] *= inverse;
    pivot[k] = root;
    meet();
    return 0;
}

/* The last row goes first. Rows come from the pelvis outwards, so limbs are eliminated before what carries them and
   leave zeros between each other; skipping these is all the block structure that there is. */
#if HANDS == 1
int cholesky(double *restrict matrix, int64_t n) {
    int64_t k = n - 1;
    for (; k > 0; k -= 2) { /* two rows at once, as most of the time goes into storing */
        double *one = matrix + k * n, *two = one - n;
        if (finish_row(one, k)) return 1;
        for (int64_t c = 0; c < k && one[k - 1] != 0; c++) two[c] -= one[k - 1] * one[c];
        if (finish_row(two, k - 1)) return 1;
        for (int64_t i = 0; i < k - 1; i++)
            if (one[i] != 0 || two[i] != 0) take_off_two(matrix + i * n, i + 1, one[i], one, two[i], two);
    }
    return k == 0 && finish_row(matrix, 0);
}
#else
int cholesky(double *restrict matrix, int64_t n) {
    for (int64_t k = n - 1; k >= 0; k--) {
        if (finish_row(matrix + k * n, k)) return 1;
        take_off(matrix, n, k, -1, matrix + k * n, matrix + k * n, 1);
    }
    return 0;
}
#endif

void cholesky_solve(const double *restrict factor, int64_t n, double *restrict x) {
    for (int64_t k = n - 1; k >= 0; k--) {
        const double *restrict row = factor + k * n;
        double size = x[k] / row[k];
        meet();
        x[k] = size;
        if (size == 0) continue;
        for EACH(i, k) x[i] -= size * row[i];
        meet();
    }
    for (int64_t k = 0; k < n; k++) {
        const double *restrict row = factor + k * n;
        double solved = (x[k] - dot_of_all(row, x, (int)k)) / row[k];
        meet();
        x[k] = solved;
        meet();
    }
}

int64_t largest_from(const double *column, int64_t stride, int64_t n, int64_t k) {
    double most = -1;
    int64_t best = -1;
    for EACH_FROM(i, k, n)
        if (fabs(column[i * stride]) > most) most = fabs(column[i * stride]), best = i;
    best = best_of_all(most, best);
    return best < 0 ? k : best;
}

void swap_rows(double *restrict a, double *restrict b, int64_t n) {
    for EACH(c, n) {
        double kept = a[c];
        a[c] = b[c];
        b[c] = kept;
    }
    meet();
}

/* Divides pivot row k by its pivot. */
static void scale_row(double *pivot, int64_t n, int64_t k) {
    double inverse = 1 / pivot[k];
    meet();
    pivot[k] = 1;
    meet();
    for EACH(c, n) pivot[c] *= inverse;
    meet();
}

#if HANDS == 1
/* Takes rows out of column k into `room`. */
static void lift_out(double *matrix, int64_t n, int64_t k, double *room) {
    for (int64_t i = 0; i < n; i++) room[i] = matrix[i * n + k], matrix[i * n + k] = 0;
}

/* Pivot k + 1 while pivot k, whose column is in `first`, has not been taken off the other rows yet; then both at once. */
static int two_pivots(double *restrict matrix, int64_t n, int64_t k, int32_t *restrict swap, double *restrict first, double *restrict second) {
    double *one = matrix + k * n, *two = one + n, across = one[k + 1];
    for (int64_t i = 0; i < n; i++) {
        double own = matrix[i * n + k + 1];
        second[i] = i == k || first[i] == 0 ? own : own - first[i] * across;
        matrix[i * n + k + 1] = 0;
    }
    int64_t p = largest_from(second, 1, n, k + 1);
    if (fabs(second[p]) < LEAST_PIVOT) return 1;
    swap[k + 1] = (int32_t)p;
    if (p != k + 1) {
        swap_rows(two, matrix + p * n, n);
        swap_rows(first + k + 1, first + p, 1);
        swap_rows(second + k + 1, second + p, 1);
    }
    for (int64_t c = 0; c < n && first[k + 1] != 0; c++) two[c] -= first[k + 1] * one[c];
    two[k + 1] = second[k + 1];
    scale_row(two, n, k + 1);
    for (int64_t i = 0; i < n; i++)
        if (i != k && i != k + 1 && (first[i] != 0 || second[i] != 0)) take_off_two(matrix + i * n, n, first[i], one, second[i], two);
    for (int64_t c = 0; c < n && across != 0; c++) one[c] -= across * two[c];
    return 0;
}
#endif

/* Takes pivot row k off every other row that holds something in column k. */
static void clear_column(double *matrix, int64_t n, int64_t k, double *room) {
    for EACH(i, n) {
        room[i] = matrix[i * n + k];
        if (i != k) matrix[i * n + k] = 0;
    }
    take_off(matrix, n, n, k, room, matrix + k * n, 0);
}

static void swap_back(double *matrix, int64_t n, const int32_t *swap) {
    for (int64_t k = n - 1; k >= 0; k--)
        if (swap[k] != k)
            for EACH(i, n) {
                double kept = matrix[i * n + k];
                matrix[i * n + k] = matrix[i * n + swap[k]];
                matrix[i * n + swap[k]] = kept;
            }
}

/* Gauss-Jordan in place. */
int invert(double *restrict matrix, int64_t n, int32_t *restrict swap, double *restrict room) {
    for (int64_t k = 0; k < n; k++) {
        int64_t p = largest_from(matrix + k, n, n, k);
        if (fabs(matrix[p * n + k]) < LEAST_PIVOT) return 1;
        meet();
        swap[k] = (int32_t)p;
        if (p != k) swap_rows(matrix + k * n, matrix + p * n, n);
#if HANDS == 1
        if (k + 1 < n) {
            scale_row(matrix + k * n, n, k);
            double inverse = matrix[k * n + k];
            lift_out(matrix, n, k, room);
            matrix[k * n + k] = inverse;
            if (two_pivots(matrix, n, k++, swap, room, room + n)) return 1;
            continue;
        }
#endif
        scale_row(matrix + k * n, n, k);
        clear_column(matrix, n, k, room);
    }
    swap_back(matrix, n, swap);
    return 0;
}
