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

/* Lines that are searched for side by side; the gap grows by slope over below. */
typedef struct {
    double reach[LANES], slack[LANES], width[LANES], activation[LANES], low[LANES], high[LANES], x[LANES];
    double gap[LANES], going[LANES], slope[LANES], below[LANES];
    int32_t line[LANES];
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

static inline Curve passive_at(const Shapes *shapes, double fibre) {
    double stretch = fibre > 1 ? fibre - 1 : 0, within = stretch < PASSIVE_STRAIN ? stretch : PASSIVE_STRAIN;
    double grown = exponential(shapes->rate * within);
    Curve c = {(grown - 1) * shapes->shallow + (stretch - within) * shapes->rate * (1 + shapes->shallow), fibre > 1 ? shapes->rate * grown * shapes->shallow : 0};
    return c;
}

/* By how much the path of lane i is too short where its fibres pull like this. */
static inline void weigh(const Shapes *shapes, Lanes *at, int i, Curve pull, double cosine, double per_fibre) {
    double change = pull.rising * cosine * cosine + pull.force * (1 - cosine * cosine) * per_fibre, along = pull.force * cosine;
    at->gap[i] = at->x[i] + at->slack[i] * (1 + logarithm(1 + along * (1 / TENDON_SCALE)) * shapes->soft) - at->reach[i];
    at->below[i] = along + TENDON_SCALE;
    at->slope[i] = at->below[i] + at->slack[i] * shapes->soft * change;
}

static inline double fibre_of(const Lanes *at, int i) { return sqrt(at->x[i] * at->x[i] + at->width[i] * at->width[i]); }

static void look(const Shapes *shapes, Lanes *at) {
    for (int i = 0; i < LANES; i++) {
        double fibre = fibre_of(at, i), per_fibre, a = at->activation[i];
        Curve active = active_at(fibre, &per_fibre), passive = passive_at(shapes, fibre);
        Curve pull = {a * active.force + passive.force, a * active.rising + passive.rising};
        weigh(shapes, at, i, pull, at->x[i] * per_fibre, per_fibre);
    }
}

/* The same where no lane is active. */
static void look_at_rest(const Shapes *shapes, Lanes *at) {
    for (int i = 0; i < LANES; i++) {
        double fibre = fibre_of(at, i), per_fibre = 1 / fibre;
        weigh(shapes, at, i, passive_at(shapes, fibre), at->x[i] * per_fibre, per_fibre);
    }
}

/* One step of Newton's method inside the brackets. */
static void step(Lanes *at) {
    for (int i = 0; i < LANES; i++) {
        double x = at->x[i], low = at->gap[i] < 0 ? x : at->low[i], high = at->gap[i] > 0 ? x : at->high[i], least = 1e-6 * at->below[i];
        double next = x - at->gap[i] * at->below[i] / (at->slope[i] > least ? at->slope[i] : least);
        next = next > low && next < high ? next : 0.5 * (low + high);
        at->low[i] = low, at->high[i] = high;
        at->going[i] = fabs(next - x) > SETTLED ? at->going[i] - 1 : 0;
        at->x[i] = next;
    }
}

/* Where each search begins (count). */
static void begin(Chunk *chunk, int count, const double *activation) {
    for (int i = 0; i < count; i++) {
        double high = larger(chunk->reach[i] - chunk->slack[i], 0.03), low = clamped(high - RUPTURE * chunk->slack[i], 0.02, high - 0.005);
        chunk->low[i] = low, chunk->high[i] = high;
        chunk->x[i] = larger(high - 0.03 * chunk->slack[i] * activation[i], low);
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

double fibres_moving(double speed) {
    return clamped(MOVING[0] * arc_hyperbolic_sine(MOVING[1] * speed / FASTEST + MOVING[2]) + MOVING[3], 0, LENGTHENED_MOST);
}

void lw_settle(int n_pos, int n_line, int n_path, const double *path_m, const double *slack_m, const double *optimal_m,
               const double *pennation_rad, const double *activation, double *length, double *cosine, double *force) {
    Shapes shapes;
    Chunk chunk;
    shapes.tendon_shape = logarithm(1 / TENDON_SCALE + 1) / TENDON_STRAIN;
    shapes.soft = 1 / shapes.tendon_shape;
    shapes.shallow = 1 / (exponential(PASSIVE_SHAPE) - 1);
    shapes.rate = PASSIVE_SHAPE / PASSIVE_STRAIN;
    for (int first = 0; first < n_line; first += CHUNK) {
        int left = n_line - first, count = left < CHUNK ? left : CHUNK;
        for (int k = 0; k < count; k++) {
            chunk.slack[k] = slack_m[first + k] / optimal_m[first + k];
            chunk.width[k] = sine_of(pennation_rad[first + k]);
        }
        for (size_t i = 0; i < (size_t)n_pos; i++) {
            size_t to = i * (size_t)n_line + (size_t)first;
            for (int k = 0; k < count; k++) chunk.reach[k] = path_m[i * (size_t)n_path + (size_t)(first + k)] / optimal_m[first + k];
            begin(&chunk, count, activation + to);
            for (int active = 0; active < 2; active++) {
                line_up(&chunk, count, activation + to, active);
                search(&shapes, &chunk, activation + to, active);
            }
            finish(&shapes, &chunk, count, length + to, cosine + to, force + to);
        }
    }
}
