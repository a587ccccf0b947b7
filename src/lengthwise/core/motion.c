/* Every position is closed by itself, set out from the lift's own nine phases, so that its answer depends on nothing else. */
#include "motion.h"

#include <math.h>
#include <string.h>

#include "columns.h"
#include "coordinates.h"
#include "keys.h"
#include "pose.h"
#include "resistance.h"
#include "turns.h"

#define MOST_STEPS 150
#define HAIR 0.01 /* part of the lifting phase over which a position's speed is taken */
#define TOLERANCE_M 0.003
#define LAW_ROUNDS 3
#define SAME 1e-12
enum { WAY = 9, WHOLE = 41 };

typedef struct {
    const Body *body;
    Lift *lift;
    double *row_slope, *goal_slope;      /* of the keys */
    double *row, *goal, *start, *miss, *spare; /* of one position */
    double *way_solved, *way_q, *way, *law; /* of the nine phases, or of the whole way; the law of the held load */
    double *from, *about, *early, *late, *chain_room, *pose_room;
    double held_n;
} Motion;

static double way_phase(int w) { return w / (double)(WAY - 1); }

/* A band is counted by its pull where the asked part takes it furthest; chains hang from the same height whatever part is asked. */
static double whole_phase(const Lift *lift, int w) {
    double begins = lift->resistance == RESIST_WEIGHT ? 0 : lift->begins, ends = lift->resistance == RESIST_WEIGHT ? 1 : lift->ends;
    return begins + (ends - begins) * w / (WHOLE - 1);
}

static Motion motion_in(const Body *body, Lift *lift, double **scratch) {
    int64_t nu = lift->chain.n_unknown, ne = lift->chain.n_equation, nq = body->n_q, keys = lift->n_key;
    Motion motion = {.body = body, .lift = lift};
    struct { double **place; int64_t n; } parts[] = {
        {&motion.row_slope, keys * ANGLES}, {&motion.goal_slope, keys * ne}, {&motion.row, ANGLES}, {&motion.goal, ne}, {&motion.start, nu},
        {&motion.miss, ne}, {&motion.spare, nu}, {&motion.way_solved, WAY * nu}, {&motion.way_q, WAY * nq}, {&motion.way, WHOLE * 6 * lift->n_load},
        {&motion.law, LAW + lift->n_load}, {&motion.from, 3 * lift->chain.n_held}, {&motion.about, 3 * lift->chain.n_held},
        {&motion.early, nq}, {&motion.late, nq}, {&motion.pose_room, (int64_t)pose_size(body)},
        {&motion.chain_room, (int64_t)lw_chain_scratch(body, &lift->chain)},
    };
    for (size_t k = 0; k < sizeof parts / sizeof *parts; k++) *parts[k].place = take_numbers(scratch, parts[k].n);
    return motion;
}

size_t motion_size(const Body *body, const Lift *lift) {
    double first, *end = &first;
    Lift copy = *lift;
    motion_in(body, &copy, &end);
    return (size_t)(end - &first);
}

/* The key posture at a phase, and the angles there that will be solved. */
static void key_posture(Motion *motion, double phase) {
    const Lift *lift = motion->lift;
    keys_at(lift->n_key, ANGLES, lift->knot, lift->key_row, motion->row_slope, phase, motion->row);
    keys_at(lift->n_key, lift->chain.n_equation, lift->knot, lift->key_goal, motion->goal_slope, phase, motion->goal);
    for (int j = 0; j < lift->chain.n_unknown; j++) {
        int32_t slot = lift->chain.slot[2 * j];
        motion->start[j] = slot < 0 ? 0 : motion->row[slot];
    }
}

static int all_finite(const double *values, int n) {
    for (int k = 0; k < n; k++)
        if (!isfinite(values[k])) return 0;
    return 1;
}

static void posture(const Motion *motion, double *q) {
    coordinates(motion->body, motion->row, motion->lift->chain.alike, motion->lift->chain.flat, NULL, q);
}

/* The posture at a phase from the solved angles u, or from the key posture where u is not known; leaves the answer in u and q. Returns
 * the largest miss of a pin [m]. */
static double close_at(Motion *motion, double phase, int known, double *u, double *q) {
    Chain *chain = &motion->lift->chain;
    int32_t steps;
    double worst = 0, held = motion->held_n;
    key_posture(motion, phase);
    if (!known) memcpy(u, motion->start, (size_t)chain->n_unknown * sizeof(double));
    if (chain->n_equation == 0) {
        posture(motion, q);
        return 0;
    }
    if (chain->held_kind == HELD_LEVER) held *= resistance_cam(motion->lift, phase);
    lw_chain(motion->body, chain, 1, motion->row, motion->start, motion->goal, &held, chain->n_unknown ? MOST_STEPS : 0, u, motion->miss, q,
             &steps, motion->chain_room);
    if (!all_finite(u, chain->n_unknown)) { /* a search that left all numbers behind met no pin */
        memcpy(u, motion->start, (size_t)chain->n_unknown * sizeof(double));
        posture(motion, q);
        return INFINITY;
    }
    for (int e = 0; e < chain->n_equation; e++) worst = fmax(worst, isfinite(motion->miss[e]) ? fabs(motion->miss[e]) : INFINITY);
    return worst;
}

/* Where the loaded landmarks, and those on their axes, are in a posture (2, n_load, 3). */
static void loaded_places(const Motion *motion, const double *q, double *out) {
    const Lift *lift = motion->lift;
    Pose pose = pose_in(motion->body, motion->pose_room);
    pose_segments(motion->body, q, &pose);
    for (int m = 0; m < lift->n_load; m++) {
        int at = lift->load_mark[m], axis = lift->axis_mark[m];
        pose_point(&pose, lift->segment[at], lift->local + 3 * at, out + 3 * m);
        if (axis >= 0) pose_point(&pose, lift->segment[axis], lift->local + 3 * axis, out + 3 * (lift->n_load + m));
    }
}

/* The law of the held load where the nine phases take it. */
static void learn_held(Motion *motion) {
    Lift *lift = motion->lift;
    int n = lift->holding != 0 && resistance_needs_way(lift) ? WAY : 0;
    for (int w = 0; w < n; w++)
        loaded_places(motion, motion->way_q + (size_t)w * motion->body->n_q, motion->way + (size_t)w * 6 * lift->n_load);
    if (n) resistance_law(lift, n, motion->way, motion->law);
    motion->held_n = resistance_held(lift, motion->law, &lift->chain, motion->from, motion->about);
}

/* Closes the nine phases. Returns the largest miss [m]. */
static double close_way(Motion *motion, int known) {
    double worst = 0;
    for (int w = 0; w < WAY; w++) {
        double *u = motion->way_solved + (size_t)w * motion->lift->chain.n_unknown;
        worst = fmax(worst, close_at(motion, way_phase(w), known, u, motion->way_q + (size_t)w * motion->body->n_q));
    }
    return worst;
}

/* The solved angles of the nine phases joined by the cubics through four neighbours. */
static void between(const Motion *motion, double phase, double *u) {
    int nu = motion->lift->chain.n_unknown, first = 0;
    while (first < WAY - 4 && way_phase(first + 2) <= phase) first++;
    double t = (phase - way_phase(first)) * (WAY - 1);
    double weight[4] = {-(t - 1) * (t - 2) * (t - 3) / 6, t * (t - 2) * (t - 3) / 2, -t * (t - 1) * (t - 3) / 2, t * (t - 1) * (t - 2) / 6};
    for (int j = 0; j < nu; j++) {
        u[j] = 0;
        for (int k = 0; k < 4; k++) u[j] += weight[k] * motion->way_solved[(size_t)(first + k) * nu + j];
    }
}

/* The nine phases, with the law that the load held on the way follows. Returns whether they meet their pins. */
static int set_out(Motion *motion) {
    Lift *lift = motion->lift;
    for (int w = 0; w < WAY && lift->holding != 0; w++) {
        key_posture(motion, way_phase(w));
        posture(motion, motion->way_q + (size_t)w * motion->body->n_q);
    }
    learn_held(motion);
    double worst = close_way(motion, 0);
    for (int k = 1; k < LAW_ROUNDS && lift->holding != 0 && resistance_needs_way(lift); k++) {
        learn_held(motion);
        worst = close_way(motion, 1);
    }
    learn_held(motion);
    return worst <= TOLERANCE_M;
}

static double reach_position(Motion *motion, double phase, int met, double *u, double *q) {
    if (met) between(motion, phase, u);
    return close_at(motion, phase, met, u, q);
}

static int is_whole(const Lift *lift) {
    if (lift->n_pos != WHOLE) return 0;
    for (int w = 0; w < WHOLE; w++)
        if (fabs(lift->phase[w] - whole_phase(lift, w)) > SAME) return 0;
    return 1;
}

/* The law of the resistance over the whole lifting phase, whatever part of it is asked for. */
static void learn_law(Motion *motion, int met, Result *result) {
    Lift *lift = motion->lift;
    int known = is_whole(lift), lever = lift->resistance == RESIST_LEVER, n = lever ? WAY : WHOLE;
    for (int w = 0; w < n; w++) {
        const double *q = lever ? motion->way_q + (size_t)w * motion->body->n_q : result->q + (size_t)w * motion->body->n_q;
        if (!lever && !known) {
            reach_position(motion, whole_phase(lift, w), met, motion->spare, motion->early);
            q = motion->early;
        }
        loaded_places(motion, q, motion->way + (size_t)w * 6 * lift->n_load);
    }
    resistance_law(lift, n, motion->way, result->law);
}

void motion_solve(const Body *body, Lift *lift, Result *result, double *scratch) {
    Motion motion = motion_in(body, lift, &scratch);
    int nu = lift->chain.n_unknown, met;
    double worst = 0;
    keys_slopes(lift->n_key, ANGLES, lift->knot, lift->key_row, motion.row_slope);
    keys_slopes(lift->n_key, lift->chain.n_equation, lift->knot, lift->key_goal, motion.goal_slope);
    met = set_out(&motion);
    for (int i = 0; i < lift->n_pos; i++) {
        double phase = lift->phase[i], early = fmax(phase - HAIR, 0), late = fmin(phase + HAIR, 1);
        double *rate = result->rate + (size_t)i * body->n_coord;
        worst = fmax(worst, reach_position(&motion, phase, met, result->solved + (size_t)i * nu, result->q + (size_t)i * body->n_q));
        reach_position(&motion, early, met, motion.spare, motion.early);
        reach_position(&motion, late, met, motion.spare, motion.late);
        lw_turns(body, 1, motion.early, motion.late, rate);
        for (int d = 0; d < body->n_coord; d++) rate[d] /= late - early;
    }
    result->told[TOLD_MISSED] = worst;
    if (resistance_needs_way(lift)) learn_law(&motion, met, result);
}
