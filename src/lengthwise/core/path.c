/* Muscle lines over points and wrapping surfaces, as MuJoCo's tendons (its answer is the oracle in tests). */
#include "path.h"

#include <string.h>

#include "wrap.h"

/* Adds to `arms` how a velocity changes the distance from a (on segment of_a) along unit vector u to b (on segment of_b). Velocities
 * that move both ends alike cancel: the shared head of the two chains is skipped. */
static void add_arms(const Body *body, const Pose *pose, const double *a, const double *u, int of_a, int of_b, double *arms) {
    const int32_t *chain_a = body->chain + (size_t)of_a * body->n_coord, *chain_b = body->chain + (size_t)of_b * body->n_coord;
    int n_a = body->chain_length[of_a], n_b = body->chain_length[of_b], shared = n_a < n_b ? n_a : n_b;
    while (shared > 0 && chain_a[shared - 1] != chain_b[shared - 1]) shared--; /* a velocity has one chain of others below it */
    double moment[3], part[3];
    cross(a, u, moment);
    for (int side = 0; side < 2; side++) {
        const int32_t *chain = side ? chain_a : chain_b;
        double sign = side ? -1 : 1;
        for (int e = shared; e < (side ? n_a : n_b); e++) {
            const double *axis = pose->axis + 3 * chain[e];
            cross(pose->anchor + 3 * chain[e], u, part);
            for (int k = 0; k < 3; k++) part[k] = moment[k] - part[k];
            arms[chain[e]] += sign * dot(axis, part);
        }
    }
}

static double straight(const Body *body, const Pose *pose, const double *a, int of_a, const double *b, int of_b, double *arms) {
    double u[3] = {b[0] - a[0], b[1] - a[1], b[2] - a[2]}, length = sqrt(dot(u, u));
    if (arms == NULL || of_a == of_b || length < TINY) return length;
    for (int k = 0; k < 3; k++) u[k] /= length;
    add_arms(body, pose, a, u, of_a, of_b, arms);
    return length;
}

/* Past the surface of way point w from `a` to `b`. */
static double past(const Body *body, const Pose *pose, int w, const double *a, int of_a, const double *b, int of_b, double *arms) {
    int on = body->way_segment[w], side_on = body->way_side_segment[w];
    double place[3], frame[9], side[3], touch[6];
    pose_point(pose, on, body->way_place + 3 * w, place);
    matrix_product(pose->frame + 9 * on, body->way_frame + 9 * w, frame);
    if (side_on >= 0) pose_point(pose, side_on, body->way_side + 3 * w, side);
    double along = wrap(a, b, place, frame, body->way_radius[w], body->way_kind[w] == WAY_SPHERE, side_on >= 0 ? side : NULL, touch);
    if (along < 0) return straight(body, pose, a, of_a, b, of_b, arms);
    return straight(body, pose, a, of_a, touch, on, arms) + along + straight(body, pose, touch + 3, on, b, of_b, arms);
}

double path_line(const Body *body, const Pose *pose, int line, double *arms) {
    int w = body->line_first[line], end = w + body->line_count[line], of_a = body->way_segment[w];
    double a[3], b[3], length = 0;
    pose_point(pose, of_a, body->way_place + 3 * w, a);
    for (w++; w < end; w++) {
        int surface = body->way_kind[w] == WAY_POINT ? -1 : w++, of_b = body->way_segment[w];
        pose_point(pose, of_b, body->way_place + 3 * w, b);
        length += surface < 0 ? straight(body, pose, a, of_a, b, of_b, arms) : past(body, pose, surface, a, of_a, b, of_b, arms);
        copy3(b, a);
        of_a = of_b;
    }
    return length;
}

void path_lengths(const Body *body, const Pose *pose, int n_line, double *length) {
    for (int line = 0; line < n_line; line++) length[line] = path_line(body, pose, line, NULL);
}

void path_arms(const Body *body, const Pose *pose, int n_line, double *length, double *arms) {
    memset(arms, 0, (size_t)n_line * (size_t)body->n_coord * sizeof(double));
    for (int line = 0; line < n_line; line++) length[line] = path_line(body, pose, line, arms + (size_t)line * (size_t)body->n_coord);
}
