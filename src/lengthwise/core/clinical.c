/* Joint coordinates back to clinical angles: the inverse of coordinates.c. */
#include <string.h>

#include "coordinates.h"
#include "functions.h"
#include "vector.h"


/* The angles that euler_yxz was given [deg]. */
static void angles_yxz(const double *quat, double *out) {
    double m[9];
    quat_matrix(quat, m);
    out[0] = direction_of(m[2], m[8]) / DEG;
    out[1] = arc_sine(clamped(-m[5], -1, 1)) / DEG;
    out[2] = direction_of(m[3], m[4]) / DEG;
}

static void right_sided(const double *quat, int side, double *out) {
    memcpy(out, quat, 4 * sizeof(double));
    if (side) out[1] = -out[1], out[3] = -out[3];
}

/* Component about z of the rotation vector of a turn, the short way round [rad]. */
static double twist(const double *quat) {
    double sign = quat[0] < 0 ? -1 : 1, size = sqrt(dot(quat + 1, quat + 1));
    return sign * quat[3] * (size > 1e-12 ? 2 * direction_of(size, sign * quat[0]) / size : 2);
}

/* Shoulder flexion, abduction, horizontal adduction (0), internal rotation; blade elevation, protraction [deg] (6). */
static void shoulder_angles(const Body *body, const double *girdle, const double *ball, double *out) {
    double arm[4], part[4], m[9], direction[3], clavicle[3], blade[3], swing[4], back[4];
    quat_about(body->girdle_axes, girdle[0], arm);
    for (int k = 1; k < 6; k++) {
        quat_about(body->girdle_axes + 3 * k, girdle[k], part);
        quat_product(arm, part, arm);
    }
    quat_product(arm, ball, arm);
    quat_matrix(arm, m);
    for (int k = 0; k < 3; k++) direction[k] = -m[3 * k + 2];
    double raised = direction_of(hypotenuse(direction[0], direction[1]), -direction[2]), heading = direction_of(direction[0], -direction[1]);
    sine_cosine(heading, out, out + 1);
    out[0] *= raised / DEG, out[1] *= raised / DEG, out[2] = 0, out[3] = 0;
    arm_turn(out, 0, swing);
    back[0] = swing[0];
    for (int k = 1; k < 4; k++) back[k] = -swing[k];
    quat_product(back, arm, part);
    out[3] = twist(part) / DEG;
    rest_girdle(body->girdle_seat, direction, 0, 0, clavicle, blade);
    out[4] = girdle[1] / DEG - clavicle[1], out[5] = girdle[0] / DEG - clavicle[0];
}

void lw_clinical(const Body *body, int n_pos, const double *q, double *rows) {
    const int32_t *at = body->posture_q;
    for (size_t i = 0; i < (size_t)n_pos; i++) {
        const double *here = q + i * (size_t)body->n_q;
        double *row = rows + ANGLES * i, hip[3], quat[4];
        for (int k = 0; k < 3; k++) row[k] = here[k] * 100;
        angles_yxz(here + 3, row + 3);
        angles_yxz(here + at[LUMBAR], row + 6);
        for (int k = 0; k < 3; k++) row[6 + k] /= body->trunk_share[k];
        angles_yxz(here + at[NECK], row + 9);
        for (int side = 0; side < 2; side++) {
            double *own = row + FIRST_SIDE + A_SIDE * side;
            right_sided(here + at[HIP + side], side, quat);
            angles_yxz(quat, hip);
            own[0] = -hip[0], own[1] = -hip[1], own[2] = hip[2];
            for (int k = 0; k < HINGES; k++) own[3 + k] = here[at[HINGE + HINGES * side + k]] / DEG;
            right_sided(here + at[SHOULDER + side], side, quat);
            shoulder_angles(body, here + at[GIRDLE + side], quat, own + 10);
        }
    }
}
