/* Where fibres and stretched tendon balance: the counterpart of body/muscles.py, where the curves have their sources. */
#include <stddef.h>

#include "vector.h"

#define SETTLED 1e-7 /* the step after it would be its square */
#define RUPTURE 0.3
#define SHORTEST 0.2
#define TENDON_SCALE 0.2
#define TENDON_STRAIN 0.049
#define PASSIVE_SHAPE 4.0
#define PASSIVE_STRAIN 0.6
#define MOST_STEPS 60

static const double B1[3] = {0.8150671134243542, 0.433004984392647, 0.1}, B2[3] = {1.055033428970575, 0.71677541339776, 1.0};
static const double B3[3] = {0.162384573599574, -0.029947116970696, 0.353553390593274}, B4[3] = {0.063303448465465, 0.200356847296188, 0.0};

/* What one line is made of, in optimal fibre lengths, and constants of the curves that every line shares. */
typedef struct {
    double reach, slack, width, activation;
    double tendon_shape, steep, rate;
} Line;

/* Active force of fibres of this length, and its slope. */
static double active(double length, double *slope) {
    double force = 0, rising = 0;
    for (int k = 0; k < 3; k++) {
        double width = B3[k] + B4[k] * length, u = (length - B2[k]) / width, bell = B1[k] * exp(-0.5 * u * u);
        force += bell;
        rising -= bell * u * (B3[k] + B4[k] * B2[k]) / (width * width);
    }
    *slope = rising;
    return force;
}

static double passive(const Line *line, double length, double *slope) {
    double stretch = fmax(length - 1, 0), within = fmin(stretch, PASSIVE_STRAIN);
    *slope = 0;
    if (stretch <= 0) return 0;
    double grown = exp(line->rate * within);
    *slope = line->rate * grown / line->steep;
    return (grown - 1) / line->steep + (stretch - within) * line->rate * (1 + 1 / line->steep);
}

/* By how much the path is too short where the fibres take x of it, and the slope of that. */
static double gap(const Line *line, double x, double *slope) {
    double fibre = sqrt(x * x + line->width * line->width), cosine = x / fibre, active_slope = 0, passive_slope, pull = 0;
    if (line->activation != 0) pull = line->activation * active(fibre, &active_slope);
    pull += passive(line, fibre, &passive_slope);
    double rising = (line->activation * active_slope + passive_slope) * cosine * cosine + pull * (1 - cosine * cosine) / fibre;
    double stretch = log1p(pull * cosine / TENDON_SCALE) / line->tendon_shape;
    *slope = 1 + line->slack / line->tendon_shape * rising / (pull * cosine + TENDON_SCALE);
    return x + line->slack * (1 + stretch) - line->reach;
}

/* The fibres' share of the path at which they and the tendon pull alike, by Newton's method inside a bracket. */
static double along_path(const Line *line) {
    double high = fmax(line->reach - line->slack, 0.03), low = clamped(high - RUPTURE * line->slack, 0.02, high - 0.005);
    if (line->activation == 0 && hypot(high, line->width) <= 1) return high;
    double x = fmax(high - 0.03 * line->slack * line->activation, low);
    for (int k = 0; k < MOST_STEPS; k++) {
        double slope, off = gap(line, x, &slope);
        if (off < 0) low = x;
        if (off > 0) high = x;
        double next = x - off / fmax(slope, 1e-6);
        if (!(next > low && next < high)) next = 0.5 * (low + high);
        double moved = fabs(next - x);
        x = next;
        if (moved <= SETTLED) break;
    }
    return x;
}

/* Fibre length [of optimal], cosine of pennation and force along the path [of maximal] of n_line lines at n_pos positions.
 *
 * path_m: (n_pos, n_path), of which the first n_line are taken. slack_m, optimal_m, pennation_rad: (n_line). activation, length, cosine,
 * force: (n_pos, n_line).
 */
void lw_settle(int n_pos, int n_line, int n_path, const double *path_m, const double *slack_m, const double *optimal_m,
               const double *pennation_rad, const double *activation, double *length, double *cosine, double *force) {
    Line line;
    line.tendon_shape = log(1 / TENDON_SCALE + 1) / TENDON_STRAIN;
    line.steep = expm1(PASSIVE_SHAPE);
    line.rate = PASSIVE_SHAPE / PASSIVE_STRAIN;
    for (int l = 0; l < n_line; l++) {
        line.width = sin(pennation_rad[l]);
        line.slack = slack_m[l] / optimal_m[l];
        for (size_t i = 0; i < (size_t)n_pos; i++) {
            size_t at = i * (size_t)n_line + (size_t)l;
            line.reach = path_m[i * (size_t)n_path + (size_t)l] / optimal_m[l];
            line.activation = activation[at];
            double x = along_path(&line), fibre = hypot(x, line.width), strain = (line.reach - x) / line.slack - 1;
            length[at] = fmax(fibre, SHORTEST);
            cosine[at] = x / fibre;
            force[at] = TENDON_SCALE * expm1(line.tendon_shape * clamped(strain, 0, RUPTURE));
        }
    }
}
