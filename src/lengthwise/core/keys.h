/* Values given at the keys of a lift, joined by cubics that never overshoot: the counterpart of lifts/keys.py, with its sources. */
#ifndef LENGTHWISE_KEYS_H
#define LENGTHWISE_KEYS_H

/* Slopes of n columns of values (n_key, n) at the knots (n_key), into slope (n_key, n). */
void keys_slopes(int n_key, int n, const double *knot, const double *value, double *slope);

/* The columns at one phase (n). */
void keys_at(int n_key, int n, const double *knot, const double *value, const double *slope, double phase, double *out);

#endif
