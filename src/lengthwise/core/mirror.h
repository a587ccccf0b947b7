/* The left of a body as the mirror image of its right. */
#ifndef LENGTHWISE_MIRROR_H
#define LENGTHWISE_MIRROR_H

#include "body.h"

/* For every segment the one that is its mirror image and comes first, or itself (n_segment). Returns 0 where the sides differ in any bit. */
int mirror_segments(const Body *body, int32_t *seen);

#endif
