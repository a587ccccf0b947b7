/* What the mechanics needs to know of a posture. */
#ifndef LENGTHWISE_SURVEY_H
#define LENGTHWISE_SURVEY_H

#include "pose.h"

/* Mass (n_segment), and mass times place (n_segment, 3), of each segment with all that hangs on it; the body's centre of mass (3). */
void survey_gather(const Body *body, const Pose *pose, double *mass, double *moment, double *centre);

/* Generalised force that carries the weight of the segments (n_coord). */
void survey_weights(const Body *body, const Pose *pose, const double *mass, const double *moment, double *out);

#endif
