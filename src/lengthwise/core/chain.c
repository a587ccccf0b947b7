/* Closed chains solved, every position by itself: its answer depends on nothing but its own start, goals and key posture. */
#include "chain.h"

#include <string.h>

#include "bowl.h"
#include "coordinates.h"
#include "functions.h"
#include "mirror.h"
#include "pose.h"

#define PIN_WEIGHT 1000.0 /* pins are counted in millimetres inside the solution */
#define MET 1e-3
#define SETTLED_DEG 1e-3
#define STILL_DEG 1e-6 /* where pins cannot be met and nothing moves any more */
#define GAINED 0.99 /* of the miss before: with more than that left the pull to the start yields to the pins, and a long search ends */
#define LONGEST_DEG 15.0
#define PATIENCE 25 /* steps after which only what is better than all before counts */
#define SLOPE_STEP 0.02
#define LEAN_ARM_M 0.3
#define ROUNDS 3

/* What a position needs while it is solved. */
typedef struct {
    const double *angle, *arms, *goal;
    double held_n;
    int32_t *wanted, *moved, *mobile;
    int32_t *seen; /* the segment whose pose stands for another's: its own, or of a left one the right one's, mirrored */
    int parts, placed; /* what the solved angles decide (coordinates.h); whether q and pose are there already */
    double *row, *q, *point;
    double *near_q;  /* the coordinates whose pose is `base` */
    Pose pose, base; /* of the posture that is looked at; of the last one whose slopes were asked for */
} Work;

static void held_force(const Chain *chain, const Work *work, int h, double *force) {
    const double *at = work->point + 3 * chain->held[h], *from = chain->from + 3 * h;
    double size = work->held_n;
    if (chain->held_kind == HELD_WEIGHT) {
        force[0] = force[1] = 0, force[2] = -1;
        for (int k = 0; k < chain->n_held; k++) size += chain->growth * work->point[3 * chain->held[k] + 2] / chain->n_held;
    } else if (chain->held_kind == HELD_PULL) {
        for (int k = 0; k < 3; k++) force[k] = from[k] - at[k];
        size += chain->growth * unit3(force);
    } else {
        double arm[3];
        const double *about = chain->about + 3 * h, *axis = chain->pivot[h] < 0 ? from : work->point + 3 * chain->pivot[h];
        for (int k = 0; k < 3; k++) arm[k] = at[k] - axis[k];
        double along = dot(arm, about);
        for (int k = 0; k < 3; k++) arm[k] -= along * about[k];
        cross(about, arm, force);
        unit3(force);
    }
    if (size < chain->least) size = chain->least;
    for (int k = 0; k < 3; k++) force[k] *= size;
}

/* Where the ground's force passes while the load is held: below the body's centre when there is none. */
static void pressed(const Body *body, const Chain *chain, const Work *work, double *out) {
    double mass = 0, turning[3] = {0, 0, 0}, down = 0, force[3];
    for (int k = 0; k < 3; k++) out[k] = 0;
    for (int s = 1; s < body->n_segment; s++) {
        mass += body->mass[s];
        const double *centre = work->pose.centre + 3 * work->seen[s];
        out[0] += body->mass[s] * centre[0], out[2] += body->mass[s] * centre[2];
        out[1] += body->mass[s] * (work->seen[s] == s ? centre[1] : -centre[1]);
    }
    for (int k = 0; k < 3; k++) out[k] /= mass;
    if (chain->held_kind == HELD_NOTHING) return;
    for (int h = 0; h < chain->n_held; h++) {
        const double *at = work->point + 3 * chain->held[h];
        held_force(chain, work, h, force);
        for (int k = 0; k < 3; k++) turning[k] += at[2] * force[k] - at[k] * force[2];
        down += force[2];
    }
    for (int k = 0; k < 3; k++) out[k] = (out[k] * chain->weight_n + turning[k]) / (chain->weight_n - down);
}

static double one_equation(const Chain *chain, const Work *work, int e, const double *press) {
    int32_t segment = chain->mark_segment[chain->first[e]], seen = work->seen[segment];
    const double *point = work->point, *frame = work->pose.frame + 9 * seen;
    double goal = work->goal[e], middle = 0, sine, cosine;
    int k = chain->axis[e];
    switch (chain->kind[e]) {
        case PIN_PLACE: return point[3 * chain->first[e] + k] - goal;
        case PIN_LEAN: sine_cosine(goal, &sine, &cosine); return LEAN_ARM_M * (frame[2] * cosine - frame[8] * sine);
        case PIN_UPRIGHT: return LEAN_ARM_M * (seen == segment ? frame[5] : -frame[5]);
        case PIN_OVER: return point[3 * chain->first[e] + k] - point[3 * chain->second[e] + k] - goal;
        default:
            for (int m = 0; m < chain->n_middle; m++) middle += point[3 * chain->middle[m] + k];
            return press[k] - middle / chain->n_middle - goal;
    }
}

/* Where landmark m is. */
static void place_mark(const Chain *chain, Work *work, int m) {
    const double *local = chain->mark_local + 3 * m;
    int32_t segment = chain->mark_segment[m], seen = work->seen[segment];
    double mirrored[3] = {local[0], -local[1], local[2]}, *out = work->point + 3 * m;
    pose_point(&work->pose, seen, seen == segment ? local : mirrored, out);
    if (seen != segment) out[1] = -out[1];
}

/* By how much each pin is missed [m] in the pose that is there; leaves the points of that posture in `work`. */
static void misses(const Body *body, const Chain *chain, Work *work, double *out) {
    double press[3] = {0, 0, 0};
    int balanced = 0;
    for (int m = 0; m < chain->n_mark; m++) place_mark(chain, work, m);
    for (int e = 0; e < chain->n_equation; e++) {
        if (chain->kind[e] == PIN_BALANCE && !balanced++) pressed(body, chain, work, press);
        out[e] = one_equation(chain, work, e, press);
    }
}

static void turn_angle(const Chain *chain, int j, double angle, double *row) {
    for (int c = 0; c < 2; c++)
        if (chain->slot[2 * j + c] >= 0) row[chain->slot[2 * j + c]] = angle;
}

static void turn_angles(const Chain *chain, const double *u, double *row) {
    for (int j = 0; j < chain->n_unknown; j++) turn_angle(chain, j, u[j], row);
}

/* The posture from which a search begins. What no solved angle moves is there in both poses from now on. */
static void first_posture(const Body *body, const Chain *chain, Work *work, const double *u) {
    memcpy(work->row, work->angle, ANGLES * sizeof(double));
    turn_angles(chain, u, work->row);
    coordinates(body, work->row, chain->alike, chain->flat, work->arms, work->q);
    pose_some(body, work->q, work->wanted, &work->pose);
    for (int s = 1; s < body->n_segment; s++)
        if (work->wanted[s] && !work->mobile[s]) pose_copy(&work->pose, s, work->wanted[s] > 1, &work->base);
    work->placed = 1;
}

/* The misses where the solved angles are u (n_unknown); leaves q, points and pose of that posture in `work`. */
static void residuals(const Body *body, const Chain *chain, Work *work, const double *u, double *out) {
    if (!work->placed) {
        turn_angles(chain, u, work->row);
        coordinates_of(body, work->row, work->parts, chain->alike, chain->flat, work->arms, work->q);
        pose_some(body, work->q, work->mobile, &work->pose);
    }
    work->placed = 0;
    misses(body, chain, work, out);
}

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

size_t lw_chain_size(void) { return sizeof(Chain); }

size_t lw_chain_scratch(const Body *body, const Chain *chain) {
    size_t ne = (size_t)chain->n_equation, nu = (size_t)chain->n_unknown;
    return 2 * pose_size(body) + 2 * (size_t)body->n_segment + ANGLES + 4 * (size_t)body->n_q + 3 * (size_t)chain->n_mark + 2 * ne * nu + 3 * ne +
           nu * nu + 6 * nu + free_step_size(chain->n_unknown, chain->n_equation);
}

/* Makes the posture that was looked at last the one from which slopes are taken. */
static void keep_pose(const Body *body, Work *work) {
    Pose kept = work->base;
    work->base = work->pose, work->pose = kept;
    memcpy(work->near_q, work->q, (size_t)body->n_q * sizeof(double));
    for (int s = 0; s < body->n_segment; s++) work->moved[s] = work->mobile[s] != 0;
}

static int decided_by(const Chain *chain, int j) {
    return coordinates_part(chain->slot[2 * j], chain->alike) | coordinates_part(chain->slot[2 * j + 1], chain->alike);
}

/* The misses where angle j alone is another than in the posture that was kept. */
static void residuals_near(const Body *body, const Chain *chain, Work *work, int j, double here, double *out) {
    turn_angle(chain, j, here + SLOPE_STEP, work->row);
    memcpy(work->q, work->near_q, (size_t)body->n_q * sizeof(double));
    coordinates_of(body, work->row, decided_by(chain, j), chain->alike, chain->flat, work->arms, work->q);
    pose_near(body, work->q, work->near_q, &work->base, work->mobile, work->moved, &work->pose);
    misses(body, chain, work, out);
    turn_angle(chain, j, here, work->row);
}

/* Slopes of the weighted pins by forward differences (n_equation, n_unknown), from the posture of u that was looked at last. */
static void slopes(const Body *body, const Chain *chain, Work *work, const double *u, const double *r, double *moved, double *out) {
    int ne = chain->n_equation, nu = chain->n_unknown;
    keep_pose(body, work);
    for (int j = 0; j < nu; j++) {
        residuals_near(body, chain, work, j, u[j], moved);
        for (int e = 0; e < ne; e++) out[e * nu + j] = (PIN_WEIGHT * moved[e] - r[e]) / SLOPE_STEP;
    }
}

/* The pins where the solved angles are u [m], in millimetres (n_equation each), and the largest of these. */
static double weighted(const Body *body, const Chain *chain, Work *work, const double *u, double *miss, double *r) {
    double worst = 0;
    residuals(body, chain, work, u, miss);
    for (int e = 0; e < chain->n_equation; e++) r[e] = PIN_WEIGHT * miss[e], worst = larger(worst, fabs(r[e]));
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
    double missed = larger(worst, MET), far = 0;
    for (int j = 0; j < nu; j++) far += (u[j] - start[j]) * (u[j] - start[j]);
    int better = missed < GAINED * best->missed || (missed == MET && far < best->far);
    memcpy(better ? best->u : u, better ? u : best->u, (size_t)nu * sizeof(double));
    best->share = better ? smaller(2 * best->share, 1) : 0.5 * best->share;
    if (better) best->missed = missed, best->far = far;
    return better;
}

/* One position from u, in place; miss: the pins there [m] (n_equation). Returns the steps taken. */
static int solve_one(const Body *body, const Chain *chain, Work *work, const double *start, int most, double *u, double *miss,
                     double *room) {
    int ne = chain->n_equation, nu = chain->n_unknown, k;
    double *slope = room, *last = slope + ne * nu, *r = last + ne * nu, *moved = r + ne, *hold = moved + ne, *away = hold + ne;
    double *step = away + nu, *change = step + nu, *spare = change + nu, *bend = spare + nu, *inner = bend + nu * nu;
    Best best = {inner + free_step_size(nu, ne), INFINITY, INFINITY, 1};
    int32_t *stuck = (int32_t *)(best.u + nu);
    double eager = 1, missed = INFINITY, last_turn = INFINITY;
    for (int j = 0; j < nu; j++) {
        u[j] = clamped(u[j], chain->low[j], chain->high[j]);
        for (int i = 0; i < nu; i++) bend[j * nu + i] = i == j;
    }
    first_posture(body, chain, work, u);
    for (k = 0;; k++) {
        double worst = weighted(body, chain, work, u, miss, r);
        int gained = k < PATIENCE || keeps_best(start, nu, worst, u, &best);
        if (!gained) worst = weighted(body, chain, work, u, miss, r);
        if ((worst < MET && last_turn < SETTLED_DEG) || last_turn < STILL_DEG || k == most) return k;
        eager = worst > GAINED * missed && worst > MET ? 0.4 * eager : smaller(1.2 * eager, 1);
        slopes(body, chain, work, u, r, moved, slope);
        for (int j = 0; j < nu && k > 0 && gained; j++) {
            change[j] = step[j];
            for (int e = 0; e < ne; e++) change[j] += (slope[e * nu + j] - last[e * nu + j]) * hold[e];
        }
        if (k > 0 && gained) learn_bend(nu, step, change, bend, spare);
        for (int j = 0; j < nu; j++) away[j] = (u[j] - start[j]) * eager;
        last_turn = descend(chain, slope, bend, r, away, best.share, u, step, hold, stuck, inner);
        memcpy(last, slope, (size_t)(ne * nu) * sizeof(double));
        missed = worst;
    }
}

/* Which segments the equations need: those of the landmarks with all that carry them; all of them, with their centres, for a balance. */
static void mark_wanted(const Body *body, const Chain *chain, Work *work) {
    int all = 0;
    for (int e = 0; e < chain->n_equation; e++) all |= chain->kind[e] == PIN_BALANCE;
    for (int s = 0; s < body->n_segment; s++) work->wanted[s] = all && work->seen[s] == s ? 2 : 0;
    for (int m = 0; m < chain->n_mark; m++)
        for (int s = work->seen[chain->mark_segment[m]]; s > 0; s = body->parent[s]) work->wanted[s] |= 1;
}

/* Which of these the solved angles move. room: n_q integers. */
static void mark_mobile(const Body *body, const Chain *chain, Work *work, int32_t *room) {
    work->parts = 0;
    for (int j = 0; j < chain->n_unknown; j++) work->parts |= decided_by(chain, j);
    coordinates_decided(body, work->parts, chain->alike, room);
    work->mobile[0] = 0;
    for (int s = 1; s < body->n_segment; s++) {
        int moves = work->mobile[body->parent[s]];
        for (int j = body->first_joint[s]; j < body->first_joint[s] + body->joint_count[s]; j++) moves |= room[body->joint_q[j]];
        work->mobile[s] = moves;
    }
    for (int s = 1; s < body->n_segment; s++) work->mobile[s] = work->mobile[s] ? work->wanted[s] : 0;
}

/* Whether the trunk is upright from side to side and stays so, so that the left is the mirror image of the right bit by bit. */
static int is_even(const Chain *chain, const double *angle) {
    static const int32_t sideways[5] = {1, 4, 5, 7, 8};
    int even = chain->alike;
    for (int k = 0; k < 5; k++) {
        even &= angle[sideways[k]] == 0;
        for (int j = 0; j < 2 * chain->n_unknown; j++) even &= chain->slot[j] != sideways[k];
    }
    return even;
}

void lw_chain(const Body *body, const Chain *chain, int n_pos, const double *angles, const double *start, const double *goal,
              const double *held_n, int most, double *u, double *miss, double *q, int32_t *steps, double *scratch) {
    size_t nu = (size_t)chain->n_unknown, ne = (size_t)chain->n_equation, nq = (size_t)body->n_q;
    Work work;
    work.pose = pose_in(body, scratch);
    work.base = pose_in(body, scratch + pose_size(body));
    work.row = scratch + 2 * pose_size(body);
    work.point = work.row + ANGLES;
    double *arms = work.point + 3 * chain->n_mark, *moving = arms + nq, *room;
    int32_t *decided = (int32_t *)(moving + 2 * nq);
    work.near_q = moving + nq;
    work.wanted = (int32_t *)(moving + 3 * nq);
    work.moved = work.wanted + body->n_segment, work.mobile = work.moved + body->n_segment, work.seen = work.mobile + body->n_segment;
    room = moving + 3 * nq + 2 * body->n_segment;
    for (size_t i = 0; i < (size_t)n_pos; i++) {
        work.angle = angles + ANGLES * i;
        work.goal = goal + ne * i;
        work.held_n = held_n[i];
        work.arms = NULL;
        work.q = moving;
        if (!is_even(chain, work.angle) || !mirror_segments(body, work.seen))
            for (int s = 0; s < body->n_segment; s++) work.seen[s] = s;
        mark_wanted(body, chain, &work);
        mark_mobile(body, chain, &work, decided);
        if (chain->keeps_arms) {
            coordinates(body, work.angle, chain->alike, chain->flat, NULL, arms);
            work.arms = arms;
        }
        steps[i] = solve_one(body, chain, &work, start + nu * i, most, u + nu * i, miss + ne * i, room);
        memcpy(q + nq * i, moving, nq * sizeof(double));
    }
}
