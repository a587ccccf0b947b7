/* The counterpart of body/posture.py and body/girdle.py, where the rhythm of the shoulder blade has its sources. */
#include "coordinates.h"

#include <string.h>

#include "functions.h"
#include "vector.h"

#define INFINITESIMAL 1e-300

static const double ABOUT_X[3] = {1, 0, 0}, ABOUT_Z[3] = {0, 0, 1};

/* Turns about y, then x, then z, each in the frame turned by the one before [deg]. */
static void euler_yxz(double y_deg, double x_deg, double z_deg, double *out) {
    double half[4] = {y_deg * DEG / 2, x_deg * DEG / 2, z_deg * DEG / 2, 0}, sine[4], cosine[4];
    for (int k = 0; k < 4; k++) sine_cosine(half[k], sine + k, cosine + k); /* side by side */
    double cy = cosine[0], cx = cosine[1], cz = cosine[2], sy = sine[0], sx = sine[1], sz = sine[2];
    double w = cy * cx, a = cy * sx, b = sy * cx, c = -sy * sx;
    out[0] = w * cz - c * sz, out[1] = a * cz + b * sz, out[2] = b * cz - a * sz, out[3] = w * sz + c * cz;
}

static void mirror(double *quat) { quat[1] = -quat[1], quat[3] = -quat[3]; }

static void inverse(const double *quat, double *out) {
    out[0] = quat[0];
    for (int k = 1; k < 4; k++) out[k] = -quat[k];
}

/* Turns about three axes one after the other, whose half angles have these sines and cosines. */
static void three_turns(const double *axes, const double *sine, const double *cosine, double *out) {
    for (int k = 0; k < 3; k++) {
        double part[4] = {cosine[k], sine[k] * axes[3 * k], sine[k] * axes[3 * k + 1], sine[k] * axes[3 * k + 2]};
        if (k) quat_product(out, part, out);
        else memcpy(out, part, sizeof part);
    }
}

/* Thorax to upper arm, right side. */
void arm_turn(const double *shoulder, int flat, double *out) {
    double part[4];
    if (flat) {
        quat_about(ABOUT_Z, shoulder[2] * DEG, out);
        quat_about(ABOUT_X, -shoulder[1] * DEG, part);
        quat_product(out, part, out);
    } else {
        double x = -shoulder[1] * DEG, y = -shoulder[0] * DEG, angle = hypotenuse(x, y), sine;
        sine_cosine(angle / 2, &sine, out);
        double scale = angle > INFINITESIMAL ? sine / angle : 0.5;
        out[1] = x * scale, out[2] = y * scale, out[3] = 0;
    }
    quat_about(ABOUT_Z, shoulder[3] * DEG, part);
    quat_product(out, part, out);
}

/* Where clavicle and blade rest for an arm that points along `direction`: three angles each [deg]. */
void rest_girdle(const double *seat, const double *direction, double elevation, double protraction, double *clavicle, double *blade) {
    double front = direction[0], side = -direction[1], up = direction[2];
    double raised = arc_cosine(clamped(-up, -1, 1)) / PI, flat = hypotenuse(front, side), raised2 = raised * raised;
    double share = 0.90 * (1 - flat) + 0.66 * flat + 0.24 * (side + front), back = (hypotenuse(front, 0.2) - front) / 2 - 0.1;
    double soon = power(raised, 1.15), late = power(raised, 1.3), lift = elevation / 25, reach = protraction / 25;
    clavicle[0] = -14 * raised * share + 10 * front - 6 * side + protraction;
    clavicle[1] = 13 * soon * share + elevation;
    clavicle[2] = 32 * late * share;
    blade[0] = 8 * front - 5 * side - 8 * raised2 + 0.6 * protraction;
    blade[1] = 62 * soon * share + 0.2 * elevation;
    blade[2] = 22 * late * (0.9 * (1 - flat) + 0.45 * flat + 0.4 * (side + front)) - 14 * back;
    double terms[SEAT_TERMS] = {front,       side,         front * front, side * side,   front * side,    raised2,        raised2 * raised2, lift,
                                reach,       lift * lift,  reach * reach, lift * reach,  reach * front,   reach * raised2, lift * raised2};
    for (int k = 0; k < SEAT_TERMS; k++) blade[0] += terms[k] * seat[k], blade[2] += terms[k] * seat[SEAT_TERMS + k];
}

/* The three hinges at the outer end of the clavicle [rad] that put the blade there, given the turns of both. */
static void outer_hinges(const double *axes, const double *clavicle, const double *blade, double *out) {
    const double *order[3] = {axes + 3, axes + 6, axes}; /* upward, tilt, internal */
    double back[4], between[4], m[9], turned_axis[3], part[3][3];
    inverse(clavicle, back);
    quat_product(back, blade, between);
    quat_matrix(between, m);
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++) {
            turned(m, order[j], turned_axis);
            part[i][j] = dot(order[i], turned_axis);
        }
    out[0] = direction_of(-part[0][1], part[1][1]);
    out[1] = arc_sine(clamped(part[2][1], -1, 1));
    out[2] = direction_of(-part[2][0], part[2][2]);
}

/* Thorax to clavicle, to blade and to upper arm of the right side from its six angles; the clavicle's three angles [deg]. */
static void arm_chain(const Body *body, const double *angle, int flat, double *clavicle, double *clavicle_turn, double *blade_turn, double *arm) {
    double m[9], direction[3], blade[3], half[8] = {0}, sine[8], cosine[8];
    arm_turn(angle, flat, arm);
    quat_matrix(arm, m);
    for (int k = 0; k < 3; k++) direction[k] = -m[3 * k + 2];
    rest_girdle(body->girdle_seat, direction, angle[4], angle[5], clavicle, blade);
    for (int k = 0; k < 3; k++) half[k] = blade[k] * DEG / 2, half[4 + k] = clavicle[k] * DEG / 2;
    for (int k = 0; k < 8; k++) sine_cosine(half[k], sine + k, cosine + k); /* side by side */
    three_turns(body->girdle_axes + 9, sine, cosine, blade_turn);
    three_turns(body->girdle_axes, sine + 4, cosine + 4, clavicle_turn);
}

/* Six girdle coordinates and the shoulder's ball of the right side from its six angles. */
static void shoulder(const Body *body, const double *angle, int flat, double *girdle, double *ball) {
    double arm[4], clavicle[3], blade_turn[4], clavicle_turn[4], back[4];
    arm_chain(body, angle, flat, clavicle, clavicle_turn, blade_turn, arm);
    for (int k = 0; k < 3; k++) girdle[k] = clavicle[k] * DEG;
    outer_hinges(body->girdle_axes + 9, clavicle_turn, blade_turn, girdle + 3);
    inverse(blade_turn, back);
    quat_product(back, arm, ball);
}

void arm_rates(const Body *body, const double *angle, int flat, int which, double step, double *about) {
    double own[6], clavicle[3], ahead[3][4], behind[3][4], back[4], turn[4];
    memcpy(own, angle, sizeof own);
    own[which] = angle[which] + step;
    arm_chain(body, own, flat, clavicle, ahead[0], ahead[1], ahead[2]);
    own[which] = angle[which] - step;
    arm_chain(body, own, flat, clavicle, behind[0], behind[1], behind[2]);
    for (int s = 0; s < 3; s++) {
        inverse(behind[s], back);
        quat_product(ahead[s], back, turn);
        for (int k = 0; k < 3; k++) about[3 * s + k] = turn[1 + k] / step;
    }
}

void euler_rate(const double *angle, int which, double rate, double *about) {
    double sy, cy, sx, cx;
    sine_cosine(angle[0] * DEG, &sy, &cy);
    sine_cosine(angle[1] * DEG, &sx, &cx);
    double axis[3][3] = {{0, 1, 0}, {cy, 0, -sy}, {cx * sy, -sx, cx * cy}};
    for (int k = 0; k < 3; k++) about[k] = axis[which][k] * rate * DEG;
}

static void set_hip(const Body *body, const double *angle, int side, double *q) {
    double *hip = q + body->posture_q[HIP + side];
    euler_yxz(-angle[0], -angle[1], angle[2], hip);
    if (side) mirror(hip);
}

static void set_hinges(const Body *body, const double *angle, int side, double *q) {
    for (int k = 0; k < HINGES; k++) q[body->posture_q[HINGE + HINGES * side + k]] = angle[3 + k] * DEG;
}

static void set_arm(const Body *body, const double *angle, int side, int flat, double *q) {
    const int32_t *at = body->posture_q;
    double *girdle = q + at[GIRDLE + side], *ball = q + at[SHOULDER + side];
    shoulder(body, angle + 10, flat, girdle, ball);
    if (side) mirror(ball);
}

static void copy_to_left(const Body *body, double *q) {
    const int32_t *at = body->posture_q;
    memcpy(q + at[HIP + 1], q + at[HIP], 4 * sizeof(double));
    memcpy(q + at[SHOULDER + 1], q + at[SHOULDER], 4 * sizeof(double));
    mirror(q + at[HIP + 1]);
    mirror(q + at[SHOULDER + 1]);
    for (int k = 0; k < HINGES; k++) q[at[HINGE + HINGES + k]] = q[at[HINGE + k]];
    memcpy(q + at[GIRDLE + 1], q + at[GIRDLE], 6 * sizeof(double));
}

static void set_place(const double *angle, double *q) {
    for (int k = 0; k < 3; k++) q[k] = angle[k] * 0.01;
}

static void set_trunk(const Body *body, const double *angle, double *q) {
    const int32_t *at = body->posture_q;
    const double *trunk = angle + 6, *share = body->trunk_share;
    euler_yxz(trunk[0] * share[0], trunk[1] * share[1], trunk[2] * share[2], q + at[LUMBAR]);
    euler_yxz(trunk[0] * (1 - share[0]), trunk[1] * (1 - share[1]), trunk[2] * (1 - share[2]), q + at[THORACIC]);
}

void coordinates(const Body *body, const double *angle, int alike, const int32_t *flat, double *q) {
    memcpy(q, body->neutral, (size_t)body->n_q * sizeof(double));
    coordinates_of(body, angle, ALL_PARTS, alike, flat, q);
}

int coordinates_part(int slot, int alike) {
    int side = slot >= FIRST_SIDE + A_SIDE, within = slot - FIRST_SIDE - A_SIDE * side;
    if (slot < 0 || (alike && side)) return 0;
    if (slot < FIRST_SIDE) return slot < 3 ? PLACE_PART : slot < 6 ? PELVIS_PART : slot < 9 ? TRUNK_PART : NECK_PART;
    return (within < 3 ? HIP_PART : within < 3 + HINGES ? HINGES_PART : ARM_PART) << side;
}

void coordinates_of(const Body *body, const double *angle, int parts, int alike, const int32_t *flat, double *q) {
    if (parts & PLACE_PART) set_place(angle, q);
    if (parts & PELVIS_PART) euler_yxz(angle[3], angle[4], angle[5], q + 3);
    if (parts & TRUNK_PART) set_trunk(body, angle, q);
    if (parts & NECK_PART) euler_yxz(angle[9], angle[10], angle[11], q + body->posture_q[NECK]);
    for (int side = 0; side < (alike ? 1 : 2); side++) {
        const double *own = angle + FIRST_SIDE + A_SIDE * side;
        if (parts & (HIP_PART << side)) set_hip(body, own, side, q);
        if (parts & (HINGES_PART << side)) set_hinges(body, own, side, q);
        if (parts & (ARM_PART << side)) set_arm(body, own, side, flat[side], q);
    }
    if (alike && parts >= HIP_PART) copy_to_left(body, q);
}

void coordinates_decided(const Body *body, int parts, int alike, int32_t *decided) {
    const int32_t *at = body->posture_q;
    for (int k = 0; k < body->n_q; k++) decided[k] = 0;
    decided[0] = (parts & (PLACE_PART | PELVIS_PART)) != 0;
    if (parts & TRUNK_PART) decided[at[LUMBAR]] = decided[at[THORACIC]] = 1;
    if (parts & NECK_PART) decided[at[NECK]] = 1;
    for (int side = 0; side < 2; side++) {
        int own = alike ? parts : parts >> side;
        if (own & HIP_PART) decided[at[HIP + side]] = 1;
        for (int k = 0; k < HINGES && own & HINGES_PART; k++) decided[at[HINGE + HINGES * side + k]] = 1;
        for (int k = 0; k < 6 && own & ARM_PART; k++) decided[at[GIRDLE + side] + k] = 1;
        if (own & ARM_PART) decided[at[SHOULDER + side]] = 1;
    }
}

/* Coordinates (n_pos, n_q) of n_pos postures, angles (n_pos, ANGLES). */
void lw_coordinates(const Body *body, int n_pos, const double *angles, int alike, const int32_t *flat, double *q) {
    for (size_t i = 0; i < (size_t)n_pos; i++)
        coordinates(body, angles + ANGLES * i, alike, flat, q + i * (size_t)body->n_q);
}
