/* Where fibres and stretched tendon balance: the counterpart of body/muscles.py, where the curves have their sources.
 *
 * Lines are taken LANES at a time in loops without branches, so that the compiler can work on several at once; a lane whose line is done takes
 * the next one.
 */
#include "fibres.h"

#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include "functions.h"
#include "vector.h"

#if HANDS == 1
enum { LANES = 16, CHUNK = 96 };
#else
enum { LANES = 1, CHUNK = 1 }; /* the hands are the lanes */
#endif
enum { BELLS = 3 };
#define SETTLED 3e-5 /* the step after it would be its third power */
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

/* What is the same for all lines: 1 over the shape of the tendon, 1 over the rise of the passive curve. */
typedef struct {
    double tendon_shape, soft, shallow, rate;
} Shapes;

/* Lines one after the other, in optimal fibre lengths. */
typedef struct {
    double reach[CHUNK], slack[CHUNK], width[CHUNK], low[CHUNK], high[CHUNK], x[CHUNK];
    int32_t waiting[CHUNK]; /* lines whose search has not begun */
    int count;              /* of these */
} Chunk;

/* Lines that are searched for side by side; the gap grows by slope over below, and that by bent over the square of below. */
typedef struct {
    double reach[LANES], slack[LANES], width[LANES], activation[LANES], low[LANES], high[LANES], x[LANES];
    double gap[LANES], going[LANES], slope[LANES], below[LANES], bent[LANES];
    double per_fibre[LANES], stretch[LANES], bell[BELLS][LANES], aside[BELLS][LANES], thin[BELLS][LANES], grown[LANES]; /* while they are looked at */
    int32_t line[LANES];
} Lanes;

/* 1 over the fibre length, and where it lies on the curves: functions are drawn in loops of their own, since many short ones can be under
 * way at once. The three bells share one division. */
static inline void place_fibres(const Shapes *shapes, Lanes *at) {
    for (int i = 0; i < LANES; i++) {
        double fibre = sqrt(at->x[i] * at->x[i] + at->width[i] * at->width[i]), stretch = fibre > 1 ? fibre - 1 : 0;
        double first = B3[0] + B4[0] * fibre, second = B3[1] + B4[1] * fibre, both = first * second, inverse = 1 / (both * fibre);
        double thin[BELLS] = {inverse * second * fibre, inverse * first * fibre, 1 / B3[2]};
        at->per_fibre[i] = inverse * both, at->stretch[i] = stretch;
        at->grown[i] = shapes->rate * (stretch < PASSIVE_STRAIN ? stretch : PASSIVE_STRAIN);
        for (int k = 0; k < BELLS; k++) {
            double u = (fibre - B2[k]) * thin[k], exponent = -0.5 * u * u;
            at->bell[k][i] = exponent > -700 ? exponent : -700;
            at->aside[k][i] = u, at->thin[k][i] = thin[k];
        }
    }
}

/* The same where no lane is active. */
static inline void place_at_rest(const Shapes *shapes, Lanes *at) {
    for (int i = 0; i < LANES; i++) {
        double fibre = sqrt(at->x[i] * at->x[i] + at->width[i] * at->width[i]), stretch = fibre > 1 ? fibre - 1 : 0;
        at->per_fibre[i] = 1 / fibre, at->stretch[i] = stretch;
        at->grown[i] = shapes->rate * (stretch < PASSIVE_STRAIN ? stretch : PASSIVE_STRAIN);
    }
}

/* By how much the path of each lane is too short; `active`: whether its fibres do more than be stretched. */
static inline void weigh(const Shapes *shapes, Lanes *at, int active) {
    double lengthened[LANES];
    for (int i = 0; i < LANES; i++) {
        double grown = at->grown[i], stretch = at->stretch[i], within = stretch < PASSIVE_STRAIN ? stretch : PASSIVE_STRAIN;
        double force = (grown - 1) * shapes->shallow + (stretch - within) * shapes->rate * (1 + shapes->shallow);
        double rising = stretch > 0 ? shapes->rate * grown * shapes->shallow : 0, curving = stretch < PASSIVE_STRAIN ? shapes->rate * rising : 0;
        double bells = 0, sloping = 0, bending = 0;
        for (int k = 0; k < BELLS && active; k++) {
            double bell = at->bell[k][i], thin = at->thin[k][i], aside = at->aside[k][i], steep = (B3[k] + B4[k] * B2[k]) * thin * thin;
            bells += bell;
            sloping -= bell * aside * steep;
            bending += bell * steep * ((aside * aside - 1) * steep + 2 * aside * B4[k] * thin);
        }
        if (active) {
            force = at->activation[i] * bells + force, rising = at->activation[i] * sloping + rising;
            curving = at->activation[i] * bending + curving;
        }
        double inverse = at->per_fibre[i], cosine = at->x[i] * inverse, along = force * cosine, across = (1 - cosine * cosine) * inverse;
        double below = along + TENDON_SCALE, change = rising * cosine * cosine + force * across, soft = at->slack[i] * shapes->soft;
        double turning = curving * cosine * cosine * cosine + 3 * cosine * across * (rising - force * inverse);
        at->below[i] = below;
        at->slope[i] = below + soft * change;
        at->bent[i] = soft * (turning * below - change * change);
        lengthened[i] = 1 + along * (1 / TENDON_SCALE);
    }
    for (int i = 0; i < LANES; i++) lengthened[i] = logarithm(lengthened[i]);
    for (int i = 0; i < LANES; i++) at->gap[i] = at->x[i] + at->slack[i] * (1 + lengthened[i] * shapes->soft) - at->reach[i];
}

static void look(const Shapes *shapes, Lanes *at) {
    place_fibres(shapes, at);
    for (int k = 0; k < BELLS; k++)
        for (int i = 0; i < LANES; i++) at->bell[k][i] = B1[k] * exponential(at->bell[k][i]);
    for (int i = 0; i < LANES; i++) at->grown[i] = exponential(at->grown[i]);
    weigh(shapes, at, 1);
}

static void look_at_rest(const Shapes *shapes, Lanes *at) {
    place_at_rest(shapes, at);
    for (int i = 0; i < LANES; i++) at->grown[i] = exponential(at->grown[i]);
    weigh(shapes, at, 0);
}

/* One step of Halley's method inside the brackets; at most twice as long as Newton's. */
static void step(Lanes *at) {
    for (int i = 0; i < LANES; i++) {
        double x = at->x[i], low = at->gap[i] < 0 ? x : at->low[i], high = at->gap[i] > 0 ? x : at->high[i], least = 1e-6 * at->below[i];
        double slope = at->slope[i] > least ? at->slope[i] : least, square = slope * slope, over = 2 * square - at->gap[i] * at->bent[i];
        double next = x - 2 * at->gap[i] * at->below[i] * slope / (over > square ? over : square);
        next = next > low && next < high ? next : 0.5 * (low + high);
        at->low[i] = low, at->high[i] = high;
        at->going[i] = fabs(next - x) > SETTLED ? at->going[i] - 1 : 0;
        at->x[i] = next;
    }
}

/* Where each search begins (count): where it is told to, if anywhere. */
static void begin(Chunk *chunk, int count, const double *activation, const double *first) {
    for (int i = 0; i < count; i++) {
        double high = larger(chunk->reach[i] - chunk->slack[i], 0.03), low = clamped(high - RUPTURE * chunk->slack[i], 0.02, high - 0.005);
        chunk->low[i] = low, chunk->high[i] = high;
        chunk->x[i] = first ? clamped(first[i], low, high) : larger(high - 0.03 * chunk->slack[i] * activation[i], low);
    }
}

/* Which lines are to be searched for: active ones, or those at rest; where resting fibres are not stretched they are there already. */
static void line_up(Chunk *chunk, int count, const double *activation, int active) {
    chunk->count = 0;
    for (int i = 0; i < count; i++) {
        double high = chunk->high[i];
        int here = activation[i] == 0 && high * high + chunk->width[i] * chunk->width[i] <= 1;
        if (here) chunk->x[i] = high;
        else if ((activation[i] != 0) == active) chunk->waiting[chunk->count++] = i;
    }
}

/* The line `from` in a lane. */
static void take_lane(const Chunk *chunk, int from, const double *activation, Lanes *at, int lane) {
    at->reach[lane] = chunk->reach[from], at->slack[lane] = chunk->slack[from], at->width[lane] = chunk->width[from];
    at->low[lane] = chunk->low[from], at->high[lane] = chunk->high[from], at->x[lane] = chunk->x[from];
    at->activation[lane] = activation[from], at->line[lane] = from, at->going[lane] = MOST_STEPS;
}

/* Searches for all lines that wait. */
static void search(const Shapes *shapes, Chunk *chunk, const double *activation, int active) {
    Lanes at;
    int next = 0, busy = 0;
    if (chunk->count == 0) return;
    for (int k = 0; k < LANES; k++) { /* lanes beyond the last line repeat it, and leave nothing */
        take_lane(chunk, chunk->waiting[next < chunk->count ? next : chunk->count - 1], activation, &at, k);
        if (next++ < chunk->count) busy++;
        else at.line[k] = -1;
    }
    while (busy) {
        if (active) look(shapes, &at);
        else look_at_rest(shapes, &at);
        step(&at);
        for (int k = 0; k < LANES; k++) {
            if (at.going[k] > 0 || at.line[k] < 0) continue;
            chunk->x[at.line[k]] = at.x[k];
            if (next < chunk->count) take_lane(chunk, chunk->waiting[next++], activation, &at, k);
            else at.line[k] = -1, busy--;
        }
    }
}

static void finish(const Shapes *shapes, const Chunk *chunk, int count, double *length, double *cosine, double *force) {
    for (int i = 0; i < count; i++) {
        double x = chunk->x[i], fibre = sqrt(x * x + chunk->width[i] * chunk->width[i]);
        double strain = clamped((chunk->reach[i] - x) / chunk->slack[i] - 1, 0, RUPTURE);
        length[i] = larger(fibre, SHORTEST);
        cosine[i] = x / fibre;
        force[i] = TENDON_SCALE * (exponential(shapes->tendon_shape * strain) - 1);
    }
}

double fibres_first(const double *begin, double room) {
    double at = (room - FIRST_ROOM) / ROOM_STEP;
    int k = at < 1 ? 0 : at >= BEGINS - 3 ? BEGINS - 4 : (int)at - 1;
    double t = at - k, a = t - 1, b = t - 2, c = t - 3;
    return (b * c * (t * begin[k + 1] * 0.5 - a * begin[k] * (1.0 / 6))) + (t * a * (c * begin[k + 2] * -0.5 + b * begin[k + 3] * (1.0 / 6)));
}

double fibres_eased(double activation) { return logarithm(1 + activation / TENDON_SCALE) / logarithm(1 + 1 / TENDON_SCALE); }

void fibres_moving(int n, double *speed) {
    for (int i = 0; i < n; i++)
        speed[i] = clamped(MOVING[0] * arc_hyperbolic_sine(MOVING[1] * speed[i] / FASTEST + MOVING[2]) + MOVING[3], 0, LENGTHENED_MOST);
}

void lw_settle(int n_pos, int n_line, int n_path, const double *path_m, const double *slack_m, const double *optimal_m,
               const double *width, const double *activation, const double *first, double *length, double *cosine, double *force) {
    Shapes shapes;
    Chunk chunk;
    shapes.tendon_shape = logarithm(1 / TENDON_SCALE + 1) / TENDON_STRAIN;
    shapes.soft = 1 / shapes.tendon_shape;
    shapes.shallow = 1 / (exponential(PASSIVE_SHAPE) - 1);
    shapes.rate = PASSIVE_SHAPE / PASSIVE_STRAIN;
    for (int from = 0; from < n_line; from += CHUNK) {
        int left = n_line - from, count = left < CHUNK ? left : CHUNK;
        for (int k = 0; k < count; k++) {
            chunk.slack[k] = slack_m[from + k] / optimal_m[from + k];
            chunk.width[k] = width[from + k];
        }
        for (size_t i = 0; i < (size_t)n_pos; i++) {
            size_t to = i * (size_t)n_line + (size_t)from;
            for (int k = 0; k < count; k++) chunk.reach[k] = path_m[i * (size_t)n_path + (size_t)(from + k)] / optimal_m[from + k];
            begin(&chunk, count, activation + to, first ? first + to : NULL);
            for (int active = 0; active < 2; active++) {
                line_up(&chunk, count, activation + to, active);
                search(&shapes, &chunk, activation + to, active);
            }
            finish(&shapes, &chunk, count, length + to, cosine + to, force + to);
        }
    }
}
