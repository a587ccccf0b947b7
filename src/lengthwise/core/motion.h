/* How a body moves through a lift: the counterpart of lifts/chain.py and lifts/motion.py. */
#ifndef LENGTHWISE_MOTION_H
#define LENGTHWISE_MOTION_H

#include "lift.h"

/* How many numbers all hands share, and how many each has of its own: see team.h. */
size_t motion_size(const Body *body, const Lift *lift);
size_t motion_own_size(const Body *body, const Lift *lift);

/* Coordinates, rates and solved angles at every position, the law of the resistance, and the largest miss of a pin [m]; into `result`. */
void motion_solve(const Body *body, Lift *lift, Result *result, double *scratch, double *own);

#endif
