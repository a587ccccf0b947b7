/* Where every segment is in one posture, and about what each velocity turns it. */
#ifndef LENGTHWISE_POSE_H
#define LENGTHWISE_POSE_H

#include <stddef.h>

#include "body.h"
#include "vector.h"

typedef struct {
    double *place;  /* origin of each segment (n_segment, 3) */
    double *frame;  /* its axes in the world (n_segment, 9) */
    double *turn;   /* the same as quaternion (n_segment, 4) */
    double *centre; /* its centre of mass (n_segment, 3) */
    double *axis;   /* of each velocity that turns (n_coord, 3) */
    double *anchor; /* a point on that axis (n_coord, 3) */
    double *part;   /* the turn in each joint alone (n_joint, 4) */
} Pose;

/* How many numbers a pose needs. */
size_t pose_size(const Body *body);

/* A pose laid out in the caller's memory. */
Pose pose_in(const Body *body, double *memory);

/* Places all segments for coordinates q (n_q). */
void pose_segments(const Body *body, const double *q, Pose *pose);

/* Places those segments alone for which `wanted` (n_segment) is not 0, and their centres of mass where it is 2; the parents of each must be
 * among them. */
void pose_some(const Body *body, const double *q, const int32_t *wanted, Pose *pose);

/* Places all segments, and axes and anchors of all velocities. */
void pose_axes(const Body *body, const double *q, Pose *pose);

/* A point given in a segment's frame, in the world. */
static inline void pose_point(const Pose *pose, int segment, const double *local, double *out) {
    turned(pose->frame + 9 * segment, local, out);
    for (int k = 0; k < 3; k++) out[k] += pose->place[3 * segment + k];
}

#endif
