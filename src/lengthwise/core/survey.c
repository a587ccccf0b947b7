/* What the mechanics needs to know of a batch of postures. Every position is worked out by itself, in scratch of pose_size numbers
 * plus 4 a segment (lw_survey_scratch).
 */
#include <string.h>

#include "path.h"
#include "survey.h"

size_t lw_body_size(void) { return sizeof(Body); }

size_t lw_survey_scratch(const Body *body) { return pose_size(body) + 4 * (size_t)body->n_segment; }

void survey_gather(const Body *body, const Pose *pose, double *mass, double *moment, double *centre) {
    memset(mass, 0, (size_t)body->n_segment * sizeof(double));
    memset(moment, 0, 3 * (size_t)body->n_segment * sizeof(double));
    for (int s = body->n_segment - 1; s > 0; s--) {
        mass[s] += body->mass[s];
        for (int k = 0; k < 3; k++) moment[3 * s + k] += body->mass[s] * pose->centre[3 * s + k];
        mass[body->parent[s]] += mass[s];
        for (int k = 0; k < 3; k++) moment[3 * body->parent[s] + k] += moment[3 * s + k];
    }
    for (int k = 0; k < 3; k++) centre[k] = moment[k] / mass[0];
}

void survey_weights(const Body *body, const Pose *pose, const double *mass, const double *moment, double *out) {
    out[0] = out[1] = 0;
    out[2] = mass[1] * body->gravity;
    for (int d = 3; d < body->n_coord; d++) {
        int s = body->coord_segment[d];
        const double *axis = pose->axis + 3 * d, *at = pose->anchor + 3 * d;
        out[d] = body->gravity * (axis[0] * (moment[3 * s + 1] - mass[s] * at[1]) - axis[1] * (moment[3 * s] - mass[s] * at[0]));
    }
}

/* How a point of a segment moves and its segment turns with each velocity, (3, n_coord) each. */
static void slopes(const Body *body, const Pose *pose, int segment, const double *point, double *jacobian, double *turn) {
    size_t n = (size_t)body->n_coord;
    memset(jacobian, 0, 3 * n * sizeof(double));
    memset(turn, 0, 3 * n * sizeof(double));
    jacobian[0] = jacobian[n + 1] = jacobian[2 * n + 2] = 1; /* the free segment's shifts, first in every chain */
    const int32_t *chain = body->chain + (size_t)segment * n;
    for (int e = 3; e < body->chain_length[segment]; e++) {
        int d = chain[e];
        const double *axis = pose->axis + 3 * d, *at = pose->anchor + 3 * d;
        double arm[3] = {point[0] - at[0], point[1] - at[1], point[2] - at[2]}, swept[3];
        cross(axis, arm, swept);
        for (int k = 0; k < 3; k++) jacobian[k * n + d] = swept[k], turn[k * n + d] = axis[k];
    }
}

/* Lengths and arms of the left lines, which follow the right ones in the same order, as the mirror image of the right ones. */
static void mirror_lines(const Body *body, double *length, double *arms) {
    size_t half = (size_t)body->n_line / 2, n = (size_t)body->n_coord;
    memcpy(length + half, length, half * sizeof(double));
    for (size_t l = 0; l < half; l++)
        for (size_t d = 0; d < n; d++) arms[(half + l) * n + (size_t)body->mirror_coord[d]] = body->mirror_sign[d] * arms[l * n + d];
}

/* Lengths, arms, gravity, centre of mass and landmarks of n_pos postures q (n_pos, n_q).
 *
 * alike: left mirrors right in every posture. segment (n_mark), local (n_mark, 3): landmarks. Outputs as body/model.py's Pass.
 */
void lw_survey(const Body *body, int n_pos, const double *q, int alike, int n_mark, const int32_t *segment, const double *local,
               double *length, double *arms, double *gravity, double *centre, double *points, double *frames, double *jacobians,
               double *turns, double *scratch) {
    Pose pose = pose_in(body, scratch);
    double *mass = scratch + pose_size(body), *moment = mass + body->n_segment;
    size_t n = (size_t)body->n_coord, n_line = (size_t)body->n_line;
    for (size_t i = 0; i < (size_t)n_pos; i++) {
        double *own = length + i * n_line, *pull = arms + i * n_line * n;
        pose_axes(body, q + i * (size_t)body->n_q, &pose);
        path_arms(body, &pose, body->n_line / (alike ? 2 : 1), own, pull);
        if (alike) mirror_lines(body, own, pull);
        survey_gather(body, &pose, mass, moment, centre + 3 * i);
        survey_weights(body, &pose, mass, moment, gravity + i * n);
        for (size_t m = 0; m < (size_t)n_mark; m++) {
            size_t at = i * (size_t)n_mark + m;
            pose_point(&pose, segment[m], local + 3 * m, points + 3 * at);
            memcpy(frames + 9 * at, pose.frame + 9 * segment[m], 9 * sizeof(double));
            slopes(body, &pose, segment[m], points + 3 * at, jacobians + 3 * n * at, turns + 3 * n * at);
        }
    }
}

/* Lengths of all lines alone, (n_pos, n_line). */
void lw_paths(const Body *body, int n_pos, const double *q, double *length, double *scratch) {
    Pose pose = pose_in(body, scratch);
    for (size_t i = 0; i < (size_t)n_pos; i++) {
        pose_segments(body, q + i * (size_t)body->n_q, &pose);
        path_lengths(body, &pose, body->n_line, length + i * (size_t)body->n_line);
    }
}

/* Shortest and longest of each line over n_pos postures (n_line): each is looked at where `asked` (n_pos, n_line) is not 0, and is endless
 * where it is asked nowhere. */
void lw_reach(const Body *body, int n_pos, const double *q, const uint8_t *asked, double *shortest, double *longest, double *scratch) {
    Pose pose = pose_in(body, scratch);
    for (int line = 0; line < body->n_line; line++) shortest[line] = INFINITY, longest[line] = -INFINITY;
    for (size_t i = 0; i < (size_t)n_pos; i++) {
        pose_segments(body, q + i * (size_t)body->n_q, &pose);
        for (int line = 0; line < body->n_line; line++) {
            if (!asked[i * (size_t)body->n_line + (size_t)line]) continue;
            double length = path_line(body, &pose, line, NULL);
            shortest[line] = smaller(shortest[line], length), longest[line] = larger(longest[line], length);
        }
    }
}

/* Landmarks and centre of mass alone. */
void lw_places(const Body *body, int n_pos, const double *q, int n_mark, const int32_t *segment, const double *local, double *points,
               double *frames, double *centre, double *scratch) {
    Pose pose = pose_in(body, scratch);
    double *mass = scratch + pose_size(body), *moment = mass + body->n_segment;
    for (size_t i = 0; i < (size_t)n_pos; i++) {
        pose_segments(body, q + i * (size_t)body->n_q, &pose);
        survey_gather(body, &pose, mass, moment, centre + 3 * i);
        for (size_t m = 0; m < (size_t)n_mark; m++) {
            size_t at = i * (size_t)n_mark + m;
            pose_point(&pose, segment[m], local + 3 * m, points + 3 * at);
            memcpy(frames + 9 * at, pose.frame + 9 * segment[m], 9 * sizeof(double));
        }
    }
}
