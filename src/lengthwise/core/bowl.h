/* Steps of a search down a curved bowl along some conditions, and how the bowl bends. */
#ifndef LENGTHWISE_BOWL_H
#define LENGTHWISE_BOWL_H

#include <stddef.h>
#include <stdint.h>

/* The step that meets ne conditions and otherwise leads down the bowl `bend` (nu, nu; NULL: a round one) towards the start; variables in
 * `stuck` (nu) stay.
 *
 * slope: of the conditions (ne, nu). r: by how much they are missed (ne). away: from the start (nu). Outputs: step (nu); hold: the
 * conditions' multipliers (ne). room: free_step_size numbers. */
size_t free_step_size(int nu, int ne);
void free_step(int nu, int ne, const double *slope, const double *bend, const double *r, const double *away, const int32_t *stuck, double *step,
               double *hold, double *room);

/* Learns from the last step (nu) how the bowl bends. change: of the bowl's slope over that step; it is overwritten. room: nu numbers. */
void learn_bend(int nu, const double *step, double *change, double *bend, double *room);

#endif
