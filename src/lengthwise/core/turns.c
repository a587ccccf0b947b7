#include "turns.h"

#include "functions.h"
#include "vector.h"

#include <stddef.h>

/* The turn from one orientation to another as a rotation vector in the first one's frame, the short way round. */
static void turn_between(const double *from, const double *to, double *out) {
    double back[4] = {from[0], -from[1], -from[2], -from[3]}, turn[4], axis[3];
    quat_product(back, to, turn);
    copy3(turn + 1, axis);
    double angle = 2 * direction_of(unit3(axis), turn[0]);
    if (angle > PI) angle -= 2 * PI;
    for (int k = 0; k < 3; k++) out[k] = angle * axis[k];
}

void lw_turns(const Body *body, int n_pos, const double *from, const double *to, double *out) {
    for (size_t i = 0; i < (size_t)n_pos; i++) {
        const double *a = from + i * (size_t)body->n_q, *b = to + i * (size_t)body->n_q;
        double *v = out + i * (size_t)body->n_coord;
        for (int j = 0; j < body->n_joint; j++) {
            int q = body->joint_q[j], d = body->joint_coord[j], kind = body->joint_kind[j];
            if (kind == JOINT_HINGE) {
                v[d] = b[q] - a[q];
                continue;
            }
            if (kind == JOINT_FREE) {
                for (int k = 0; k < 3; k++) v[d + k] = b[q + k] - a[q + k];
                q += 3, d += 3;
            }
            turn_between(a + q, b + q, v + d);
        }
    }
}
