/* Where fibres and stretched tendon balance. */
#ifndef LENGTHWISE_FIBRES_H
#define LENGTHWISE_FIBRES_H

/* Fibre length [of optimal], cosine of pennation and force along the path [of maximal] of n_line lines at n_pos positions.
 *
 * path_m: (n_pos, n_path), of which the first n_line are taken. slack_m, optimal_m, width (sine of pennation at optimal length): (n_line). activation, first (where to
 * search from: fibre length along the path; or NULL), length, cosine, force: (n_pos, n_line).
 */
void lw_settle(int n_pos, int n_line, int n_path, const double *path_m, const double *slack_m, const double *optimal_m,
               const double *width, const double *activation, const double *first, double *length, double *cosine, double *force);

/* Where to search from: how long fully active fibres are along the path, at BEGINS amounts of what the path leaves to them with their tendon
 * slack [all of optimal]. fibres_first: between these, in `begin` (BEGINS), for a path that leaves `room`. */
enum { BEGINS = 48 };
#define FIRST_ROOM 0.2
#define ROOM_STEP 0.05
double fibres_first(const double *begin, double room);

/* About how much of its stretch at full activation a tendon has at some activation. */
double fibres_eased(double activation);

/* Replaces n speeds of lengthening [optimal lengths/s] by the force of active fibres over what they hold. */
void fibres_moving(int n, double *speed);

#endif
