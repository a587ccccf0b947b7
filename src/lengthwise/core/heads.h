/* What a lift asks of each head: the counterpart of mechanics/measures.py, with its definitions. */
#ifndef LENGTHWISE_HEADS_H
#define LENGTHWISE_HEADS_H

#include "balance.h"

/* What every line did at every position, (n_pos, n_line) each, and where the arms of each position lie (n_pos). */
typedef struct {
    const double *activation, *active, *passive, *relaxed;
    double *change; /* of path length by the joints that a coach counts (n_line, n_group) */
} Worked;

size_t heads_size(const Muscles *muscles, const Lift *lift);

/* Adds position i's arms to the change of path length by each joint. */
void heads_change(const Body *body, const Muscles *muscles, const Lift *lift, const Pattern *pattern, const Result *result, int i,
                  const Posed *posed, double *change, double *scratch);

/* Curves, measures and effort of the heads; into `result`. */
void heads_solve(const Muscles *muscles, const Lift *lift, Result *result, const Worked *worked, double *scratch);

#endif
