/* Forward kinematics: coordinates to places and frames of the segments. */
#include "pose.h"

#include <string.h>

size_t pose_size(const Body *body) { return (size_t)body->n_segment * (3 + 9 + 4 + 3) + (size_t)body->n_coord * 6 + (size_t)body->n_joint * 4; }

Pose pose_in(const Body *body, double *memory) {
    size_t n = (size_t)body->n_segment;
    Pose pose;
    pose.place = memory;
    pose.frame = pose.place + 3 * n;
    pose.turn = pose.frame + 9 * n;
    pose.centre = pose.turn + 4 * n;
    pose.axis = pose.centre + 3 * n;
    pose.anchor = pose.axis + 3 * (size_t)body->n_coord;
    pose.part = pose.anchor + 3 * (size_t)body->n_coord;
    return pose;
}

static void place_world(Pose *pose) {
    pose->turn[0] = 1;
    for (int k = 1; k < 4; k++) pose->turn[k] = 0;
    for (int k = 0; k < 3; k++) pose->place[k] = pose->centre[k] = 0;
    quat_matrix(pose->turn, pose->frame);
}

/* The turn in joint j alone. */
static void turn_joint(const Body *body, const double *q, int j, Pose *pose) {
    double *part = pose->part + 4 * j;
    if (body->joint_kind[j] == JOINT_BALL) {
        memcpy(part, q + body->joint_q[j], 4 * sizeof(double));
        quat_unit(part);
    } else if (body->joint_kind[j] == JOINT_HINGE) quat_about(body->joint_axis + 3 * j, q[body->joint_q[j]], part);
}

/* Place and turn of one segment, given the turns in its joints; axes of its hinges on the way where they are wanted. */
static void place_segment(const Body *body, const double *q, int s, int with_axes, Pose *pose) {
    int first = body->first_joint[s], count = body->joint_count[s], parent = body->parent[s];
    double *place = pose->place + 3 * s, *turn = pose->turn + 4 * s;
    if (count == 1 && body->joint_kind[first] == JOINT_FREE) {
        const double *own = q + body->joint_q[first];
        copy3(own, place);
        memcpy(turn, own + 3, 4 * sizeof(double));
        quat_unit(turn);
        return;
    }
    pose_point(pose, parent, body->offset + 3 * s, place);
    quat_product(pose->turn + 4 * parent, body->turn + 4 * s, turn);
    for (int j = first; j < first + count; j++) {
        if (with_axes && body->joint_kind[j] == JOINT_HINGE) {
            double m[9];
            quat_matrix(turn, m);
            turned(m, body->joint_axis + 3 * j, pose->axis + 3 * body->joint_coord[j]);
            copy3(place, pose->anchor + 3 * body->joint_coord[j]);
        }
        quat_product(turn, pose->part + 4 * j, turn);
    }
    quat_unit(turn);
}

/* A ball turns about the axes of its own segment; so does the free segment after its three shifts. */
static void place_ball_axes(const Body *body, int s, Pose *pose) {
    const double *m = pose->frame + 9 * s;
    for (int j = body->first_joint[s]; j < body->first_joint[s] + body->joint_count[s]; j++) {
        if (body->joint_kind[j] == JOINT_HINGE) continue;
        int first = body->joint_coord[j] + (body->joint_kind[j] == JOINT_FREE ? 3 : 0);
        for (int k = 0; k < 3; k++) {
            for (int i = 0; i < 3; i++) pose->axis[3 * (first + k) + i] = m[3 * i + k];
            copy3(pose->place + 3 * s, pose->anchor + 3 * (first + k));
        }
    }
}

static void place_all(const Body *body, const double *q, const int32_t *wanted, int with_axes, Pose *pose) {
    place_world(pose);
    for (int s = 1; s < body->n_segment; s++) {
        if (wanted != NULL && !wanted[s]) continue;
        for (int j = body->first_joint[s]; j < body->first_joint[s] + body->joint_count[s]; j++) turn_joint(body, q, j, pose);
        place_segment(body, q, s, with_axes, pose);
        quat_matrix(pose->turn + 4 * s, pose->frame + 9 * s);
        if (with_axes) place_ball_axes(body, s, pose);
        if (wanted == NULL || wanted[s] > 1) pose_point(pose, s, body->centre + 3 * s, pose->centre + 3 * s);
    }
}

void pose_segments(const Body *body, const double *q, Pose *pose) { place_all(body, q, NULL, 0, pose); }

void pose_some(const Body *body, const double *q, const int32_t *wanted, Pose *pose) { place_all(body, q, wanted, 0, pose); }

void pose_axes(const Body *body, const double *q, Pose *pose) {
    memset(pose->axis, 0, (size_t)body->n_coord * 6 * sizeof(double));
    place_all(body, q, NULL, 1, pose);
}
