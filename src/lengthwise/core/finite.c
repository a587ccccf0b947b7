/* Whether numbers are finite, looked at before anything else reads them. */
#include <float.h>
#include <math.h>
#include <stdint.h>

/* 1 where all n numbers are finite, else 0. */
int lw_all_finite(int64_t n, const double *values) {
    int64_t bad = 0;
    for (int64_t i = 0; i < n; i++) bad += !(fabs(values[i]) <= DBL_MAX);
    return bad == 0;
}
