#include "tissue.h"

#include <math.h>
#include <string.h>

#include "coordinates.h"
#include "functions.h"
#include "vector.h"

static double within(double v) { return clamped(v, 0, 1); }

/* Middle and end of a joint's range: what lowers the angle tightens towards its high end, and the other way round. */
static void ends(const Muscles *m, const double *angle, double *lower, double *upper) {
    for (int e = 0; e < m->n_end; e++) {
        double value = angle[m->end_slot[e]];
        double down = -(m->end_middle[e] + m->end_most[e] * within((value - m->end_high[e]) / m->ramp + 1));
        double up = m->end_middle[e] + m->end_most[e] * within((m->end_low[e] - value) / m->ramp + 1);
        int d = m->end_coord[e], same = m->end_sign[e] > 0;
        lower[d] += same ? down : -up;
        upper[d] += same ? up : -down;
    }
}

/* The shoulder's capsule: more overhead and at the ends of rotation. */
static void capsule(const Muscles *m, const double *angle, int side, double *lower, double *upper) {
    const int32_t *slot = m->ball_slot + 3 * side;
    double raised = hypotenuse(angle[slot[0]], angle[slot[1]]), turned = angle[slot[2]];
    double overhead = within((raised - m->ball[0]) / (2 * m->ramp) + 1);
    double twisted = within(fmax(turned - m->ball[2], m->ball[1] - turned) / m->ramp + 1);
    double swing = m->ball[3] + m->ball[4] * overhead;
    for (int k = 0; k < 3; k++) {
        double bound = swing + (k == 2 ? m->ball[5] * twisted : 0);
        lower[m->ball_coord[side] + k] = -bound, upper[m->ball_coord[side] + k] = bound;
    }
}

void tissue_bounds(const Body *body, const Muscles *muscles, const double *q, double *angle, double *lower, double *upper) {
    size_t size = (size_t)body->n_coord * sizeof(double);
    lw_clinical(body, 1, q, angle);
    memcpy(lower, muscles->base_low, size);
    memcpy(upper, muscles->base_high, size);
    ends(muscles, angle, lower, upper);
    for (int side = 0; side < 2; side++) {
        double raised = q[muscles->hang_q[side]] / DEG;
        upper[muscles->hang_coord[side]] += muscles->hang[0] * within((muscles->hang[1] - raised) / muscles->ramp);
        capsule(muscles, angle, side, lower, upper);
    }
}
