/* Closed chains: what a lift pins, as equations in the angles that are solved. Fields and order are repeated in door.py. */
#ifndef LENGTHWISE_CHAIN_H
#define LENGTHWISE_CHAIN_H

#include <stddef.h>
#include <stdint.h>

#include "body.h"

/* A landmark's coordinate is the goal; a segment leans forward by the goal; it does not lean sideways; a landmark lies by the goal
 * beyond another along an axis; the ground's force passes by the goal beyond the middle of some landmarks. */
enum { PIN_PLACE = 0, PIN_LEAN = 1, PIN_UPRIGHT = 2, PIN_OVER = 3, PIN_BALANCE = 4 };
enum { HELD_NOTHING = 0, HELD_WEIGHT = 1, HELD_PULL = 2, HELD_LEVER = 3 };

typedef struct {
    int32_t n_unknown, n_equation, n_mark, n_held, n_middle;
    int32_t alike;             /* the left mirrors the right */
    int32_t held_kind;         /* what the held load pulls like while a balance is asked */
    const int32_t *flat;       /* of each side, see coordinates.h (2) */
    const int32_t *slot;       /* where a solved angle stands in a row of ANGLES; a second place or -1 (n_unknown, 2) */
    const double *low, *high;  /* how far it goes (n_unknown) */
    const int32_t *mark_segment; /* (n_mark) */
    const double *mark_local;  /* [m] (n_mark, 3) */
    const int32_t *kind;       /* of each equation (n_equation) */
    const int32_t *first, *second, *axis; /* its landmarks and axis (n_equation) */
    const int32_t *middle;     /* landmarks in whose middle a balance is asked (n_middle) */
    const int32_t *held;       /* landmarks that carry the held load (n_held) */
    const int32_t *pivot;      /* the landmark on a lever's axis, or -1 for the place in `from` (n_held) */
    const double *from;        /* where a cable, a band or a lever's axis is [m] (n_held, 3) */
    const double *about;       /* unit vectors along a lever's axis, against the movement (n_held, 3) */
    double growth;             /* how fast the held force grows with height or reach [N/m] */
    double least;              /* it is never below this [N] */
    double weight_n;           /* of the body */
} Chain;

typedef struct Pins Pins; /* pins.h */

/* How many numbers of scratch a search needs beside its pins. */
size_t chain_room(const Chain *chain);

/* Searches from u (n_unknown), in place, where the pins have begun; start: near which the answer stays (n_unknown). Leaves the misses [m]
 * (n_equation), and the posture in `pins`. Returns the steps taken. */
int chain_close(Pins *pins, const double *start, int most, double *u, double *miss, double *room);

/* How many numbers of scratch a chain needs. */
size_t lw_chain_scratch(const Body *body, const Chain *chain);

/* Solves n_pos positions.
 *
 * angles: key postures (n_pos, ANGLES). start: the solved angles there, near which the answer stays (n_pos, n_unknown). goal: of each
 * equation (n_pos, n_equation). held_n: size of the held force before its growth (n_pos). most: steps at most. u: where to start from,
 * and the answer (n_pos, n_unknown). miss [m] (n_pos, n_equation), q (n_pos, n_q), steps (n_pos).
 */
void lw_chain(const Body *body, const Chain *chain, int n_pos, const double *angles, const double *start, const double *goal,
              const double *held_n, int most, double *u, double *miss, double *q, int32_t *steps, double *scratch);

#endif
