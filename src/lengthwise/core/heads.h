/* What a lift asks of each head: the counterpart of mechanics/measures.py, with its definitions. */
#ifndef LENGTHWISE_HEADS_H
#define LENGTHWISE_HEADS_H

#include "balance.h"

#define UPPER_THIRD (2.0 / 3) /* of a head's span */

/* What every line did at every position, (n_pos, n_line) each, and where the arms of each position lie (n_pos). */
typedef struct {
    const double *activation, *active, *passive, *relaxed;
    double *change; /* of path length by the joints that a coach counts (n_line, n_group) */
} Worked;

/* How many numbers all hands share, and how many each has of its own: see team.h. */
size_t heads_size(const Body *body, const Muscles *muscles, const Lift *lift);
size_t heads_own_size(const Body *body, const Lift *lift);

/* Change of path length of every line by each joint over all positions, into `change`. */
void heads_change(const Body *body, const Muscles *muscles, const Lift *lift, const Pattern *pattern, const Result *result,
                  const Posed *posed, double *change, double *scratch, double *own);

/* Curves, measures and effort of the heads; into `result`. */
void heads_solve(const Muscles *muscles, const Lift *lift, Result *result, const Worked *worked, double *scratch, double *own);

#endif
