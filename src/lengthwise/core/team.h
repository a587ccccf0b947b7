/* Work that several hands share: the threads of a warp on a graphics processor, one on a processor, where all of this is nothing.
 *
 * All hands run the same code on the same numbers. A loop over what depends on nothing of each other is shared out; where one hand reads what
 * another wrote, they meet first. What is one hand's own (its variables, `own` room) is not seen by the others.
 */
#ifndef LENGTHWISE_TEAM_H
#define LENGTHWISE_TEAM_H

#include <stdint.h>

#ifndef HANDS
#define HANDS 1
#define HAND 0
static inline void meet(void) {}
static inline double most_of_all(double own) { return own; }
static inline int any_of_all(int own) { return own; }
static inline int64_t said_by_first(int64_t own) { return own; }
/* The place of the largest value; of equal ones the first. */
static inline int64_t best_of_all(double value, int64_t place) { return (void)value, place; }
/* Where this hand may put what it found, if it found anything, so that all that is found stands in order; counts it. */
static inline int64_t next_of_all(int found, int64_t *count) {
    int64_t at = *count;
    *count += found;
    return at;
}
/* The first from `from` on that is not zero; n if all are. */
static inline int64_t next_filled(const double *values, int64_t from, int64_t n) {
    while (from < n && values[from] == 0) from++;
    return from;
}
/* Ends a phase that began at `since`; a device that is asked to (core/device.py) counts its clocks. Returns when the next one begins. */
static inline int64_t phase_over(int phase, int64_t since) { return (void)phase, since; }
#endif

enum { NO_PHASE = -1, PHASE_MOVE, PHASE_SPEED, PHASE_BALANCE, PHASE_LOADS, PHASE_LIMITS, PHASE_SHARING, PHASE_HEADS, PHASES };

/* Each i below n, shared out among the hands. */
#define EACH(i, n) (int64_t i = HAND; i < (n); i += HANDS)
#define EACH_FROM(i, first, n) (int64_t i = (first) + HAND; i < (n); i += HANDS)

static inline void clear(double *values, int64_t n) {
    for EACH(i, n) values[i] = 0;
    meet();
}

static inline void copy(double *to, const double *from, int64_t n) {
    for EACH(i, n) to[i] = from[i];
    meet();
}

#endif
