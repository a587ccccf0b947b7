/* Velocities that take one posture into another, as MuJoCo's mj_differentiatePos. */
#ifndef LENGTHWISE_TURNS_H
#define LENGTHWISE_TURNS_H

#include "body.h"

/* from, to: (n_pos, n_q). out: velocities over unit time (n_pos, n_coord). */
void lw_turns(const Body *body, int n_pos, const double *from, const double *to, double *out);

#endif
