/* Where fibres and stretched tendon balance: the counterpart of body/muscles.py, where the curves have their sources.
 *
 * Lines are taken LANES at a time in loops without branches, so that the compiler can work on several at once.
 */
#include "fibres.h"

#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include "functions.h"
#include "vector.h"

#if HANDS == 1
#define LANES 8
#else
#define LANES 1 /* the hands are the lanes */
#endif
#define SETTLED 1e-7 /* the step after it would be its square */
#define RUPTURE 0.3
#define SHORTEST 0.2
#define TENDON_SCALE 0.2
#define TENDON_STRAIN 0.049
#define PASSIVE_SHAPE 4.0
#define PASSIVE_STRAIN 0.6
#define MOST_STEPS 60
#define FASTEST 7.0
#define LENGTHENED_MOST 1.2

static const double B1[3] = {0.8150671134243542, 0.433004984392647, 0.1}, B2[3] = {1.055033428970575, 0.71677541339776, 1.0};
static const double B3[3] = {0.162384573599574, -0.029947116970696, 0.353553390593274}, B4[3] = {0.063303448465465, 0.200356847296188, 0.0};
static const double MOVING[4] = {-0.3211346127989808, -8.149, -0.374, 0.8825327733249912};

typedef struct {
    double reach[LANES], slack[LANES], width[LANES], activation[LANES]; /* in optimal fibre lengths */
    double low[LANES], high[LANES], x[LANES], gap[LANES], going[LANES], slope[LANES], below[LANES]; /* the gap grows by slope over below */
    double tendon_shape, soft, shallow, rate; /* soft, shallow: 1 over the shape of the tendon, 1 over the rise of the passive curve */
} Lanes;

typedef struct {
    double force, rising; /* at some fibre length, and its slope */
} Curve;

/* Fully active fibres; the three bells and `per_fibre`, 1 over the length, share one division. */
static inline Curve active_at(double fibre, double *per_fibre) {
    double first = B3[0] + B4[0] * fibre, second = B3[1] + B4[1] * fibre, both = first * second, inverse = 1 / (both * fibre);
    double thin[3] = {inverse * second * fibre, inverse * first * fibre, 1 / B3[2]};
    Curve c = {0, 0};
    *per_fibre = inverse * both;
    for (int k = 0; k < 3; k++) {
        double u = (fibre - B2[k]) * thin[k], exponent = -0.5 * u * u;
        double bell = B1[k] * exponential(exponent > -700 ? exponent : -700);
        c.force += bell;
        c.rising -= bell * u * (B3[k] + B4[k] * B2[k]) * (thin[k] * thin[k]);
    }
    return c;
}

static inline Curve passive_at(const Lanes *at, double fibre) {
    double stretch = fibre > 1 ? fibre - 1 : 0, within = stretch < PASSIVE_STRAIN ? stretch : PASSIVE_STRAIN;
    double grown = exponential(at->rate * within);
    Curve c = {(grown - 1) * at->shallow + (stretch - within) * at->rate * (1 + at->shallow), fibre > 1 ? at->rate * grown * at->shallow : 0};
    return c;
}

/* By how much the path of lane i is too short where its fibres pull like this. */
static inline void weigh(Lanes *at, int i, Curve pull, double cosine, double per_fibre) {
    double change = pull.rising * cosine * cosine + pull.force * (1 - cosine * cosine) * per_fibre, along = pull.force * cosine;
    at->gap[i] = at->x[i] + at->slack[i] * (1 + logarithm(1 + along * (1 / TENDON_SCALE)) * at->soft) - at->reach[i];
    at->below[i] = along + TENDON_SCALE;
    at->slope[i] = at->below[i] + at->slack[i] * at->soft * change;
}

static inline double fibre_of(const Lanes *at, int i) { return sqrt(at->x[i] * at->x[i] + at->width[i] * at->width[i]); }

static void look(Lanes *at) {
    for (int i = 0; i < LANES; i++) {
        double fibre = fibre_of(at, i), per_fibre, a = at->activation[i];
        Curve active = active_at(fibre, &per_fibre), passive = passive_at(at, fibre);
        Curve pull = {a * active.force + passive.force, a * active.rising + passive.rising};
        weigh(at, i, pull, at->x[i] * per_fibre, per_fibre);
    }
}

/* The same where no lane is active. */
static void look_at_rest(Lanes *at) {
    for (int i = 0; i < LANES; i++) {
        double fibre = fibre_of(at, i), per_fibre = 1 / fibre;
        weigh(at, i, passive_at(at, fibre), at->x[i] * per_fibre, per_fibre);
    }
}

/* One step of Newton's method inside the brackets; says whether any lane goes on. */
static int step(Lanes *at) {
    double most = 0;
    for (int i = 0; i < LANES; i++) {
        double x = at->x[i], low = at->gap[i] < 0 ? x : at->low[i], high = at->gap[i] > 0 ? x : at->high[i], least = 1e-6 * at->below[i];
        double next = x - at->gap[i] * at->below[i] / (at->slope[i] > least ? at->slope[i] : least);
        next = next > low && next < high ? next : 0.5 * (low + high);
        double moved = fabs(next - x);
        at->low[i] = low, at->high[i] = high;
        at->x[i] = at->going[i] > 0 ? next : x;
        at->going[i] = moved > SETTLED ? at->going[i] : 0;
        most = most > at->going[i] ? most : at->going[i];
    }
    return most > 0;
}

/* Where each search begins; resting fibres that are not stretched are there already. Says whether any lane goes on. */
static int begin(Lanes *at) {
    double most = 0;
    for (int i = 0; i < LANES; i++) {
        double high = larger(at->reach[i] - at->slack[i], 0.03), low = clamped(high - RUPTURE * at->slack[i], 0.02, high - 0.005);
        int rests = at->activation[i] == 0 && high * high + at->width[i] * at->width[i] <= 1;
        at->low[i] = low, at->high[i] = high;
        at->x[i] = rests ? high : larger(high - 0.03 * at->slack[i] * at->activation[i], low);
        at->going[i] = !rests;
        most = larger(most, at->going[i]);
    }
    return most > 0;
}

static int is_active(const Lanes *at) {
    double most = 0;
    for (int i = 0; i < LANES; i++) most = larger(most, at->activation[i]);
    return most > 0;
}

static void finish(const Lanes *at, int lane, double *length, double *cosine, double *force) {
    double x = at->x[lane], fibre = sqrt(x * x + at->width[lane] * at->width[lane]);
    double strain = clamped((at->reach[lane] - x) / at->slack[lane] - 1, 0, RUPTURE);
    *length = larger(fibre, SHORTEST);
    *cosine = x / fibre;
    *force = TENDON_SCALE * (exponential(at->tendon_shape * strain) - 1);
}

double fibres_moving(double speed) {
    return clamped(MOVING[0] * arc_hyperbolic_sine(MOVING[1] * speed / FASTEST + MOVING[2]) + MOVING[3], 0, LENGTHENED_MOST);
}

void lw_settle(int n_pos, int n_line, int n_path, const double *path_m, const double *slack_m, const double *optimal_m,
               const double *pennation_rad, const double *activation, double *length, double *cosine, double *force) {
    Lanes at;
    at.tendon_shape = logarithm(1 / TENDON_SCALE + 1) / TENDON_STRAIN;
    at.soft = 1 / at.tendon_shape;
    at.shallow = 1 / (exponential(PASSIVE_SHAPE) - 1);
    at.rate = PASSIVE_SHAPE / PASSIVE_STRAIN;
    for (int first = 0; first < n_line; first += LANES) {
        int left = n_line - first, count = left < LANES ? left : LANES;
        size_t line[LANES]; /* lanes beyond the last line repeat it */
        for (int k = 0; k < LANES; k++) {
            line[k] = (size_t)(first + (k < count ? k : count - 1));
            at.slack[k] = slack_m[line[k]] / optimal_m[line[k]];
            at.width[k] = sine_of(pennation_rad[line[k]]);
        }
        for (size_t i = 0; i < (size_t)n_pos; i++) {
            for (int k = 0; k < LANES; k++) {
                at.reach[k] = path_m[i * (size_t)n_path + line[k]] / optimal_m[line[k]];
                at.activation[k] = activation[i * (size_t)n_line + line[k]];
            }
            int going = begin(&at), active = is_active(&at);
            for (int k = 0; k < MOST_STEPS && going; k++) {
                if (active) look(&at);
                else look_at_rest(&at);
                going = step(&at);
            }
            for (int k = 0; k < count; k++) {
                size_t to = i * (size_t)n_line + line[k];
                finish(&at, k, length + to, cosine + to, force + to);
            }
        }
    }
}
