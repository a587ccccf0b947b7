/* Where fibres and stretched tendon balance. */
#ifndef LENGTHWISE_FIBRES_H
#define LENGTHWISE_FIBRES_H

/* Fibre length [of optimal], cosine of pennation and force along the path [of maximal] of n_line lines at n_pos positions.
 *
 * path_m: (n_pos, n_path), of which the first n_line are taken. slack_m, optimal_m, pennation_rad: (n_line). activation, length, cosine,
 * force: (n_pos, n_line).
 */
void lw_settle(int n_pos, int n_line, int n_path, const double *path_m, const double *slack_m, const double *optimal_m,
               const double *pennation_rad, const double *activation, double *length, double *cosine, double *force);

/* Replaces n speeds of lengthening [optimal lengths/s] by the force of active fibres over what they hold. */
void fibres_moving(int n, double *speed);

#endif
