#include "resistance.h"

#include <math.h>
#include <string.h>

#include "vector.h"

#define GRAVITY 9.80665
#define LEAST_M 0.01

int resistance_needs_way(const Lift *lift) {
    int kind = lift->resistance;
    return kind == RESIST_BAND || kind == RESIST_ACROSS || kind == RESIST_LEVER || (kind == RESIST_WEIGHT && lift->chains > 0);
}

double resistance_cam(const Lift *lift, double phase) {
    double at = phase * (lift->n_cam - 1);
    int k = at >= lift->n_cam - 1 ? lift->n_cam - 2 : at < 0 ? 0 : (int)at;
    return lift->cam[k] + (at - k) * (lift->cam[k + 1] - lift->cam[k]);
}

static double each_of(const Lift *lift) { return lift->each ? 1.0 : 1.0 / lift->n_load; }

/* From a landmark to the end of its band. */
static void reach_of(const Lift *lift, const double *at, int m, double *out) {
    const double *end = lift->resistance == RESIST_ACROSS ? at + 3 * (lift->n_load - 1 - m) : lift->anchor + 3 * m;
    for (int k = 0; k < 3; k++) out[k] = end[k] - at[3 * m + k];
}

static const double *axis_of(const Lift *lift, const double *at, int m) {
    return lift->axis_mark[m] >= 0 ? at + 3 * (lift->n_load + m) : lift->anchor + 3 * m;
}

/* The way a pad goes about its axis. */
static void tangent(const Lift *lift, const double *at, int m, double *out) {
    const double *axis = axis_of(lift, at, m);
    double arm[3];
    for (int k = 0; k < 3; k++) arm[k] = at[3 * m + k] - axis[k];
    double along = dot(arm, lift->about);
    for (int k = 0; k < 3; k++) arm[k] -= along * lift->about[k];
    cross(lift->about, arm, out);
    unit3(out);
}

static double height_of(const Lift *lift, const double *at) {
    double sum = 0;
    for (int m = 0; m < lift->n_load; m++) sum += at[3 * m + 2];
    return sum / lift->n_load;
}

static double longest_reach(const Lift *lift, int n_way, const double *way) {
    double longest = 0, reach[3];
    for (int w = 0; w < n_way; w++)
        for (int m = 0; m < lift->n_load; m++) {
            reach_of(lift, way + (size_t)w * 6 * (size_t)lift->n_load, m, reach);
            longest = fmax(longest, sqrt(dot(reach, reach)));
        }
    return longest;
}

/* On which side of its axis a lever pushes against the way its pad goes: 1, -1, or 0 where it stands still. */
static double side_of(const Lift *lift, int n_way, const double *way, int m) {
    double before[3], now[3], along = 0;
    size_t stride = 6 * (size_t)lift->n_load;
    tangent(lift, way, m, before);
    for (int w = 1; w < n_way; w++) {
        const double *at = way + (size_t)w * stride + 3 * m;
        tangent(lift, way + (size_t)w * stride, m, now);
        for (int k = 0; k < 3; k++) along += (at[k] - at[k - (int)stride]) * (now[k] + before[k]) / 2;
        copy3(now, before);
    }
    return along > 0 ? -1 : along < 0 ? 1 : 0;
}

void resistance_law(const Lift *lift, int n_way, const double *way, double *law) {
    memset(law, 0, (size_t)(LAW + lift->n_load) * sizeof(double));
    if (lift->resistance == RESIST_BAND || lift->resistance == RESIST_ACROSS) law[0] = longest_reach(lift, n_way, way);
    if (lift->resistance == RESIST_LEVER)
        for (int m = 0; m < lift->n_load; m++) law[LAW + m] = side_of(lift, n_way, way, m);
    if (lift->resistance != RESIST_WEIGHT) return;
    double high = -INFINITY, low = INFINITY;
    for (int w = 0; w < n_way; w++) {
        double here = height_of(lift, way + (size_t)w * 6 * (size_t)lift->n_load);
        high = fmax(high, here), low = fmin(low, here);
    }
    law[0] = low, law[1] = high - low;
}

static double weight_at(const Lift *lift, const double *law, const double *at) {
    if (lift->chains == 0) return 1;
    double lifted = law[1] > 0 ? (height_of(lift, at) - law[0]) / law[1] : 1;
    return 1 - lift->chains * (1 - lifted);
}

double resistance_at(const Lift *lift, const double *law, double phase, const double *at, double *force, double *rail) {
    double size = GRAVITY * each_of(lift), length;
    if (lift->resistance == RESIST_WEIGHT) size *= weight_at(lift, law, at);
    if (lift->resistance == RESIST_CABLE) size *= lift->ratio;
    if (lift->resistance == RESIST_ACROSS) size = GRAVITY;
    if (lift->resistance == RESIST_LEVER) size *= resistance_cam(lift, phase);
    for (int m = 0; m < lift->n_load; m++) {
        double *own = force + 3 * m, *way = rail + 3 * m;
        if (lift->resistance == RESIST_SLED) {
            own[0] = own[1] = own[2] = 0;
            copy3(lift->rail, way);
            continue;
        }
        if (lift->resistance == RESIST_WEIGHT) own[0] = own[1] = 0, own[2] = -1;
        else if (lift->resistance == RESIST_LEVER) tangent(lift, at, m, own);
        else reach_of(lift, at, m, own);
        length = lift->resistance == RESIST_WEIGHT || lift->resistance == RESIST_LEVER ? 1 : unit3(own);
        double part = size;
        if (lift->resistance == RESIST_BAND || lift->resistance == RESIST_ACROSS)
            part *= fmax(length - lift->slack, 0) / (law[0] - lift->slack);
        if (lift->resistance == RESIST_LEVER) part *= law[LAW + m];
        for (int k = 0; k < 3; k++) own[k] *= part;
        if (!lift->held_lever) continue;
        for (int k = 0; k < 3; k++) way[k] = -own[k], own[k] = 0;
        unit3(way);
    }
    return lift->held_lever ? GRAVITY * resistance_cam(lift, phase) : lift->rail_n;
}

double resistance_held(const Lift *lift, const double *law, Chain *chain, double *from, double *about) {
    double size = lift->holding, rate;
    chain->growth = 0, chain->least = -INFINITY, chain->held_kind = HELD_NOTHING, chain->from = from, chain->about = about;
    memset(from, 0, 3 * (size_t)chain->n_held * sizeof(double));
    memset(about, 0, 3 * (size_t)chain->n_held * sizeof(double));
    if (size == 0 || lift->resistance == RESIST_SLED || lift->resistance == RESIST_ACROSS) return 0;
    memcpy(from, lift->anchor, 3 * (size_t)chain->n_held * sizeof(double));
    switch (lift->resistance) {
        case RESIST_CABLE: chain->held_kind = HELD_PULL; return size * lift->ratio;
        case RESIST_BAND:
            rate = size / fmax(law[0] - lift->slack, LEAST_M);
            chain->held_kind = HELD_PULL, chain->growth = rate, chain->least = 0;
            return -lift->slack * rate;
        case RESIST_LEVER:
            chain->held_kind = HELD_LEVER;
            for (int h = 0; h < chain->n_held; h++)
                for (int k = 0; k < 3; k++) about[3 * h + k] = law[LAW + h] * lift->about[k];
            return size;
        default: break;
    }
    chain->held_kind = HELD_WEIGHT;
    if (lift->chains == 0) return size;
    rate = lift->chains / fmax(law[1], LEAST_M);
    chain->growth = size * rate, chain->least = 0;
    return size * (1 - lift->chains - rate * law[0]);
}
