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

/* The last row goes first. Rows come from the pelvis outwards, so limbs are eliminated before what carries them and
   leave zeros between each other; skipping these is all the block structure that there is. */
int cholesky(double *restrict matrix, int64_t n) {
    for (int64_t k = n - 1; k >= 0; k--) {
        double *pivot = matrix + k * n;
        if (!(pivot[k] > 0)) return 1;
        double root = sqrt(pivot[k]), inverse = 1 / root;
        meet();
        for EACH(i, k) pivot[i] *= inverse;
        pivot[k] = root;
        meet();
        take_off(matrix, n, k, -1, pivot, pivot, 1);
    }
    return 0;
}

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

static int64_t largest_below(const double *matrix, int64_t n, int64_t k) {
    double most = -1;
    int64_t best = -1;
    for EACH_FROM(i, k, n)
        if (fabs(matrix[i * n + k]) > most) most = fabs(matrix[i * n + k]), best = i;
    best = best_of_all(most, best);
    return best < 0 ? k : best;
}

static void swap_rows(double *restrict a, double *restrict b, int64_t n) {
    for EACH(c, n) {
        double kept = a[c];
        a[c] = b[c];
        b[c] = kept;
    }
    meet();
}

/* Takes pivot row k off every other row that holds something in column k. */
static void clear_column(double *matrix, int64_t n, int64_t k, double *room) {
    for EACH(i, n) {
        room[i] = matrix[i * n + k];
        if (i != k) matrix[i * n + k] = 0;
    }
    take_off(matrix, n, n, k, room, matrix + k * n, 0);
}

/* Gauss-Jordan in place. */
int invert(double *restrict matrix, int64_t n, int32_t *restrict swap, double *restrict room) {
    for (int64_t k = 0; k < n; k++) {
        int64_t p = largest_below(matrix, n, k);
        double *pivot = matrix + k * n, chosen = matrix[p * n + k];
        if (fabs(chosen) < LEAST_PIVOT) return 1;
        meet();
        swap[k] = (int32_t)p;
        if (p != k) swap_rows(pivot, matrix + p * n, n);
        double inverse = 1 / chosen;
        meet();
        pivot[k] = 1;
        meet();
        for EACH(c, n) pivot[c] *= inverse;
        meet();
        clear_column(matrix, n, k, room);
    }
    for (int64_t k = n - 1; k >= 0; k--)
        if (swap[k] != k)
            for EACH(i, n) {
                double kept = matrix[i * n + k];
                matrix[i * n + k] = matrix[i * n + swap[k]];
                matrix[i * n + swap[k]] = kept;
            }
    return 0;
}
