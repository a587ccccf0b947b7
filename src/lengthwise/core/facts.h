/* What growth is counted from: the counterpart of mechanics/sides.py and grading/facts.py, with their definitions and the order of their sums. */
#ifndef LENGTHWISE_FACTS_H
#define LENGTHWISE_FACTS_H

#include "lift.h"

/* How many numbers each hand has of its own: see team.h. */
size_t facts_own_size(const Lift *lift);

/* Facts of each head of one side, as it is trained: its measures, span reached, loaded span, peak activation, drive at length, shortening, length
 * at peak, long-half load, drive; into `result`. first: where the lines of each head begin (n_head + 1). */
void facts_solve(const Muscles *muscles, const Lift *lift, Result *result, const int32_t *first, double *own);

#endif
