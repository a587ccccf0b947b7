#include "factor.h"

#include <math.h>

#include "team.h"
#include "vector.h"

#define LEAST_PIVOT 1e-11

/* The last row goes first. Rows come from the pelvis outwards, so limbs are eliminated before what carries them and
   leave zeros between each other; skipping these is all the block structure that there is. */
int cholesky(double *restrict matrix, int64_t n) {
    for (int64_t k = n - 1; k >= 0; k--) {
        double *restrict pivot = matrix + k * n;
        if (!(pivot[k] > 0)) return 1;
        double root = sqrt(pivot[k]), inverse = 1 / root;
        meet();
        for EACH(i, k) pivot[i] *= inverse;
        pivot[k] = root;
        meet();
        for (int64_t i = 0; i < k; i++) {
            double size = pivot[i];
            if (size == 0) continue;
            double *restrict row = matrix + i * n;
            for EACH(c, i + 1) row[c] -= size * pivot[c];
        }
        meet();
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

/* Takes pivot row k off every other row that holds something in column k; zeros are skipped, as most columns of a basis hold few numbers. */
static void clear_column(double *restrict matrix, int64_t n, int64_t k) {
    const double *restrict pivot = matrix + k * n;
    for (int64_t i = 0; i < n; i++) {
        double *restrict row = matrix + i * n;
        double size = row[k];
        if (i == k || size == 0) continue;
        meet();
        row[k] = 0;
        meet();
        for EACH(c, n) row[c] -= size * pivot[c];
    }
    meet();
}

/* Gauss-Jordan in place. */
int invert(double *restrict matrix, int64_t n, int32_t *restrict swap) {
    for (int64_t k = 0; k < n; k++) {
        int64_t p = largest_below(matrix, n, k);
        double *restrict pivot = matrix + k * n;
        if (fabs(matrix[p * n + k]) < LEAST_PIVOT) return 1;
        swap[k] = (int32_t)p;
        if (p != k) swap_rows(pivot, matrix + p * n, n);
        double inverse = 1 / pivot[k];
        meet();
        pivot[k] = 1;
        meet();
        for EACH(c, n) pivot[c] *= inverse;
        meet();
        clear_column(matrix, n, k);
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
