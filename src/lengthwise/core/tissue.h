/* What ligaments, capsules and the reserve can carry about each coordinate: the counterpart of body/structures.py and
 * mechanics/reserve.py, with their sources. */
#ifndef LENGTHWISE_TISSUE_H
#define LENGTHWISE_TISSUE_H

#include "lift.h"

/* Least and largest generalised force of the passive structures in a posture [Nm] (n_coord) each; none at the pelvis. angle: room for the
 * clinical angles of the posture (ANGLES), which are left there. */
void tissue_bounds(const Body *body, const Muscles *muscles, const double *q, double *angle, double *lower, double *upper);

#endif
