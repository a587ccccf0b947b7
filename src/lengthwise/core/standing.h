/* Whether a basis still serves where columns and rest have changed, without its inverse. */
#ifndef LENGTHWISE_STANDING_H
#define LENGTHWISE_STANDING_H

#include "simplex.h"

/* Whether the basic variables lie within their bounds, clear of FAR, while all others rest where they are. Only the matrix that the search
 * works on and its scratch are overwritten. 0 also where the basis is singular. */
int simplex_stands(const Programme *programme, Simplex *simplex);

#endif
