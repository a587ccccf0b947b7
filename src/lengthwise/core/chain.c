/* Closed chains solved, every position by itself: its answer depends on nothing but its own start, goals and key posture. */
#include "chain.h"

#include <string.h>

#include "bowl.h"
#include "coordinates.h"
#include "pins.h"

#define PIN_WEIGHT 1000.0 /* pins are counted in millimetres inside the solution */
#define MET 1e-3
#define NEAR 1e-2 /* for a long search pins are met with this left: a slide along them lifts the miss above MET at every step */
#define SETTLED_DEG 1e-3
#define STILL_DEG 1e-6 /* where pins cannot be met and nothing moves any more */
#define GAINED 0.99 /* of the miss before: with more than that left the pull to the start yields to the pins, and a long search ends */
#define LONGEST_DEG 15.0
#define PATIENCE 25 /* steps after which only what is better than all before counts */
#define ROUNDS 3

/* `share` of one step from u, in place; angles at their bound do not leave it. Returns the longest turn [deg]. */
static double descend(const Chain *chain, const double *slope, const double *bend, const double *r, const double *away, double share,
                      double *u, double *step, double *hold, int32_t *stuck, double *room) {
    int nu = chain->n_unknown, more = 1;
    double longest = 0, turned_most = 0;
    memset(stuck, 0, (size_t)nu * sizeof(int32_t));
    for (int round = 0; round < ROUNDS && more; round++) {
        free_step(nu, chain->n_equation, slope, bend, r, away, stuck, step, hold, room);
        more = 0;
        for (int j = 0; j < nu && round < ROUNDS - 1; j++) {
            int leaves = (u[j] <= chain->low[j] && step[j] < 0) || (u[j] >= chain->high[j] && step[j] > 0);
            if (leaves && !stuck[j]) stuck[j] = more = 1;
        }
    }
    for (int j = 0; j < nu; j++) longest = larger(longest, fabs(step[j]));
    double part = share * smaller(1, LONGEST_DEG / larger(longest, 1e-9));
    for (int j = 0; j < nu; j++) {
        double to = clamped(u[j] + step[j] * part, chain->low[j], chain->high[j]);
        step[j] = to - u[j];
        turned_most = larger(turned_most, fabs(step[j]));
        u[j] = to;
    }
    return turned_most;
}

/* Slopes of the weighted pins (n_equation, n_unknown), in the posture that was looked at last. */
static void slopes(Pins *pins, double *out) {
    pins_slopes(pins, out);
    for (int k = 0; k < pins->chain->n_equation * pins->chain->n_unknown; k++) out[k] *= PIN_WEIGHT;
}

/* The pins where the solved angles are u [m], in millimetres (n_equation each), and the largest of these. */
static double weighted(Pins *pins, const double *u, double *miss, double *r) {
    double worst = 0;
    pins_miss(pins, u, miss);
    for (int e = 0; e < pins->chain->n_equation; e++) r[e] = PIN_WEIGHT * miss[e], worst = larger(worst, fabs(r[e]));
    return worst;
}

/* The best that a long search has met: a miss that is clearly less, those that count as met being alike; or pins met, and nearer to the
 * start. */
typedef struct {
    double *u; /* (n_unknown) */
    double missed, far, share;
} Best;

/* Whether u is better than all before, and is kept; else u is the best again, and steps from there are half as long. */
static int keeps_best(const double *start, int nu, double worst, double *u, Best *best) {
    double missed = larger(worst, NEAR), far = 0;
    for (int j = 0; j < nu; j++) far += (u[j] - start[j]) * (u[j] - start[j]);
    int better = missed < GAINED * best->missed || (missed == NEAR && far < best->far);
    memcpy(better ? best->u : u, better ? u : best->u, (size_t)nu * sizeof(double));
    best->share = better ? smaller(2 * best->share, 1) : 0.5 * best->share;
    if (better) best->missed = missed, best->far = far;
    return better;
}

int chain_close(Pins *pins, const double *start, int most, double *u, double *miss, double *room) {
    const Chain *chain = pins->chain;
    int ne = chain->n_equation, nu = chain->n_unknown, k;
    double *slope = room, *last = slope + ne * nu, *r = last + ne * nu, *hold = r + ne, *away = hold + ne;
    double *step = away + nu, *change = step + nu, *spare = change + nu, *bend = spare + nu, *inner = bend + nu * nu;
    Best best = {inner + free_step_size(nu, ne), INFINITY, INFINITY, 1};
    int32_t *stuck = (int32_t *)(best.u + nu);
    double eager = 1, missed = INFINITY, last_turn = INFINITY;
    for (int j = 0; j < nu; j++) {
        u[j] = clamped(u[j], chain->low[j], chain->high[j]);
        for (int i = 0; i < nu; i++) bend[j * nu + i] = i == j;
    }
    for (k = 0;; k++) {
        double worst = weighted(pins, u, miss, r);
        int gained = k < PATIENCE || keeps_best(start, nu, worst, u, &best);
        if (!gained) worst = weighted(pins, u, miss, r);
        if ((worst < MET && last_turn < SETTLED_DEG) || last_turn < STILL_DEG || k == most) return k;
        eager = worst > GAINED * missed && worst > MET ? 0.4 * eager : smaller(1.2 * eager, 1);
        slopes(pins, slope);
        for (int j = 0; j < nu && k > 0 && gained; j++) {
            change[j] = step[j];
            for (int e = 0; e < ne; e++) change[j] += (slope[e * nu + j] - last[e * nu + j]) * hold[e];
        }
        if (k > 0 && gained) learn_bend(nu, step, change, bend, spare);
        for (int j = 0; j < nu; j++) away[j] = (u[j] - start[j]) * eager;
        last_turn = descend(chain, slope, k > 0 ? bend : NULL, r, away, best.share, u, step, hold, stuck, inner);
        memcpy(last, slope, (size_t)(ne * nu) * sizeof(double));
        missed = worst;
    }
}

size_t chain_room(const Chain *chain) {
    size_t ne = (size_t)chain->n_equation, nu = (size_t)chain->n_unknown;
    return 2 * ne * nu + 2 * ne + nu * nu + 6 * nu + free_step_size(chain->n_unknown, chain->n_equation);
}

size_t lw_chain_size(void) { return sizeof(Chain); }

size_t lw_chain_scratch(const Body *body, const Chain *chain) { return pins_size(body, chain) + chain_room(chain); }

void lw_chain(const Body *body, const Chain *chain, int n_pos, const double *angles, const double *start, const double *goal,
              const double *held_n, int most, double *u, double *miss, double *q, int32_t *steps, double *scratch) {
    size_t nu = (size_t)chain->n_unknown, ne = (size_t)chain->n_equation, nq = (size_t)body->n_q;
    Pins pins = pins_in(body, chain, &scratch);
    for (size_t i = 0; i < (size_t)n_pos; i++) {
        pins_begin(&pins, angles + ANGLES * i, goal + ne * i, held_n[i]);
        steps[i] = chain_close(&pins, start + nu * i, most, u + nu * i, miss + ne * i, scratch);
        memcpy(q + nq * i, pins.q, nq * sizeof(double));
    }
}
