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

/* What the rhythm of the girdle is written in. */
static Rhythm rhythm_of(const double *direction, double elevation, double protraction) {
    Rhythm r = {.front = direction[0], .side = -direction[1], .lift = elevation / 25, .reach = protraction / 25};
    r.raised = arc_cosine(clamped(-direction[2], -1, 1)) / PI, r.flat = hypotenuse(r.front, r.side);
    r.share = 0.90 * (1 - r.flat) + 0.66 * r.flat + 0.24 * (r.side + r.front), r.ahead = hypotenuse(r.front, 0.2);
    r.soon = power(r.raised, 1.15), r.late = power(r.raised, 1.3);
    return r;
}

/* Where clavicle and blade rest: three angles each [deg]. */
static void girdle_at(const double *seat, const Rhythm *r, double *clavicle, double *blade) {
    double front = r->front, side = r->side, raised2 = r->raised * r->raised, lift = r->lift, reach = r->reach;
    clavicle[0] = -14 * r->raised * r->share + 10 * front - 6 * side + 25 * reach;
    clavicle[1] = 13 * r->soon * r->share + 25 * lift;
    clavicle[2] = 32 * r->late * r->share;
    blade[0] = 8 * front - 5 * side - 8 * raised2 + 15 * reach;
    blade[1] = 62 * r->soon * r->share + 5 * lift;
    blade[2] = 22 * r->late * (0.9 * (1 - r->flat) + 0.45 * r->flat + 0.4 * (side + front)) - 14 * ((r->ahead - front) / 2 - 0.1);
    double terms[SEAT_TERMS] = {front,       side,         front * front, side * side,   front * side,    raised2,        raised2 * raised2, lift,
                                reach,       lift * lift,  reach * reach, lift * reach,  reach * front,   reach * raised2, lift * raised2};
    for (int k = 0; k < SEAT_TERMS; k++) blade[0] += terms[k] * seat[k], blade[2] += terms[k] * seat[SEAT_TERMS + k];
}

/* How fast these change while the arm's direction, lift and reach do. */
static void girdle_rates(const double *seat, const Rhythm *r, const double *direction, double lift, double reach, double *clavicle, double *blade) {
    double front = direction[0], side = -direction[1], flat = r->flat > 0 ? (r->front * front + r->side * side) / r->flat : 0;
    double raised = r->flat > 0 ? direction[2] / (PI * r->flat) : 0, share = 0.24 * (side + front - flat), raised2 = r->raised * r->raised;
    double soon = r->raised > 0 ? 1.15 * r->soon / r->raised * raised : 0, late = r->raised > 0 ? 1.3 * r->late / r->raised * raised : 0;
    double twice = 2 * r->raised * raised, rear = (r->front / r->ahead - 1) * front / 2;
    clavicle[0] = -14 * (raised * r->share + r->raised * share) + 10 * front - 6 * side + 25 * reach;
    clavicle[1] = 13 * (soon * r->share + r->soon * share) + 25 * lift;
    clavicle[2] = 32 * (late * r->share + r->late * share);
    blade[0] = 8 * front - 5 * side - 8 * twice + 15 * reach;
    blade[1] = 62 * (soon * r->share + r->soon * share) + 5 * lift;
    blade[2] = 22 * (late * (0.9 - 0.45 * r->flat + 0.4 * (r->side + r->front)) + r->late * (0.4 * (side + front) - 0.45 * flat)) - 14 * rear;
    double terms[SEAT_TERMS] = {front, side, 2 * r->front * front, 2 * r->side * side, front * r->side + r->front * side, twice, 2 * raised2 * twice,
                                lift, reach, 2 * r->lift * lift, 2 * r->reach * reach, lift * r->reach + r->lift * reach,
                                reach * r->front + r->reach * front, reach * raised2 + r->reach * twice, lift * raised2 + r->lift * twice};
    for (int k = 0; k < SEAT_TERMS; k++) blade[0] += terms[k] * seat[k], blade[2] += terms[k] * seat[SEAT_TERMS + k];
}

void rest_girdle(const double *seat, const double *direction, double elevation, double protraction, double *clavicle, double *blade) {
    Rhythm rhythm = rhythm_of(direction, elevation, protraction);
    girdle_at(seat, &rhythm, clavicle, blade);
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

/* Half the turns of the girdle's hinges: their sines and cosines, the blade's three from 0 on, the clavicle's from 4 on. */
static void half_turns(const double *clavicle, const double *blade, double *sine, double *cosine) {
    double half[8] = {0};
    for (int k = 0; k < 3; k++) half[k] = blade[k] * DEG / 2, half[4 + k] = clavicle[k] * DEG / 2;
    for (int k = 0; k < 8; k++) sine_cosine(half[k], sine + k, cosine + k); /* side by side */
}

static void hanging_direction(const double *arm, double *out) {
    double m[9];
    quat_matrix(arm, m);
    for (int k = 0; k < 3; k++) out[k] = -m[3 * k + 2];
}

/* Six girdle coordinates and the shoulder's ball of the right side from its six angles. */
static void shoulder(const Body *body, const double *angle, int flat, double *girdle, double *ball) {
    double arm[4], direction[3], clavicle[3], blade[3], blade_turn[4], clavicle_turn[4], back[4], sine[8], cosine[8];
    arm_turn(angle, flat, arm);
    hanging_direction(arm, direction);
    rest_girdle(body->girdle_seat, direction, angle[4], angle[5], clavicle, blade);
    half_turns(clavicle, blade, sine, cosine);
    three_turns(body->girdle_axes + 9, sine, cosine, blade_turn);
    three_turns(body->girdle_axes, sine + 4, cosine + 4, clavicle_turn);
    for (int k = 0; k < 3; k++) girdle[k] = clavicle[k] * DEG;
    outer_hinges(body->girdle_axes + 9, clavicle_turn, blade_turn, girdle + 3);
    inverse(blade_turn, back);
    quat_product(back, arm, ball);
}

/* Axes of three hinges that turn one after the other, where the turns before each have taken it (3, 3). */
static void carried_axes(const double *axes, const double *sine, const double *cosine, double *out) {
    double turn[4] = {1, 0, 0, 0}, m[9];
    for (int k = 0; k < 3; k++) {
        double part[4] = {cosine[k], sine[k] * axes[3 * k], sine[k] * axes[3 * k + 1], sine[k] * axes[3 * k + 2]};
        quat_matrix(turn, m);
        turned(m, axes + 3 * k, out + 3 * k);
        quat_product(turn, part, turn);
    }
}

Arm arm_at(const Body *body, const double *angle, int flat) {
    Arm arm = {.flat = flat};
    double turn[4], clavicle[3], blade[3], sine[8], cosine[8];
    memcpy(arm.angle, angle, sizeof arm.angle);
    arm_turn(angle, flat, turn);
    hanging_direction(turn, arm.direction);
    arm.rhythm = rhythm_of(arm.direction, angle[4], angle[5]);
    girdle_at(body->girdle_seat, &arm.rhythm, clavicle, blade);
    half_turns(clavicle, blade, sine, cosine);
    carried_axes(body->girdle_axes, sine + 4, cosine + 4, arm.clavicle);
    carried_axes(body->girdle_axes + 9, sine, cosine, arm.blade);
    return arm;
}

/* How the upper arm turns in the thorax as one of the shoulder's four angles grows [rad/deg]. A swing is a rotation vector, and turns by the
 * left Jacobian of its change. */
static void upper_arm_rate(const Arm *arm, int which, double *about) {
    double sine, cosine, x = -arm->angle[1] * DEG, y = -arm->angle[0] * DEG, angle = hypotenuse(x, y);
    about[0] = about[1] = about[2] = 0;
    if (which == 3)
        for (int k = 0; k < 3; k++) about[k] = -arm->direction[k];
    else if (arm->flat) {
        sine_cosine(arm->angle[2] * DEG, &sine, &cosine);
        if (which == 2) about[2] = 1;
        if (which == 1) about[0] = -cosine, about[1] = -sine;
    } else if (which < 2) {
        double change[2] = {which == 1 ? -1.0 : 0, which == 0 ? -1.0 : 0}, way[2] = {1, 0};
        sine_cosine(angle / 2, &sine, &cosine);
        if (angle > INFINITESIMAL) way[0] = x / angle, way[1] = y / angle;
        double straight = angle > INFINITESIMAL ? 2 * sine * cosine / angle : 1, bent = angle > INFINITESIMAL ? 2 * sine * sine / angle : 0;
        double along = (1 - straight) * (way[0] * change[0] + way[1] * change[1]);
        about[0] = straight * change[0] + along * way[0], about[1] = straight * change[1] + along * way[1];
        about[2] = bent * (way[0] * change[1] - way[1] * change[0]);
    }
    for (int k = 0; k < 3; k++) about[k] *= DEG;
}

void arm_rates(const Body *body, const Arm *arm, int which, double *about) {
    double moved[3], clavicle[3], blade[3];
    upper_arm_rate(arm, which, about + 6);
    cross(about + 6, arm->direction, moved);
    girdle_rates(body->girdle_seat, &arm->rhythm, moved, which == 4 ? 0.04 : 0, which == 5 ? 0.04 : 0, clavicle, blade);
    for (int c = 0; c < 3; c++) {
        about[c] = about[3 + c] = 0;
        for (int k = 0; k < 3; k++)
            about[c] += clavicle[k] * DEG * arm->clavicle[3 * k + c], about[3 + c] += blade[k] * DEG * arm->blade[3 * k + c];
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
