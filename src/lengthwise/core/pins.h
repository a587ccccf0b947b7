/* By how much a posture misses what a lift pins (chain.h), and how that changes with each solved angle. */
#ifndef LENGTHWISE_PINS_H
#define LENGTHWISE_PINS_H

#include "chain.h"
#include "coordinates.h"
#include "pose.h"

struct Pins {
    const Body *body;
    const Chain *chain;
    int even, prepared; /* whether left segments are read off the right ones, mirrored; whether that was asked for */
    int parts;       /* what the solved angles decide (coordinates.h) */
    int32_t *wanted; /* segments that the equations need; 2 with their centres of mass (n_segment) */
    int32_t *mobile; /* the same of those that solved angles move (n_segment) */
    int32_t *seen;   /* the segment whose pose stands for another's: its own, or of a left one the right one's (n_segment) */
    int32_t *outer;  /* the outermost segment that each slot turns by itself, and the left one (n_unknown, 2, 2) */
    const double *goal; /* of this position, as all that follows */
    double held_n;
    double *row, *q, *point; /* angles, coordinates, landmarks of the posture looked at last */
    double *speed, *spin, *moved; /* of the landmarks (n_mark, 3) each */
    double *mass, *moment;   /* of each segment with all that hangs on it (n_segment), (n_segment, 3) */
    double centre[3];
    Arm arm[2];              /* of both sides, where solved angles move them */
    int looked;              /* how many postures of this position were looked at */
    Pose pose;
};

/* Pins of a chain laid out in the caller's memory, pins_size numbers. */
size_t pins_size(const Body *body, const Chain *chain);
Pins pins_in(const Body *body, const Chain *chain, double **memory);

/* Another position: key posture (ANGLES), goals (n_equation), held force [N]. */
void pins_begin(Pins *pins, const double *angle, const double *goal, double held_n);

/* The misses where the solved angles are u [m] (n_equation); leaves that posture in `pins`. */
void pins_miss(Pins *pins, const double *u, double *out);

/* How these change with each solved angle in the posture looked at last [m/deg or m/cm] (n_equation, n_unknown). */
void pins_slopes(Pins *pins, double *out);

#endif
