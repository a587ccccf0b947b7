/* Slopes are exact; where the ground's force passes they are central differences of a few numbers. */
#include "pins.h"

#include <string.h>

#include "columns.h"
#include "coordinates.h"
#include "mirror.h"

#define LEAN_ARM_M 0.3
#define STEP 1e-3 /* of an angle [deg or cm] */
#define MOST_TURNS 12

/* What turns or, of the free segment, shifts a segment against the one that carries it, in the world. */
typedef struct {
    int32_t segment;
    double about[3], shift[3];
} Turn;

/* ---- misses ---- */

static void held_force(const Pins *pins, const double *point, int h, double *force) {
    const Chain *chain = pins->chain;
    const double *at = point + 3 * chain->held[h], *from = chain->from + 3 * h;
    double size = pins->held_n;
    if (chain->held_kind == HELD_WEIGHT) {
        force[0] = force[1] = 0, force[2] = -1;
        for (int k = 0; k < chain->n_held; k++) size += chain->growth * point[3 * chain->held[k] + 2] / chain->n_held;
    } else if (chain->held_kind == HELD_PULL) {
        for (int k = 0; k < 3; k++) force[k] = from[k] - at[k];
        size += chain->growth * unit3(force);
    } else {
        double arm[3];
        const double *about = chain->about + 3 * h, *axis = chain->pivot[h] < 0 ? from : point + 3 * chain->pivot[h];
        for (int k = 0; k < 3; k++) arm[k] = at[k] - axis[k];
        double along = dot(arm, about);
        for (int k = 0; k < 3; k++) arm[k] -= along * about[k];
        cross(about, arm, force);
        unit3(force);
    }
    if (size < chain->least) size = chain->least;
    for (int k = 0; k < 3; k++) force[k] *= size;
}

/* Where the ground's force passes while the load is held at these landmarks: below the body's centre when there is none. */
static void pressed(const Pins *pins, const double *point, const double *centre, double *out) {
    const Chain *chain = pins->chain;
    double turning[3] = {0, 0, 0}, down = 0, force[3];
    copy3(centre, out);
    if (chain->held_kind == HELD_NOTHING) return;
    for (int h = 0; h < chain->n_held; h++) {
        const double *at = point + 3 * chain->held[h];
        held_force(pins, point, h, force);
        for (int k = 0; k < 3; k++) turning[k] += at[2] * force[k] - at[k] * force[2];
        down += force[2];
    }
    for (int k = 0; k < 3; k++) out[k] = (out[k] * chain->weight_n + turning[k]) / (chain->weight_n - down);
}

/* Coordinate k of the middle in which a balance is asked, of landmarks or of their speeds. */
static double middle_of(const Chain *chain, const double *point, int k) {
    double middle = 0;
    for (int m = 0; m < chain->n_middle; m++) middle += point[3 * chain->middle[m] + k];
    return middle / chain->n_middle;
}

static double one_equation(const Pins *pins, int e, const double *press) {
    const Chain *chain = pins->chain;
    int32_t segment = chain->mark_segment[chain->first[e]], seen = pins->seen[segment];
    const double *point = pins->point, *frame = pins->pose.frame + 9 * seen;
    double goal = pins->goal[e], sine, cosine;
    int k = chain->axis[e];
    switch (chain->kind[e]) {
        case PIN_PLACE: return point[3 * chain->first[e] + k] - goal;
        case PIN_LEAN: sine_cosine(goal, &sine, &cosine); return LEAN_ARM_M * (frame[2] * cosine - frame[8] * sine);
        case PIN_UPRIGHT: return LEAN_ARM_M * (seen == segment ? frame[5] : -frame[5]);
        case PIN_OVER: return point[3 * chain->first[e] + k] - point[3 * chain->second[e] + k] - goal;
        default: return press[k] - middle_of(chain, point, k) - goal;
    }
}

/* Mass and moment of each segment with all that hangs on it, and the body's centre. */
static void gather(Pins *pins) {
    const Body *body = pins->body;
    memset(pins->mass, 0, (size_t)body->n_segment * sizeof(double));
    memset(pins->moment, 0, 3 * (size_t)body->n_segment * sizeof(double));
    for (int s = body->n_segment - 1; s > 0; s--) {
        const double *own = pins->pose.centre + 3 * pins->seen[s];
        double centre[3] = {own[0], pins->seen[s] == s ? own[1] : -own[1], own[2]};
        int parent = body->parent[s];
        pins->mass[s] += body->mass[s], pins->mass[parent] += pins->mass[s];
        for (int k = 0; k < 3; k++) {
            pins->moment[3 * s + k] += body->mass[s] * centre[k];
            pins->moment[3 * parent + k] += pins->moment[3 * s + k];
        }
    }
    for (int k = 0; k < 3; k++) pins->centre[k] = pins->moment[k] / pins->mass[0];
}

/* Landmark m in the frame of the segment that is seen for its own. */
static void local_of(const Pins *pins, int m, double *out) {
    const Chain *chain = pins->chain;
    copy3(chain->mark_local + 3 * m, out);
    if (pins->seen[chain->mark_segment[m]] != chain->mark_segment[m]) out[1] = -out[1];
}

static void place_mark(Pins *pins, int m) {
    int32_t segment = pins->chain->mark_segment[m], seen = pins->seen[segment];
    double local[3], *out = pins->point + 3 * m;
    local_of(pins, m, local);
    pose_point(&pins->pose, seen, local, out);
    if (seen != segment) out[1] = -out[1];
}

static void turn_angles(Pins *pins, const double *u) {
    const Chain *chain = pins->chain;
    for (int j = 0; j < 2 * chain->n_unknown; j++)
        if (chain->slot[j] >= 0) pins->row[chain->slot[j]] = u[j / 2];
}

void pins_miss(Pins *pins, const double *u, double *out) {
    const Body *body = pins->body;
    const Chain *chain = pins->chain;
    double press[3] = {0, 0, 0};
    int balanced = 0;
    turn_angles(pins, u);
    if (pins->looked++) coordinates_of(body, pins->row, pins->parts, chain->alike, chain->flat, pins->q);
    else coordinates(body, pins->row, chain->alike, chain->flat, pins->q);
    pose_some(body, pins->q, pins->looked > 1 ? pins->mobile : pins->wanted, &pins->pose);
    for (int m = 0; m < chain->n_mark; m++) place_mark(pins, m);
    for (int e = 0; e < chain->n_equation; e++) {
        if (chain->kind[e] == PIN_BALANCE && !balanced++) {
            gather(pins);
            pressed(pins, pins->point, pins->centre, press);
        }
        out[e] = one_equation(pins, e, press);
    }
}

/* ---- slopes ---- */

/* A turn of segment s, and of those that hang on it, about an axis given in the frame of another one [rad]. */
static Turn turn_in(const Pins *pins, int32_t frame, int32_t s, const double *about) {
    Turn turn = {s, {0, 0, 0}, {0, 0, 0}};
    turned(pins->pose.frame + 9 * frame, about, turn.about);
    return turn;
}

/* The axis of a hinge in the world: turned on by the hinges of its segment that come after it. */
static Turn hinge_turn(const Pins *pins, int32_t s, int32_t q) {
    const Body *body = pins->body;
    double axis[3] = {0, 0, 0}, m[9];
    for (int j = body->first_joint[s]; j < body->first_joint[s] + body->joint_count[s]; j++) {
        if (body->joint_q[j] == q)
            for (int k = 0; k < 3; k++) axis[k] = body->joint_axis[3 * j + k] * DEG;
        else if (body->joint_q[j] > q) {
            quat_matrix(pins->pose.part + 4 * j, m);
            turned_back(m, axis, axis);
        }
    }
    return turn_in(pins, s, s, axis);
}

static void mirror_axis(double *about) { about[0] = -about[0], about[2] = -about[2]; }

/* Clavicle, blade and upper arm, each against the one that carries it. */
static int arm_turns(const Pins *pins, int slot, int32_t upper_arm, int mirrored, Turn *out) {
    const Body *body = pins->body;
    int side = slot >= FIRST_SIDE + A_SIDE, first = FIRST_SIDE + A_SIDE * side + 10;
    int32_t blade = body->parent[upper_arm], clavicle = body->parent[blade], thorax = body->parent[clavicle];
    double about[9], before[3] = {0, 0, 0}, own[3];
    arm_rates(body, &pins->arm[side], slot - first, about);
    for (int k = 0; k < 3; k++) {
        for (int c = 0; c < 3; c++) own[c] = about[3 * k + c] - before[c], before[c] = about[3 * k + c];
        if (side || mirrored) mirror_axis(own);
        out[k] = turn_in(pins, thorax, k == 0 ? clavicle : k == 1 ? blade : upper_arm, own);
    }
    return 3;
}

static int trunk_turns(const Pins *pins, int which, int32_t thorax, Turn *out) {
    const double *share = pins->body->trunk_share, *angle = pins->row + 6;
    double lower[3], upper[3], about[3];
    int32_t lumbar = pins->body->parent[thorax];
    for (int k = 0; k < 3; k++) lower[k] = angle[k] * share[k], upper[k] = angle[k] * (1 - share[k]);
    euler_rate(lower, which, share[which], about);
    out[0] = turn_in(pins, pins->body->parent[lumbar], lumbar, about);
    euler_rate(upper, which, 1 - share[which], about);
    out[1] = turn_in(pins, lumbar, thorax, about);
    return 2;
}

static int hip_turn(const Pins *pins, int slot, int32_t thigh, int mirrored, Turn *out) {
    int side = slot >= FIRST_SIDE + A_SIDE, first = FIRST_SIDE + A_SIDE * side;
    const double *own = pins->row + first;
    double angle[3] = {-own[0], -own[1], own[2]}, about[3];
    euler_rate(angle, slot - first, slot - first < 2 ? -1 : 1, about);
    if (side || mirrored) mirror_axis(about);
    out[0] = turn_in(pins, pins->body->parent[thigh], thigh, about);
    return 1;
}

/* What the number at `slot` turns, for its own side or mirrored for the other; returns how many. */
static int turns_of(const Pins *pins, int slot, int mirrored, int32_t outer, Turn *out) {
    const Body *body = pins->body;
    int part = coordinates_part(slot, 0), side = slot >= FIRST_SIDE + A_SIDE;
    double about[3];
    if (part == PLACE_PART) {
        Turn shift = {1, {0, 0, 0}, {0, 0, 0}};
        shift.shift[slot] = 0.01;
        out[0] = shift;
        return 1;
    }
    if (part == TRUNK_PART) return trunk_turns(pins, slot - 6, outer, out);
    if (part == PELVIS_PART || part == NECK_PART) {
        euler_rate(pins->row + slot - slot % 3, slot % 3, 1, about);
        out[0] = turn_in(pins, body->parent[outer], outer, about);
        return 1;
    }
    if (part & (HIP_PART | HIP_PART << 1)) return hip_turn(pins, slot, outer, mirrored, out);
    if (part & (ARM_PART | ARM_PART << 1)) return arm_turns(pins, slot, outer, mirrored, out);
    int left = side || mirrored, within = slot - FIRST_SIDE - A_SIDE * side - 3;
    out[0] = hinge_turn(pins, outer, body->posture_q[HINGE + HINGES * left + within]);
    return 1;
}

/* How fast a point of segment s moves, and how s turns, while `count` joints turn. */
static void carried(const Pins *pins, const Turn *turn, int count, int32_t s, const double *point, double *speed, double *spin) {
    const Body *body = pins->body;
    double arm[3], swept[3];
    for (int k = 0; k < 3; k++) speed[k] = spin[k] = 0;
    for (; s > 0; s = body->parent[s])
        for (int t = 0; t < count; t++) {
            if (turn[t].segment != s) continue;
            for (int k = 0; k < 3; k++) arm[k] = point[k] - pins->pose.place[3 * s + k];
            cross(turn[t].about, arm, swept);
            for (int k = 0; k < 3; k++) speed[k] += swept[k] + turn[t].shift[k], spin[k] += turn[t].about[k];
        }
}

/* How fast the body's centre moves; `twice`: the left does the same, mirrored. */
static void centre_speed(const Pins *pins, const Turn *turn, int count, int twice, double *out) {
    double arm[3], swept[3];
    for (int k = 0; k < 3; k++) out[k] = 0;
    for (int t = 0; t < count; t++) {
        int32_t s = turn[t].segment;
        double share = pins->mass[s] / pins->mass[0];
        for (int k = 0; k < 3; k++) arm[k] = pins->moment[3 * s + k] / pins->mass[0] - share * pins->pose.place[3 * s + k];
        cross(turn[t].about, arm, swept);
        for (int k = 0; k < 3; k++) out[k] += swept[k] + share * turn[t].shift[k];
    }
    if (twice) out[0] *= 2, out[1] = 0, out[2] *= 2;
}

/* How fast every landmark moves and its segment turns. */
static void mark_speeds(Pins *pins, const Turn *turn, int count) {
    const Chain *chain = pins->chain;
    for (int m = 0; m < chain->n_mark; m++) {
        int32_t segment = chain->mark_segment[m], seen = pins->seen[segment];
        double point[3], *speed = pins->speed + 3 * m;
        copy3(pins->point + 3 * m, point);
        if (seen != segment) point[1] = -point[1];
        carried(pins, turn, count, seen, point, speed, pins->spin + 3 * m);
        if (seen != segment) speed[1] = -speed[1];
    }
}

/* How fast the ground's force shifts. */
static void press_speed(Pins *pins, const double *centre_speed, double *out) {
    double centre[3], ahead[3], behind[3], *point = pins->moved;
    for (int sign = 1; sign >= -1; sign -= 2) {
        for (int k = 0; k < 3 * pins->chain->n_mark; k++) point[k] = pins->point[k] + sign * STEP * pins->speed[k];
        for (int k = 0; k < 3; k++) centre[k] = pins->centre[k] + sign * STEP * centre_speed[k];
        pressed(pins, point, centre, sign > 0 ? ahead : behind);
    }
    for (int k = 0; k < 3; k++) out[k] = (ahead[k] - behind[k]) / (2 * STEP);
}

static double equation_speed(const Pins *pins, int e, const double *press) {
    const Chain *chain = pins->chain;
    int first = chain->first[e], k = chain->axis[e];
    int32_t segment = chain->mark_segment[first], seen = pins->seen[segment];
    const double *speed = pins->speed, *spin = pins->spin + 3 * first, *frame = pins->pose.frame + 9 * seen;
    double up[3] = {frame[2], frame[5], frame[8]}, tipped[3], sine, cosine;
    cross(spin, up, tipped);
    switch (chain->kind[e]) {
        case PIN_PLACE: return speed[3 * first + k];
        case PIN_LEAN: sine_cosine(pins->goal[e], &sine, &cosine); return LEAN_ARM_M * (tipped[0] * cosine - tipped[2] * sine);
        case PIN_UPRIGHT: return LEAN_ARM_M * (seen == segment ? tipped[1] : -tipped[1]);
        case PIN_OVER: return speed[3 * first + k] - speed[3 * chain->second[e] + k];
        default: return press[k] - middle_of(chain, speed, k);
    }
}

/* What unknown j turns; returns how many. */
static int all_turns(const Pins *pins, int j, Turn *turn) {
    const Chain *chain = pins->chain;
    int count = 0;
    for (int c = 0; c < 2; c++) {
        int slot = chain->slot[2 * j + c];
        const int32_t *outer = pins->outer + 4 * j + 2 * c;
        if (slot < 0) continue;
        count += turns_of(pins, slot, 0, outer[0], turn + count);
        if (chain->alike && slot >= FIRST_SIDE && !pins->even) count += turns_of(pins, slot, 1, outer[1], turn + count);
    }
    return count;
}

void pins_slopes(Pins *pins, double *out) {
    const Chain *chain = pins->chain;
    int ne = chain->n_equation, nu = chain->n_unknown, balanced = 0;
    Turn turn[MOST_TURNS];
    for (int e = 0; e < ne; e++) balanced |= chain->kind[e] == PIN_BALANCE;
    for (int side = 0; side < 2; side++)
        if (pins->parts & (ARM_PART << side)) pins->arm[side] = arm_at(pins->body, pins->row + FIRST_SIDE + A_SIDE * side + 10, chain->flat[side]);
    for (int j = 0; j < nu; j++) {
        int count = all_turns(pins, j, turn);
        double centre[3], press[3] = {0, 0, 0};
        mark_speeds(pins, turn, count);
        if (balanced) {
            centre_speed(pins, turn, count, pins->even && chain->slot[2 * j] >= FIRST_SIDE, centre);
            press_speed(pins, centre, press);
        }
        for (int e = 0; e < ne; e++) out[e * nu + j] = equation_speed(pins, e, press);
    }
}

/* ---- what stays the same from position to position ---- */

/* Which segments the equations need: those of the landmarks with all that carry them; all of them, with their centres, for a balance. */
static void mark_wanted(Pins *pins) {
    const Body *body = pins->body;
    const Chain *chain = pins->chain;
    int all = 0;
    for (int e = 0; e < chain->n_equation; e++) all |= chain->kind[e] == PIN_BALANCE;
    for (int s = 0; s < body->n_segment; s++) pins->wanted[s] = all && pins->seen[s] == s ? 2 : 0;
    for (int m = 0; m < chain->n_mark; m++)
        for (int s = pins->seen[chain->mark_segment[m]]; s > 0; s = body->parent[s]) pins->wanted[s] |= 1;
}

/* Which of these the solved angles move. room: n_q integers. */
static void mark_mobile(Pins *pins, int32_t *room) {
    const Body *body = pins->body;
    const Chain *chain = pins->chain;
    pins->parts = 0;
    for (int j = 0; j < 2 * chain->n_unknown; j++) pins->parts |= coordinates_part(chain->slot[j], chain->alike);
    coordinates_decided(body, pins->parts, chain->alike, room);
    pins->mobile[0] = 0;
    for (int s = 1; s < body->n_segment; s++) {
        int moves = pins->mobile[body->parent[s]];
        for (int j = body->first_joint[s]; j < body->first_joint[s] + body->joint_count[s]; j++) moves |= room[body->joint_q[j]];
        pins->mobile[s] = moves;
    }
    for (int s = 1; s < body->n_segment; s++) pins->mobile[s] = pins->mobile[s] ? pins->wanted[s] : 0;
}

static int32_t segment_of(const Body *body, int32_t q) {
    int j = 0;
    while (body->joint_q[j] != q) j++;
    return body->coord_segment[body->joint_coord[j]];
}

/* The outermost segment that the number at `slot` turns by itself on the right side or on the left. */
static int32_t outer_of(const Body *body, int slot, int left) {
    const int32_t *at = body->posture_q;
    int within = (slot - FIRST_SIDE) % A_SIDE;
    if (slot < 6) return segment_of(body, 0);
    if (slot < FIRST_SIDE) return segment_of(body, at[slot < 9 ? THORACIC : NECK]);
    if (within < 3) return segment_of(body, at[HIP + left]);
    return segment_of(body, at[within < 3 + HINGES ? HINGE + HINGES * left + within - 3 : SHOULDER + left]);
}

static void mark_outer(Pins *pins) {
    const Chain *chain = pins->chain;
    for (int j = 0; j < 2 * chain->n_unknown; j++) {
        int slot = chain->slot[j], left = slot >= FIRST_SIDE + A_SIDE;
        if (slot < 0) continue;
        pins->outer[2 * j] = outer_of(pins->body, slot, left);
        pins->outer[2 * j + 1] = outer_of(pins->body, slot, 1);
    }
}

/* Whether the trunk is upright from side to side at the keys and stays so, so that the left is the mirror image of the right bit by bit. */
static int is_even(const Chain *chain, const double *angle) {
    static const int32_t sideways[5] = {1, 4, 5, 7, 8};
    int even = chain->alike;
    for (int k = 0; k < 5; k++) {
        even &= angle[sideways[k]] == 0;
        for (int j = 0; j < 2 * chain->n_unknown; j++) even &= chain->slot[j] != sideways[k];
    }
    return even;
}

static void prepare(Pins *pins, int even) {
    const Body *body = pins->body;
    pins->prepared = even;
    mark_outer(pins);
    pins->even = even && mirror_segments(body, pins->seen);
    for (int s = 0; s < body->n_segment && !pins->even; s++) pins->seen[s] = s;
    mark_wanted(pins);
    mark_mobile(pins, (int32_t *)pins->q);
}

Pins pins_in(const Body *body, const Chain *chain, double **memory) {
    Pins pins = {.body = body, .chain = chain, .prepared = -1};
    int64_t segments = body->n_segment, marks = 3 * chain->n_mark;
    struct { double **place; int64_t n; } parts[] = {
        {&pins.q, body->n_q}, {&pins.row, ANGLES}, {&pins.point, marks}, {&pins.speed, marks}, {&pins.spin, marks}, {&pins.moved, marks},
        {&pins.mass, segments}, {&pins.moment, 3 * segments},
    };
    int32_t **whole[] = {&pins.wanted, &pins.mobile, &pins.seen};
    for (size_t k = 0; k < sizeof parts / sizeof *parts; k++) *parts[k].place = take_numbers(memory, parts[k].n);
    for (int k = 0; k < 3; k++) *whole[k] = take_integers(memory, segments);
    pins.outer = take_integers(memory, 4 * chain->n_unknown);
    pins.pose = pose_in(body, take_numbers(memory, (int64_t)pose_size(body)));
    return pins;
}

size_t pins_size(const Body *body, const Chain *chain) {
    double first[1], *end = first;
    pins_in(body, chain, &end);
    return (size_t)(end - first);
}

void pins_begin(Pins *pins, const double *angle, const double *goal, double held_n) {
    int even = is_even(pins->chain, angle);
    if (even != pins->prepared) prepare(pins, even);
    pins->goal = goal, pins->held_n = held_n, pins->looked = 0;
    memcpy(pins->row, angle, ANGLES * sizeof(double));
}
