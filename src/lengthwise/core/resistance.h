/* Which way, and how hard per kilogram, a resistance pulls: the counterpart of lifts/resistance.py and lifts/held.py. */
#ifndef LENGTHWISE_RESISTANCE_H
#define LENGTHWISE_RESISTANCE_H

#include "lift.h"

/* Whether a resistance must know where its landmarks go over the whole lifting phase. */
int resistance_needs_way(const Lift *lift);

/* Its law (LAW + n_load) from the places of the loaded landmarks, and of those on a lever's axis, over the whole lifting phase, which
 * lie together: (n_way, 2, n_load, 3). */
void resistance_law(const Lift *lift, int n_way, const double *way, double *law);

/* The force on each loaded landmark at 1 kg [N] (n_load, 3), and for what is guided the way it is pushed (n_load, 3), at one phase.
 * at: landmarks and axes (2, n_load, 3). Returns the force along the rail at 1 kg [N]; 0 where nothing is guided. */
double resistance_at(const Lift *lift, const double *law, double phase, const double *at, double *force, double *rail);

/* Fills in how a chain's held load pulls, from the law of the way it is thought to go. from, about: (n_held, 3) each. Returns its size
 * before growth [N], but for a lever's cam. */
double resistance_held(const Lift *lift, const double *law, Chain *chain, double *from, double *about);

/* A lever's cam at a phase. */
double resistance_cam(const Lift *lift, double phase);

#endif
