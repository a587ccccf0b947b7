/* Every position is closed by itself, set out from the lift's own nine phases, so that its answer depends on nothing else. */
#include "motion.h"

#include <math.h>
#include <string.h>

#include "columns.h"
#include "coordinates.h"
#include "keys.h"
#include "pins.h"
#include "pose.h"
#include "resistance.h"
#include "team.h"
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
    double *way_solved, *way_q, *way, *law; /* of the nine phases, or of the whole way; the law of the held load */
    double *early, *late;                /* a hair before and after every position (n_pos, n_q) */
    double *row, *goal, *start, *miss, *spare, *here, *q; /* of one position: each hand's own, as all that follows */
    double *from, *about, *chain_room;
    Pins pins; /* whose pose also serves what is looked at between searches */
    double held_n;
} Motion;

static double way_phase(int w) { return w / (double)(WAY - 1); }

/* A band is counted by its pull where the asked part takes it furthest; chains hang from the same height whatever part is asked. */
static double whole_phase(const Lift *lift, int w) {
    double begins = lift->resistance == RESIST_WEIGHT ? 0 : lift->begins, ends = lift->resistance == RESIST_WEIGHT ? 1 : lift->ends;
    return begins + (ends - begins) * w / (WHOLE - 1);
}

static Motion motion_in(const Body *body, Lift *lift, double **scratch, double **own) {
    int64_t nu = lift->chain.n_unknown, ne = lift->chain.n_equation, nq = body->n_q, keys = lift->n_key;
    Motion motion = {.body = body, .lift = lift};
    struct { double **place; int64_t n; } shared[] = {
        {&motion.row_slope, keys * ANGLES}, {&motion.goal_slope, keys * ne}, {&motion.way_solved, WAY * nu}, {&motion.way_q, WAY * nq},
        {&motion.way, WHOLE * 6 * lift->n_load}, {&motion.law, LAW + lift->n_load}, {&motion.early, lift->n_pos * nq},
        {&motion.late, lift->n_pos * nq},
    }, parts[] = {
        {&motion.row, ANGLES}, {&motion.goal, ne}, {&motion.start, nu}, {&motion.miss, ne}, {&motion.spare, nu}, {&motion.here, nu}, {&motion.q, nq},
        {&motion.from, 3 * lift->chain.n_held}, {&motion.about, 3 * lift->chain.n_held},
        {&motion.chain_room, (int64_t)chain_room(&lift->chain)},
    };
    for (size_t k = 0; k < sizeof shared / sizeof *shared; k++) *shared[k].place = take_numbers(scratch, shared[k].n);
    for (size_t k = 0; k < sizeof parts / sizeof *parts; k++) *parts[k].place = take_numbers(own, parts[k].n);
    motion.pins = pins_in(body, &lift->chain, own);
    return motion;
}

static void measure(const Body *body, const Lift *lift, size_t *shared, size_t *own) {
    double first[2], *ends[2] = {first, first};
    Lift copied = *lift;
    motion_in(body, &copied, &ends[0], &ends[1]);
    *shared = (size_t)(ends[0] - first), *own = (size_t)(ends[1] - first);
}

size_t motion_size(const Body *body, const Lift *lift) {
    size_t shared, own;
    measure(body, lift, &shared, &own);
    return shared;
}

size_t motion_own_size(const Body *body, const Lift *lift) {
    size_t shared, own;
    measure(body, lift, &shared, &own);
    return own;
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
    coordinates(motion->body, motion->row, motion->lift->chain.alike, motion->lift->chain.flat, q);
}

/* The posture at a phase from the solved angles u, or from the key posture where u is not known; leaves the answer in u and q. Returns
 * the largest miss of a pin [m]. */
static double close_at(Motion *motion, double phase, int known, double *u, double *q) {
    Chain *chain = &motion->lift->chain;
    double worst = 0, held = motion->held_n;
    key_posture(motion, phase);
    if (!known) memcpy(u, motion->start, (size_t)chain->n_unknown * sizeof(double));
    if (chain->n_equation == 0) {
        posture(motion, q);
        return 0;
    }
    if (chain->held_kind == HELD_LEVER) held *= resistance_cam(motion->lift, phase);
    pins_begin(&motion->pins, motion->row, motion->goal, held);
    chain_close(&motion->pins, motion->start, chain->n_unknown ? MOST_STEPS : 0, u, motion->miss, motion->chain_room);
    memcpy(q, motion->pins.q, (size_t)motion->body->n_q * sizeof(double));
    if (!all_finite(u, chain->n_unknown)) { /* a search that left all numbers behind met no pin */
        memcpy(u, motion->start, (size_t)chain->n_unknown * sizeof(double));
        posture(motion, q);
        return INFINITY;
    }
    for (int e = 0; e < chain->n_equation; e++) worst = fmax(worst, isfinite(motion->miss[e]) ? fabs(motion->miss[e]) : INFINITY);
    return worst;
}

/* Where the loaded landmarks, and those on their axes, are in a posture (2, n_load, 3). */
static void loaded_places(Motion *motion, const double *q, double *out) {
    const Lift *lift = motion->lift;
    Pose *pose = &motion->pins.pose;
    pose_segments(motion->body, q, pose);
    for (int m = 0; m < lift->n_load; m++) {
        int at = lift->load_mark[m], axis = lift->axis_mark[m];
        pose_point(pose, lift->segment[at], lift->local + 3 * at, out + 3 * m);
        if (axis >= 0) pose_point(pose, lift->segment[axis], lift->local + 3 * axis, out + 3 * (lift->n_load + m));
    }
}

/* The law of the held load where the nine phases take it. */
static void learn_held(Motion *motion) {
    Lift *lift = motion->lift;
    int n = lift->holding != 0 && resistance_needs_way(lift) ? WAY : 0;
    for EACH(w, n)
        loaded_places(motion, motion->way_q + (size_t)w * motion->body->n_q, motion->way + (size_t)w * 6 * lift->n_load);
    meet();
    if (n && HAND == 0) resistance_law(lift, n, motion->way, motion->law);
    meet();
    motion->held_n = resistance_held(lift, motion->law, &lift->chain, motion->from, motion->about);
}

/* Closes the nine phases. Returns the largest miss [m]. */
static double close_way(Motion *motion, int known) {
    double worst = 0;
    for EACH(w, WAY) {
        double *u = motion->way_solved + (size_t)w * motion->lift->chain.n_unknown;
        worst = fmax(worst, close_at(motion, way_phase((int)w), known, u, motion->way_q + (size_t)w * motion->body->n_q));
    }
    return most_of_all(worst);
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
    for EACH(w, lift->holding != 0 ? WAY : 0) {
        key_posture(motion, way_phase((int)w));
        posture(motion, motion->way_q + (size_t)w * motion->body->n_q);
    }
    meet();
    learn_held(motion);
    double worst = close_way(motion, 0);
    for (int k = 1; k < LAW_ROUNDS && lift->holding != 0 && resistance_needs_way(lift); k++) {
        learn_held(motion);
        worst = close_way(motion, 1);
    }
    learn_held(motion);
    return worst <= TOLERANCE_M;
}

/* Where a search sets out at a phase, into u: from the nine phases and, a hair from `known`, from what is solved there as well (or NULL). */
static void set_off(Motion *motion, double phase, double known, const double *solved, double *u) {
    between(motion, phase, u);
    if (solved == NULL) return;
    between(motion, known, motion->here);
    for (int j = 0; j < motion->lift->chain.n_unknown; j++) u[j] += solved[j] - motion->here[j];
}

static double reach_position(Motion *motion, double phase, int met, double *u, double *q) {
    if (met) set_off(motion, phase, 0, NULL, u);
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
    for EACH(w, n) {
        const double *q = lever ? motion->way_q + (size_t)w * motion->body->n_q : result->q + (size_t)w * motion->body->n_q;
        if (!lever && !known) {
            reach_position(motion, whole_phase(lift, (int)w), met, motion->spare, motion->q);
            q = motion->q;
        }
        loaded_places(motion, q, motion->way + (size_t)w * 6 * lift->n_load);
    }
    meet();
    if (HAND == 0) resistance_law(lift, n, motion->way, result->law);
    meet();
}

/* What is looked for k-th: every position, then, once the hands have met after it, the posture a hair before and after it where there is one. */
typedef struct {
    int64_t i;           /* the position; -1 for nothing */
    double phase;
    const double *solved; /* angles of the position from which this one sets out, or NULL */
    double *u, *q;
} Sought;

static Sought sought(const Motion *motion, const Result *result, int64_t k) {
    const Lift *lift = motion->lift;
    int64_t n = lift->n_pos, from = n > HANDS ? n : HANDS, nq = motion->body->n_q, late = k >= from && (k - from) % 2;
    Sought s = {k < from ? k : (k - from) / 2, 0, NULL, motion->spare, NULL};
    if (s.i >= n) s.i = -1;
    if (s.i < 0) return s;
    double phase = lift->phase[s.i], *solved = result->solved + s.i * lift->chain.n_unknown;
    s.phase = k < from ? phase : late ? fmin(phase + HAIR, 1) : fmax(phase - HAIR, 0);
    s.solved = k < from ? NULL : solved, s.u = k < from ? solved : motion->spare;
    s.q = (k < from ? result->q : late ? motion->late : motion->early) + s.i * nq;
    if (k >= from && s.phase == phase) s.i = -1;
    return s;
}

/* Every position and, unless one misses its pins, the postures a hair beside them. One search a hand and a time, so that hands keep step.
 * Returns the largest miss of a position [m]. */
static double reach_all(Motion *motion, int met, Result *result) {
    int64_t n = motion->lift->n_pos, from = n > HANDS ? n : HANDS;
    double worst = 0;
    for (int64_t first = 0; first < from + 2 * n; first += HANDS) {
        if (first >= from && any_of_all(worst > TOLERANCE_M)) break;
        Sought s = sought(motion, result, first + HAND);
        if (s.i >= 0) {
            if (met) set_off(motion, s.phase, motion->lift->phase[s.i], s.solved, s.u);
            double missed = close_at(motion, s.phase, met, s.u, s.q);
            if (s.solved == NULL) worst = fmax(worst, missed);
        }
        meet();
    }
    return most_of_all(worst);
}

static void speeds(const Motion *motion, Result *result) {
    const Body *body = motion->body;
    for EACH(i, motion->lift->n_pos) {
        double phase = motion->lift->phase[i], whole = fmin(phase + HAIR, 1) - fmax(phase - HAIR, 0);
        double *rate = result->rate + (size_t)i * body->n_coord, *q = result->q + (size_t)i * body->n_q;
        lw_turns(body, 1, phase > 0 ? motion->early + (size_t)i * body->n_q : q, phase < 1 ? motion->late + (size_t)i * body->n_q : q, rate);
        for (int d = 0; d < body->n_coord; d++) rate[d] /= whole;
    }
    meet();
}

void motion_solve(const Body *body, Lift *lift, Result *result, double *scratch, double *own) {
    Motion motion = motion_in(body, lift, &scratch, &own);
    keys_slopes(lift->n_key, ANGLES, lift->knot, lift->key_row, motion.row_slope);
    keys_slopes(lift->n_key, lift->chain.n_equation, lift->knot, lift->key_goal, motion.goal_slope);
    meet();
    int64_t since = phase_over(NO_PHASE, 0);
    int met = set_out(&motion);
    result->told[TOLD_MISSED] = reach_all(&motion, met, result);
    meet();
    since = phase_over(PHASE_MOVE, since);
    if (result->told[TOLD_MISSED] > TOLERANCE_M) return;
    speeds(&motion, result);
    if (resistance_needs_way(lift)) learn_law(&motion, met, result);
    phase_over(PHASE_SPEED, since);
}
