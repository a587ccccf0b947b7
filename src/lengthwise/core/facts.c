#include "facts.h"

#include "heads.h"
#include "team.h"
#include "vector.h"

#define WORKING 0.2
#define SILENT_N 1e-6
#define HELD 0.01

/* Curves of a head side by side (n_pos each), and room (n_pos, or n_line where that is more). */
typedef struct {
    double *activation, *span, *force, *length, *room;
} Curves;

/* What a side of a head does over the lift: shortening [optimal fibre lengths] and mean activation. */
typedef struct {
    double shortening, drive;
} Done;

size_t facts_own_size(const Lift *lift) {
    size_t n = (size_t)lift->n_pos, lines = (size_t)lift->n_line;
    return 4 * n + (n > lines ? n : lines);
}

static Curves curves_in(const Lift *lift, double *own) {
    int64_t n = lift->n_pos;
    Curves c = {own, own + n, own + 2 * n, own + 3 * n, own + 4 * n};
    return c;
}

/* Eight sums side by side, then the rest: NumPy's order up to 128 numbers. */
static double summed(const double *values, int n) {
    double part[8] = {0}, all = 0;
    int i = 0;
    for (; i + 8 <= n; i += 8)
        for (int k = 0; k < 8; k++) part[k] += values[i + k];
    if (i) all = ((part[0] + part[1]) + (part[2] + part[3])) + ((part[4] + part[5]) + (part[6] + part[7]));
    for (; i < n; i++) all += values[i];
    return all;
}

/* Values times weights of the lines of a head, the rest summed before the first is added: NumPy's order up to 8 lines. */
static double of_lines(const double *values, const double *weight, int n) {
    double rest = 0;
    for (int l = 1; l < n; l++) rest += weight ? values[l] * weight[l] : values[l];
    return (weight ? values[0] * weight[0] : values[0]) + rest;
}

/* Sum over neighbouring positions of activation times how far the head's path shortens, and mean activation. */
static Done done_by(const Muscles *m, const Lift *lift, const Result *r, int head, const int32_t *first, Curves c) {
    int from = first[head], lines = first[head + 1] - from, n = lift->n_pos;
    double strength = of_lines(m->force + from, 0, lines), before = 0, sum = 0;
    for (int l = 0; l < lines; l++) c.room[l] = m->force[from + l] / strength / m->optimal[from + l];
    for (int i = 0; i < n; i++) {
        double path = of_lines(r->path + (size_t)i * lift->n_line + from, c.room, lines);
        c.activation[i] = r->activation[(size_t)i * lift->n_head + head];
        if (i) sum += (c.activation[i] + c.activation[i - 1]) / 2 * (path - before);
        before = path;
    }
    Done done = {-sum, summed(c.activation, n) / n};
    return done;
}

/* A side that shortens against the load does more than one that holds; of two that hold, the one that works harder. */
static int does_more(Done other, Done own) {
    double held = own.shortening > HELD ? own.shortening : 0, other_held = other.shortening > HELD ? other.shortening : 0;
    return other_held > held || (other_held == held && other.drive > own.drive);
}

/* Activation in the upper third of the span, on average. */
static double drive_at_length(Curves c, int n) {
    for (int i = 0; i < n; i++) c.room[i] = c.activation[i] * (c.span[i] >= UPPER_THIRD);
    return summed(c.room, n) / n;
}

static double loaded_span(Curves c, int n) {
    double total = summed(c.force, n);
    for (int i = 0; i < n; i++) c.room[i] = (total > SILENT_N ? c.force[i] / total : 1.0 / n) * c.span[i];
    return summed(c.room, n);
}

/* Share of its tension in the upper third of the span over the long half of the lift. */
static double long_half_load(const Lift *lift, Curves c) {
    int n = lift->n_pos;
    for (int i = 0; i < n; i++) c.room[i] = lift->phase[i] >= lift->long_from && lift->phase[i] <= lift->long_to ? c.force[i] : 0;
    double total = summed(c.room, n);
    for (int i = 0; i < n; i++) c.room[i] *= c.span[i] >= UPPER_THIRD;
    return total > SILENT_N ? summed(c.room, n) / total : 0;
}

static void facts_of(const Lift *lift, const Result *r, int head, Done done, Curves c, double *out) {
    int n = lift->n_pos, strongest = 0;
    double reached = 0, peak = 0;
    for (int i = 0; i < n; i++) {
        size_t at = (size_t)i * lift->n_head + head;
        c.activation[i] = r->activation[at], c.span[i] = r->span[at], c.force[i] = r->active[at], c.length[i] = r->length[at];
        if (c.activation[i] >= WORKING) reached = larger(reached, c.span[i]);
        peak = larger(peak, c.activation[i]);
        if (c.force[i] > c.force[strongest]) strongest = i;
    }
    for (int k = 0; k < MEASURES; k++) out[k] = r->measure[head * MEASURES + k];
    out += MEASURES;
    out[0] = reached, out[1] = loaded_span(c, n), out[2] = peak, out[3] = drive_at_length(c, n);
    out[4] = done.shortening, out[5] = c.length[strongest], out[6] = long_half_load(lift, c), out[7] = done.drive;
}

void facts_solve(const Muscles *m, const Lift *lift, Result *result, const int32_t *first, double *own) {
    Curves curves = curves_in(lift, own);
    for EACH(h, lift_heads(lift)) {
        int head = (int)h;
        Done done = done_by(m, lift, result, head, first, curves);
        if (!lift->folded) {
            int other = head + lift_heads(lift);
            Done beside = done_by(m, lift, result, other, first, curves);
            if (does_more(beside, done)) head = other, done = beside;
        }
        facts_of(lift, result, head, done, curves, result->fact + h * FACTS);
    }
    meet();
}
