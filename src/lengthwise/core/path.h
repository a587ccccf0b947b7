/* How long muscle lines are in a posture, and with what arms they pull. */
#ifndef LENGTHWISE_PATH_H
#define LENGTHWISE_PATH_H

#include "pose.h"

/* Lengths of the first n_line lines [m] (n_line). */
void path_lengths(const Body *body, const Pose *pose, int n_line, double *length);

/* Lengths (n_line) and their slopes in every velocity [m/rad or 1], (n_line, n_coord); the pose needs its axes. */
void path_arms(const Body *body, const Pose *pose, int n_line, double *length, double *arms);

/* Length of one line; adds its slopes in every velocity to `slopes` (n_coord), unless that is NULL. */
double path_line(const Body *body, const Pose *pose, int line, double *slopes);

#endif
