/* One person's body as plain numbers: the parameter block that every kernel is given.
 *
 * Lengths in metres, angles in radians, masses in kilograms. Arrays belong to the caller and are only read. Segment 0 is the world,
 * segment 1 floats freely (7 numbers in q, 6 velocities); parents come before children. The fields and their order are repeated in
 * door.py, which checks the size of the block when it loads the library.
 */
#ifndef LENGTHWISE_BODY_H
#define LENGTHWISE_BODY_H

#include <stdint.h>

enum { JOINT_FREE = 0, JOINT_BALL = 1, JOINT_HINGE = 3 };
enum { WAY_POINT = 0, WAY_CYLINDER = 1, WAY_SPHERE = 2 };

typedef struct {
    int32_t n_segment, n_joint, n_coord, n_q, n_line, n_way;
    const int32_t *parent;       /* (n_segment) */
    const int32_t *first_joint;  /* (n_segment) */
    const int32_t *joint_count;  /* (n_segment) */
    const double *offset;        /* origin in the parent's frame (n_segment, 3) */
    const double *turn;          /* frame in the parent's frame, quaternion (n_segment, 4) */
    const double *mass;          /* (n_segment) */
    const double *centre;        /* centre of mass in the segment's frame (n_segment, 3) */
    const int32_t *joint_kind;   /* (n_joint) */
    const int32_t *joint_q;      /* where it sits in q (n_joint) */
    const int32_t *joint_coord;  /* where it sits in the velocities (n_joint) */
    const double *joint_axis;    /* of a hinge, in the segment's frame (n_joint, 3) */
    const int32_t *coord_segment; /* the segment that a velocity moves (n_coord) */
    const int32_t *chain_length; /* how many velocities move a segment (n_segment) */
    const int32_t *chain;        /* which, rising (n_segment, n_coord) */
    const int32_t *line_first;   /* first way point of a line (n_line) */
    const int32_t *line_count;   /* (n_line) */
    const int32_t *way_kind;     /* (n_way) */
    const int32_t *way_segment;  /* (n_way) */
    const double *way_place;     /* point or centre of the wrapping surface (n_way, 3) */
    const double *way_radius;    /* (n_way) */
    const double *way_frame;     /* of the wrapping surface, its axis is z (n_way, 9) */
    const int32_t *way_side_segment; /* of the point that says on which side to pass; -1 for none (n_way) */
    const double *way_side;      /* that point (n_way, 3) */
    const double *neutral;       /* q of standing upright (n_q) */
    const int32_t *posture_q;    /* where in q the joints of ANGLES sit, see coordinates.h (23) */
    const double *girdle_axes;   /* of the hinges at the inner and the outer end of the clavicle (6, 3) */
    const double *girdle_seat;   /* what seats the blade on the ribs [deg], two rows of SEAT_TERMS (30) */
    const double *trunk_share;   /* lumbar share of trunk flexion, side bending, rotation (3) */
    const int32_t *mirror_coord; /* the velocity on the other side of the body (n_coord) */
    const double *mirror_sign;   /* whether it turns the other way round there, 1 or -1 (n_coord) */
    double gravity;              /* [m/s^2], positive */
} Body;

#endif
