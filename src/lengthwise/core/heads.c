#include "heads.h"

#include <string.h>

#include "facts.h"
#include "fibres.h"
#include "team.h"
#include "turns.h"
#include "vector.h"

#define SILENT_N 1e-9
#define STILL_M 1e-3

size_t heads_size(const Body *body, const Muscles *muscles, const Lift *lift) {
    size_t change = (size_t)lift->n_pos * (size_t)body->n_coord;
    size_t heads = (size_t)lift->n_head * (size_t)(muscles->n_group + 1) + integers_size(lift->n_head + 1);
    return change > heads ? change : heads;
}

size_t heads_own_size(const Body *body, const Lift *lift) {
    size_t lines = 9 * (size_t)lift->n_line, turn = (size_t)body->n_coord, facts = facts_own_size(lift), most = lines > turn ? lines : turn;
    return most > facts ? most : facts;
}

/* Half of how far each coordinate turns towards a position and on from it (n_coord). */
static void half_turns(const Body *body, const Lift *lift, const Result *result, int64_t i, double *half, double *turn) {
    const double *q = result->q + (size_t)i * body->n_q;
    for (int d = 0; d < body->n_coord; d++) half[d] = 0;
    for (int side = 0; side < 2; side++) {
        if (side ? i + 1 == lift->n_pos : i == 0) continue;
        lw_turns(body, 1, side ? q : q - body->n_q, side ? q + body->n_q : q, turn);
        for (int d = 0; d < body->n_coord; d++) half[d] += turn[d] / 2;
    }
}

void heads_change(const Body *body, const Muscles *muscles, const Lift *lift, const Pattern *pattern, const Result *result,
                  const Posed *posed, double *change, double *scratch, double *own) {
    int nv = body->n_coord, n_group = muscles->n_group;
    for EACH(i, lift->n_pos) half_turns(body, lift, result, i, scratch + i * nv, own);
    meet();
    for EACH(l, lift->n_line) {
        for (int g = 0; g < n_group; g++) change[l * n_group + g] = 0;
        for (int i = 0; i < lift->n_pos; i++)
            for (int32_t a = pattern->arm_start[l]; a < pattern->arm_start[l + 1]; a++) {
                int32_t d = pattern->arm_coord[a], group = muscles->group[d];
                if (group >= 0) change[l * n_group + group] += posed[i].arm[a] * scratch[i * nv + d];
            }
    }
    meet();
}

/* Where the lines of each head begin, as they stand head by head; the last entry is where all end (n_head + 1). */
static void first_lines(const Muscles *m, const Lift *lift, int32_t *first) {
    for EACH(h, lift->n_head + 1) first[h] = 0;
    meet();
    for (int32_t l = 0; l < lift->n_line && HAND == 0; l++) first[m->head[l] + 1] = l + 1;
    for (int h = 0; h < lift->n_head && HAND == 0; h++)
        if (first[h + 1] < first[h]) first[h + 1] = first[h];
    meet();
}

/* Strength of each head over its lines that are asked for (n_head). */
static void strengths(const Muscles *m, const Lift *lift, const int32_t *first, double *out) {
    for EACH(h, lift->n_head) {
        out[h] = 0;
        for (int32_t l = first[h]; l < first[h + 1]; l++)
            if (lift->used[l]) out[h] += m->force[l];
    }
    meet();
}

/* Effort of each head over the lift: activation times volume of its lines (n_head). */
static void efforts(const Muscles *m, const Lift *lift, const double *activation, const int32_t *first, double *out) {
    for EACH(h, lift->n_head) {
        out[h] = 0;
        for (int i = 0; i < lift->n_pos; i++)
            for (int32_t l = first[h]; l < first[h + 1]; l++) out[h] += activation[i * lift->n_line + l] * m->force[l] * m->optimal[l];
    }
}

/* Where to look for the length of line l along its path [of optimal]: between resting and fully active. */
static double begun(const Muscles *m, int l, double path, double activation, double relaxed) {
    double room = (path - m->slack[l]) / m->optimal[l], width = m->width[l];
    double resting = sqrt(larger(relaxed * relaxed - width * width, 0)), eased = fibres_eased(activation);
    return resting + eased * (fibres_first(m->begin + l * BEGINS, room) - resting);
}

/* Fibre lengths of the lines that are asked for at one position (n_line); lines at rest are known. room: 8 * n_line numbers. */
static void lengths(const Muscles *m, const Lift *lift, const double *path, const double *activation, const double *relaxed, double *out,
                    double *room) {
    int n = lift->n_line, count = 0;
    double *of[8];
    for (int k = 0; k < 8; k++) of[k] = room + k * n;
    for (int l = 0; l < n; l++) {
        out[l] = relaxed[l];
        if (!lift->used[l] || activation[l] == 0) continue;
        of[0][count] = path[l], of[1][count] = m->slack[l], of[2][count] = m->optimal[l], of[3][count] = m->width[l];
        of[4][count] = activation[l], of[7][count++] = begun(m, l, path[l], activation[l], relaxed[l]);
    }
    lw_settle(1, count, count, of[0], of[1], of[2], of[3], of[4], of[7], of[5], of[6], of[0]);
    count = 0;
    for (int l = 0; l < n; l++)
        if (lift->used[l] && activation[l] != 0) out[l] = of[5][count++];
}

/* The curves at position i: what the lines do, weighted by their strength or summed over the head. */
static void curves(const Muscles *m, const Lift *lift, Result *r, const Worked *worked, int64_t i, const double *strength, double *length,
                   double *room) {
    size_t at = (size_t)i * lift->n_line, to = (size_t)i * lift->n_head, size = (size_t)lift->n_head * sizeof(double);
    const double *activation = worked->activation + at;
    double *curve[] = {r->length + to, r->span + to, r->activation + to, r->active + to, r->passive + to};
    lengths(m, lift, r->path + at, activation, worked->relaxed + at, length, room);
    for (int k = 0; k < 5; k++) memset(curve[k], 0, size);
    for (int l = 0; l < lift->n_line; l++) {
        int h = m->head[l];
        if (!lift->used[l]) continue;
        double weight = m->force[l] / strength[h];
        curve[0][h] += weight * length[l];
        curve[1][h] += weight * clamped((length[l] - m->shortest[l]) / (m->longest[l] - m->shortest[l]), 0, 1);
        curve[2][h] += weight * smaller(activation[l] / lift->skill, 1);
        curve[3][h] += activation[l] * worked->active[at + l];
        curve[4][h] += worked->passive[at + l];
    }
}

/* Measures of one head over its curves; `out` as Result.measure. */
static void measure(const Lift *lift, const Result *r, int h, double *out) {
    int n = lift->n_head, longest = 0;
    double total = 0, peak = 0, mean = 0, upper = 0;
    out[0] = -INFINITY;
    for (int i = 0; i < lift->n_pos; i++) {
        double active = r->active[i * n + h];
        total += active, peak = larger(peak, active);
        mean += active * r->length[i * n + h];
        upper += r->span[i * n + h] >= UPPER_THIRD ? active : 0;
        out[0] = larger(out[0], r->span[i * n + h]);
        if (r->length[i * n + h] > r->length[longest * n + h]) longest = i;
    }
    int works = total > SILENT_N;
    out[1] = 0;
    for (int i = 0; i < lift->n_pos && !works; i++) out[1] += r->length[i * n + h] / lift->n_pos;
    if (works) out[1] = mean / total;
    out[2] = works ? upper / total : 0;
    out[3] = peak > SILENT_N ? r->active[longest * n + h] / peak : 0;
}

/* 1 less the whole change of length over that by each joint alone (n_head, at stride MEASURES). */
static void conflicts(const Muscles *m, const Lift *lift, const double *change, const double *strength, const int32_t *first, double *room,
                      double *out) {
    for EACH(h, lift->n_head) {
        double gross = 0, net = 0, *each = room + h * m->n_group;
        for (int g = 0; g < m->n_group; g++) each[g] = 0;
        for (int32_t l = first[h]; l < first[h + 1]; l++)
            for (int g = 0; g < m->n_group && lift->used[l]; g++) each[g] += m->force[l] / strength[h] * change[l * m->n_group + g];
        for (int g = 0; g < m->n_group; g++) gross += fabs(each[g]), net += each[g];
        out[h * MEASURES] = gross > STILL_M ? 1 - fabs(net) / gross : 0;
    }
}

void heads_solve(const Muscles *m, const Lift *lift, Result *result, const Worked *worked, double *scratch, double *own) {
    double *strength = take_numbers(&scratch, lift->n_head), *each = take_numbers(&scratch, (int64_t)lift->n_head * m->n_group);
    int32_t *first = take_integers(&scratch, lift->n_head + 1);
    first_lines(m, lift, first);
    strengths(m, lift, first, strength);
    efforts(m, lift, worked->activation, first, result->effort);
    for EACH(i, lift->n_pos) curves(m, lift, result, worked, i, strength, own, own + lift->n_line);
    meet();
    for EACH(h, lift->n_head) measure(lift, result, (int)h, result->measure + h * MEASURES);
    meet();
    conflicts(m, lift, worked->change, strength, first, each, result->measure + 4);
    meet();
    facts_solve(m, lift, result, first, own);
}
