/* The shortest way of a line past a cylinder or a sphere. */
#ifndef LENGTHWISE_WRAP_H
#define LENGTHWISE_WRAP_H

/* Where a line from `from` to `to` touches and leaves a surface.
 *
 * place, frame: of the surface in the world, its axis is z. is_sphere: a sphere, else a cylinder without ends.
 * side: a point in the world beside which the line passes, or NULL; inside the surface it makes the line pass through it.
 * touch: the two points (6). Returns the length between them along the surface, or -1 where the line goes straight.
 */
double wrap(const double *from, const double *to, const double *place, const double *frame, double radius, int is_sphere,
            const double *side, double *touch);

#endif
