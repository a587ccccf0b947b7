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

/* Cholesky factor of b (n, n) in its lower half, in place. */
static void factor(double *b, int n) {
    for (int j = 0; j < n; j++)
        for (int i = j; i < n; i++) {
            double sum = b[i * n + j];
            for (int k = 0; k < j; k++) sum -= b[i * n + k] * b[j * n + k];
            b[i * n + j] = i == j ? sqrt(larger(sum, 1e-12)) : sum / b[j * n + j];
        }
}

/* x (count of SIDE) -= by * y */
static inline void less(double *x, double by, const double *y, int count) {
    for (int c = 0; c < SIDE; c++) x[c] -= c < count ? by * y[c] : 0;
}

/* Row i of x, as many columns as stand side by side: less the rows from `first` to `end`, each times its entry of b, over that of row i. */
static inline void resolve_row(const double *restrict b, double *restrict x, int i, int first, int end, int stride, int entry, int n, int m, int count) {
    double own[SIDE];
    for (int c = 0; c < SIDE; c++) own[c] = c < count ? x[i * m + c] : 0;
    for (int k = first; k < end; k++) less(own, b[i * entry + k * stride], x + k * m, count);
    for (int c = 0; c < count; c++) x[i * m + c] = own[c] / b[i * n + i];
}

/* Solves factor * factor' * x = x in place for the m columns of x (n, m). */
static void resolve(const double *restrict b, double *restrict x, int n, int m) {
    for (int at = 0; at < m; at += SIDE) {
        int count = m - at < SIDE ? m - at : SIDE;
        for (int i = 0; i < n; i++) resolve_row(b, x + at, i, 0, i, 1, n, n, m, count);
        for (int i = n - 1; i >= 0; i--) resolve_row(b, x + at, i, i + 1, n, n, 1, n, m, count);
    }
}

void free_step(int nu, int ne, const double *slope, const double *bend, const double *r, const double *away, const int32_t *stuck, double *step,
               double *hold, double *room) {
    int m = ne + 1;
    double *bowl = room, *reach = bowl + nu * nu, *gram = reach + m * nu, trace = 0; /* reach: of every pin, and of the way back (nu, m) */
    for (int i = 0; i < nu; i++) {
        for (int j = 0; j < nu; j++) bowl[i * nu + j] = stuck[i] || stuck[j] ? i == j : bend[i * nu + j];
        for (int e = 0; e < ne; e++) reach[i * m + e] = stuck[i] ? 0 : slope[e * nu + i];
        reach[i * m + ne] = stuck[i] ? 0 : away[i];
    }
    factor(bowl, nu);
    resolve(bowl, reach, nu, m);
    for (int e = 0; e < ne; e++) {
        double left = r[e];
        for (int j = 0; j < nu; j++) left -= slope[e * nu + j] * reach[j * m + ne];
        hold[e] = left;
        for (int f = 0; f < ne; f++) {
            double sum = 0;
            for (int j = 0; j < nu; j++) sum += slope[e * nu + j] * reach[j * m + f];
            gram[e * ne + f] = sum;
        }
        trace += gram[e * ne + e];
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
