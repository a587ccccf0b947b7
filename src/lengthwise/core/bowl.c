#include "bowl.h"

#include <math.h>

#include "vector.h"

#define STIFFEST 1e6
enum { SIDE = 4 }; /* columns that are worked on side by side */

/* Solves a (n, n) for b by elimination with pivots; both are overwritten. */
static void eliminate(double *restrict a, double *restrict b, int n) {
    for (int c = 0; c < n; c++) {
        int best = c;
        for (int i = c + 1; i < n; i++)
            if (fabs(a[i * n + c]) > fabs(a[best * n + c])) best = i;
        if (best != c) {
            double t = b[c];
            b[c] = b[best], b[best] = t;
            for (int k = 0; k < n; k++) t = a[c * n + k], a[c * n + k] = a[best * n + k], a[best * n + k] = t;
        }
        for (int i = c + 1; i < n; i++) {
            double f = a[i * n + c] / a[c * n + c];
            for (int k = c; k < n; k++) a[i * n + k] -= f * a[c * n + k];
            b[i] -= f * b[c];
        }
    }
    for (int i = n - 1; i >= 0; i--) {
        for (int k = i + 1; k < n; k++) b[i] -= a[i * n + k] * b[k];
        b[i] /= a[i * n + i];
    }
}

/* Cholesky factor of b (n, n) in its lower half, in place. column: n numbers. */
static void factor(double *restrict b, double *restrict column, int n) {
    for (int k = 0; k < n; k++) {
        double root = sqrt(larger(b[k * n + k], 1e-12));
        b[k * n + k] = root;
        for (int i = k + 1; i < n; i++) column[i] = b[i * n + k] = b[i * n + k] / root;
        for (int i = k + 1; i < n; i++)
            for (int j = k + 1; j <= i; j++) b[i * n + j] -= column[i] * column[j];
    }
}

/* Solves the transposed factor times x = x in place for `width` neighbouring columns of x. */
static inline void resolve_back(const double *restrict b, double *restrict x, int n, int m, int width) {
    for (int i = n - 1; i >= 0; i--) {
        double own[2 * SIDE];
        for (int c = 0; c < width; c++) own[c] = x[i * m + c];
        for (int k = i + 1; k < n; k++)
            for (int c = 0; c < width; c++) own[c] -= b[k * n + i] * x[k * m + c];
        for (int c = 0; c < width; c++) x[i * m + c] = own[c] / b[i * n + i];
    }
}

/* Solves factor * factor' * x = x in place for the m columns of x (n, m), a multiple of SIDE. */
static void resolve(const double *restrict b, double *restrict x, int n, int m) {
    for (int k = 0; k < n; k++) {
        for (int c = 0; c < m; c++) x[k * m + c] /= b[k * n + k];
        for (int i = k + 1; i < n; i++)
            for (int c = 0; c < m; c++) x[i * m + c] -= b[i * n + k] * x[k * m + c];
    }
    int at = 0;
    for (; at + 2 * SIDE <= m; at += 2 * SIDE) resolve_back(b, x + at, n, m, 2 * SIDE);
    if (at < m) resolve_back(b, x + at, n, m, SIDE);
}

/* Columns of a step: of every pin, and of the way back. */
static int width_of(int ne) { return (ne + SIDE) / SIDE * SIDE; }

size_t free_step_size(int nu, int ne) { return (size_t)(nu * (nu + 1 + width_of(ne)) + ne * ne); }

void free_step(int nu, int ne, const double *slope, const double *bend, const double *r, const double *away, const int32_t *stuck, double *step,
               double *hold, double *room) {
    int m = width_of(ne);
    double *bowl = room, *reach = bowl + nu * nu, *gram = reach + m * nu, *column = gram + ne * ne, trace = 0;
    for (int i = 0; i < nu; i++) {
        for (int e = 0; e < ne; e++) reach[i * m + e] = stuck[i] ? 0 : slope[e * nu + i];
        for (int e = ne; e < m; e++) reach[i * m + e] = stuck[i] || e > ne ? 0 : away[i];
        for (int j = 0; j < nu && bend; j++) bowl[i * nu + j] = stuck[i] || stuck[j] ? i == j : bend[i * nu + j];
    }
    if (bend) {
        factor(bowl, column, nu);
        resolve(bowl, reach, nu, m);
    }
    for (int e = 0; e < ne; e++) {
        double left = r[e], *row = gram + e * ne;
        for (int j = 0; j < nu; j++) left -= slope[e * nu + j] * reach[j * m + ne];
        hold[e] = left;
        for (int f = 0; f < ne; f++) row[f] = 0;
        for (int j = 0; j < nu; j++)
            for (int f = 0; f < ne; f++) row[f] += slope[e * nu + j] * reach[j * m + f];
        trace += row[e];
    }
    for (int e = 0; e < ne; e++) gram[e * ne + e] += 1e-9 + 1e-10 * trace;
    eliminate(gram, hold, ne);
    for (int j = 0; j < nu; j++) {
        double sum = reach[j * m + ne];
        for (int e = 0; e < ne; e++) sum += reach[j * m + e] * hold[e];
        step[j] = stuck[j] ? 0 : -sum;
    }
}

/* BFGS with Powell's damping: Nocedal & Wright 2006, procedure 18.2. */
void learn_bend(int nu, const double *step, double *change, double *bend, double *room) {
    double curved = 0, along = 0, turned = 0;
    for (int i = 0; i < nu; i++) {
        double sum = 0;
        for (int j = 0; j < nu; j++) sum += bend[i * nu + j] * step[j];
        room[i] = sum;
        curved += step[i] * room[i], along += step[i] * change[i];
    }
    if (curved < 1e-16) return;
    double kept = along < 0.2 * curved ? 0.8 * curved / (curved - along) : 1;
    for (int i = 0; i < nu; i++) change[i] = kept * change[i] + (1 - kept) * room[i];
    along = kept * along + (1 - kept) * curved;
    for (int i = 0; i < nu; i++) turned += change[i] * change[i];
    if (!(turned <= STIFFEST * along)) return; /* the noise of the slopes, not the bowl: learnt from, it grows beyond all numbers */
    for (int i = 0; i < nu; i++)
        for (int j = 0; j < nu; j++) bend[i * nu + j] += change[i] * change[j] / along - room[i] * room[j] / curved;
}
