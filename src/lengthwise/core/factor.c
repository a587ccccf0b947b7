#include "factor.h"

#include <math.h>

#include "vector.h"

#define LEAST_PIVOT 1e-11

/* The last row goes first. Rows come from the pelvis outwards, so limbs are eliminated before what carries them and
   leave zeros between each other; skipping these is all the block structure that there is. */
int cholesky(double *restrict matrix, int64_t n) {
    for (int64_t k = n - 1; k >= 0; k--) {
        double *restrict pivot = matrix + k * n;
        if (!(pivot[k] > 0)) return 1;
        double root = sqrt(pivot[k]), inverse = 1 / root;
        for (int64_t i = 0; i < k; i++) pivot[i] *= inverse;
        pivot[k] = root;
        for (int64_t i = 0; i < k; i++) {
            double size = pivot[i];
            if (size == 0) continue;
            double *restrict row = matrix + i * n;
            for (int64_t c = 0; c <= i; c++) row[c] -= size * pivot[c];
        }
    }
    return 0;
}

void cholesky_solve(const double *restrict factor, int64_t n, double *restrict x) {
    for (int64_t k = n - 1; k >= 0; k--) {
        const double *restrict row = factor + k * n;
        double size = x[k] /= row[k];
        if (size == 0) continue;
        for (int64_t i = 0; i < k; i++) x[i] -= size * row[i];
    }
    for (int64_t k = 0; k < n; k++) {
        const double *restrict row = factor + k * n;
        x[k] = (x[k] - dot_long(row, x, (int)k)) / row[k];
    }
}

static int64_t largest_below(const double *matrix, int64_t n, int64_t k) {
    int64_t best = k;
    for (int64_t i = k + 1; i < n; i++)
        if (fabs(matrix[i * n + k]) > fabs(matrix[best * n + k])) best = i;
    return best;
}

static void swap_rows(double *restrict a, double *restrict b, int64_t n) {
    for (int64_t c = 0; c < n; c++) {
        double kept = a[c];
        a[c] = b[c];
        b[c] = kept;
    }
}

/* Gauss-Jordan in place; zeros are skipped, as most columns of a basis hold few numbers. */
int invert(double *restrict matrix, int64_t n, int32_t *restrict swap) {
    for (int64_t k = 0; k < n; k++) {
        int64_t p = largest_below(matrix, n, k);
        double *restrict pivot = matrix + k * n;
        if (fabs(matrix[p * n + k]) < LEAST_PIVOT) return 1;
        swap[k] = (int32_t)p;
        if (p != k) swap_rows(pivot, matrix + p * n, n);
        double inverse = 1 / pivot[k];
        pivot[k] = 1;
        for (int64_t c = 0; c < n; c++) pivot[c] *= inverse;
        for (int64_t i = 0; i < n; i++) {
            double *restrict row = matrix + i * n;
            double size = row[k];
            if (i == k || size == 0) continue;
            row[k] = 0;
            for (int64_t c = 0; c < n; c++) row[c] -= size * pivot[c];
        }
    }
    for (int64_t k = n - 1; k >= 0; k--)
        if (swap[k] != k)
            for (int64_t i = 0; i < n; i++) {
                double kept = matrix[i * n + k];
                matrix[i * n + k] = matrix[i * n + swap[k]];
                matrix[i * n + swap[k]] = kept;
            }
    return 0;
}
