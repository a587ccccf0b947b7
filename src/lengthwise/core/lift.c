/* One lift, position by position: how it moves, what it takes to hold it, what bounds the load, and who does the work. */
#include "lift.h"

#include <math.h>
#include <string.h>

#include "balance.h"
#include "capacity.h"
#include "coordinates.h"
#include "heads.h"
#include "motion.h"
#include "sharing.h"
#include "standing.h"
#include "team.h"
#include "vector.h"

#define TOLERANCE_M 0.003
#define PASSIVE_TIE_KG 1e-4  /* mechanics/problem.py tells what these are for */
#define LINE_TIE_KG 5e-8
#define PASSIVE_PRICE 1.0
#define CUBIC_SMOOTHING 1e-4
#define NUDGE 1e-9
#define STRENGTH_STEP 1e-5
#define AT_BOUND 1e-7
#define ROUNDING 1e-9
#define SHARED 1e-10          /* imbalance above which a shared answer is left to other solvers */
#define LEAST_HELP_KG 1.0     /* mechanics/set_load.py */
#define INSIDE 1e-6
#define LEAST_RISE_M 0.02
#define NEAR_FLOOR 1e-8 /* of LOAD_UNIT_KG: nearer than this a load is the floor */

/* ---- the blocks laid out ---- */

static const int32_t *integers_of(const int32_t **at, int64_t n) {
    const int32_t *taken = *at;
    *at += n;
    return taken;
}

static const double *reals_of(const double **at, int64_t n) {
    const double *taken = *at;
    *at += n;
    return taken;
}

enum { COUNTS = 27, SIZES = 17 };

static void counts_in(Lift *lift, const int32_t *c) {
    int32_t *place[COUNTS] = {
        &lift->n_pos, &lift->n_key, &lift->n_mark, &lift->n_hold, &lift->n_rib, &lift->n_load, &lift->n_cam, &lift->n_row, &lift->n_shift,
        &lift->n_line, &lift->n_head, &lift->n_own, &lift->chain.n_unknown, &lift->chain.n_equation, &lift->chain.n_mark, &lift->chain.n_held,
        &lift->chain.n_middle, &lift->chain.alike, &lift->folded, &lift->given, &lift->resistance, &lift->each,
        &lift->held_lever, &lift->moves_body, &lift->power, &lift->has_start, &lift->is_guided,
    };
    for (int k = 0; k < COUNTS; k++) *place[k] = c[k];
}

Lift lift_in(const Body *body, const int32_t *integer, const double *real) {
    Lift lift = {0};
    Chain *c = &lift.chain;
    counts_in(&lift, integers_of(&integer, COUNTS));
    int64_t rows = lift_rows(&lift), n = lift.n_pos;
    struct { const int32_t **place; int64_t n; } whole[] = {
        {&c->flat, 2}, {&c->slot, 2 * c->n_unknown}, {&c->mark_segment, c->n_mark}, {&c->kind, c->n_equation}, {&c->first, c->n_equation},
        {&c->second, c->n_equation}, {&c->axis, c->n_equation}, {&c->middle, c->n_middle}, {&c->held, c->n_held}, {&c->pivot, c->n_held},
        {&lift.row, lift.n_row}, {&lift.segment, lift.n_mark}, {&lift.hold_mark, lift.n_hold}, {&lift.hold_on, lift.n_hold},
        {&lift.hold_turns, lift.n_hold}, {&lift.hold_sled, lift.n_hold}, {&lift.rib_point, lift.n_rib}, {&lift.rib_centre, lift.n_rib},
        {&lift.load_mark, lift.n_load}, {&lift.load_own, lift.n_load}, {&lift.axis_mark, lift.n_load}, {&lift.used, lift.n_line},
        {&lift.start_basis, lift.has_start ? n * rows : 0},
    };
    for (size_t k = 0; k < sizeof whole / sizeof *whole; k++) *whole[k].place = integers_of(&integer, whole[k].n);
    double *size[SIZES] = {&c->weight_n, &lift.holding, &lift.ratio, &lift.slack, &lift.chains, &lift.seconds, &lift.fraction, &lift.floor,
                           &lift.gear_most, &lift.usable, &lift.rail_n, &lift.sled_share, &lift.begins, &lift.ends, &lift.long_from, &lift.long_to,
                           &lift.skill};
    const double *sizes = reals_of(&real, SIZES);
    for (int k = 0; k < SIZES; k++) *size[k] = sizes[k];
    struct { const double **place; int64_t n; } parts[] = {
        {&c->low, c->n_unknown}, {&c->high, c->n_unknown}, {&c->mark_local, 3 * c->n_mark}, {&lift.knot, lift.n_key},
        {&lift.key_row, lift.n_key * ANGLES}, {&lift.key_goal, (int64_t)lift.n_key * c->n_equation}, {&lift.local, 3 * lift.n_mark},
        {&lift.phase, n}, {&lift.weight, lift.n_row}, {&lift.hold_direction, 3 * lift.n_hold}, {&lift.hold_lower, lift.n_hold},
        {&lift.hold_upper, lift.n_hold}, {&lift.anchor, 3 * lift.n_load}, {&lift.about, 3}, {&lift.rail, 3}, {&lift.cam, lift.n_cam},
        {&lift.q, lift.given ? n * body->n_q : 0}, {&lift.rate, lift.given ? n * body->n_coord : 0},
        {&lift.law, lift.given ? LAW + lift.n_load : 0}, {&lift.start_multiplier, lift.has_start ? n * rows : 0},
    };
    for (size_t k = 0; k < sizeof parts / sizeof *parts; k++) *parts[k].place = reals_of(&real, parts[k].n);
    return lift;
}

/* Lays out what is found of every position, unless `at` is nowhere; how many numbers that takes. */
static size_t bulk_in(const Body *body, const Lift *lift, Result *r, double *at) {
    int64_t n = lift->n_pos, heads = lift->n_head, sum = 0;
    struct { double **place; int64_t n; } parts[] = {
        {&r->q, n * body->n_q}, {&r->rate, n * body->n_coord}, {&r->solved, n * lift->chain.n_unknown}, {&r->path, n * lift->n_line},
        {&r->point, 3 * n * lift->n_mark}, {&r->angle, n * ANGLES}, {&r->most, n}, {&r->least, n}, {&r->multiplier, n * lift_rows(lift)},
        {&r->length, n * heads}, {&r->span, n * heads}, {&r->activation, n * heads}, {&r->active, n * heads}, {&r->passive, n * heads},
        {&r->measure, MEASURES * heads},
    };
    for (size_t k = 0; k < sizeof parts / sizeof *parts; k++) {
        if (at) *parts[k].place = at + sum;
        sum += parts[k].n;
    }
    return (size_t)sum;
}

size_t bulk_size(const Body *body, const Lift *lift) {
    Result none;
    return bulk_in(body, lift, &none, NULL);
}

Result result_in(const Body *body, const Lift *lift, double *bulk, double *brief, int32_t *basis) {
    Result r = {.basis = basis};
    int64_t heads = lift->n_head;
    bulk_in(body, lift, &r, bulk);
    struct { double **place; int64_t n; } parts[] = {
        {&r.fact, FACTS * (int64_t)lift_heads(lift)}, {&r.effort, heads}, {&r.slope, heads}, {&r.law, LAW + lift->n_load},
        {&r.first, 3 * lift->n_mark}, {&r.reach, 2 * ANGLES}, {&r.told, TOLDS},
    };
    for (size_t k = 0; k < sizeof parts / sizeof *parts; k++) *parts[k].place = take_numbers(&brief, parts[k].n);
    return r;
}

/* ---- the work ---- */

typedef struct {
    const Body *body;
    const Muscles *muscles;
    const Lift *lift;
    Result *result;
    Pattern pattern;
    Posed *posed;        /* every position (n_pos) */
    double *most_cost, *least_cost, *load_cost, *most_searched, *least_searched, *price; /* (n_col) */
    double *point, *dual, *reduced, *rest;  /* of one programme */
    double *held, *held_dual, *held_reduced; /* the largest load of every position (n_pos, n_col), (n_pos, n_row), (n_pos, n_col) */
    double *activation, *active, *passive, *relaxed, *change; /* of every line (n_pos, n_line); (n_line, n_group) */
    double *dense;       /* most columns of one position, row by row (n_row, dense_of) */
    double *near, *beside; /* the matrix that is worked on, and a second one (n_row, n_row) */
    double *lower, *upper, *last, *last_but_one, *heights, *group, *room;
    Simplex most, least;
    int least_begun; /* whether `least` stands anywhere yet: where the largest load is below the floor, no least one is asked */
    Search search;
} Work;

static Work work_in(const Body *body, const Muscles *muscles, const Lift *lift, double **scratch, double *own, double *near) {
    Work w = {.body = body, .muscles = muscles, .lift = lift, .near = near};
    int64_t n = lift->n_pos, rows = lift_rows(lift), lines = lift->n_line;
    w.pattern = pattern_in(body, muscles, lift, scratch, own);
    int64_t cols = w.pattern.n_col;
    w.posed = (Posed *)take_numbers(scratch, (int64_t)(sizeof(Posed) / sizeof(double)) * n);
    struct { double **place; int64_t n; } parts[] = {
        {&w.most_cost, cols}, {&w.least_cost, cols}, {&w.load_cost, cols}, {&w.most_searched, cols}, {&w.least_searched, cols}, {&w.price, cols}, {&w.point, cols},
        {&w.dual, rows}, {&w.reduced, cols}, {&w.rest, rows}, {&w.held, n * cols}, {&w.held_dual, n * rows}, {&w.held_reduced, n * cols},
        {&w.activation, n * lines}, {&w.active, n * lines}, {&w.passive, n * lines}, {&w.relaxed, n * lines},
        {&w.change, lines * muscles->n_group}, {&w.lower, cols}, {&w.upper, cols}, {&w.last, rows}, {&w.last_but_one, rows}, {&w.heights, n},
        {&w.group, (int64_t)lift->n_head * lines}, {&w.room, 3 * cols + rows + (int64_t)heads_size(body, muscles, lift)},
        {&w.dense, rows * dense_of(w.pattern.n_line + w.pattern.n_force)}, {&w.beside, rows * rows},
    };
    for (size_t k = 0; k < sizeof parts / sizeof *parts; k++) *parts[k].place = take_numbers(scratch, parts[k].n);
    clear(w.dense, rows * dense_of(w.pattern.n_line + w.pattern.n_force));
    w.most = simplex_in(rows, cols, near, scratch);
    w.least = simplex_in(rows, cols, near, scratch);
    w.search = search_in(rows, cols, near, scratch);
    return w;
}

static size_t work_size(const Body *body, const Muscles *muscles, const Lift *lift) {
    size_t n = (size_t)lift->n_pos, rows = (size_t)lift_rows(lift), lines = (size_t)lift->n_line, heads = (size_t)lift->n_head;
    size_t cols = lines + (size_t)(lift->n_hold + lift->n_rib) + 2 * (size_t)(lift->n_own + lift->n_shift) + 1;
    return pattern_size(body, lift) + n * (sizeof(Posed) / sizeof(double) + posed_size(body, lift)) + 8 * cols + 2 * rows +
                  n * (2 * cols + rows + 4 * lines) + lines * (size_t)muscles->n_group + 2 * cols + 2 * rows + n + heads * lines +
                  4 * cols + rows * (1 + (size_t)dense_of((int64_t)cols)) + heads_size(body, muscles, lift) + rows * rows + 2 * simplex_size((int64_t)rows, (int64_t)cols) + search_size((int64_t)rows, (int64_t)cols);
}

size_t lift_size(const Body *body, const Muscles *muscles, const Lift *lift) {
    size_t motion = motion_size(body, lift), work = work_size(body, muscles, lift);
    return motion > work ? motion : work;
}

size_t lift_near_size(const Lift *lift) { return (size_t)lift_rows(lift) * (size_t)lift_rows(lift); }

size_t lift_own_size(const Body *body, const Lift *lift) {
    size_t motion = motion_own_size(body, lift), balance = balance_size(body, lift), heads = heads_own_size(body, lift);
    size_t most = motion > balance ? motion : balance;
    return most > heads ? most : heads;
}

/* What the programmes of the largest and the least load are after, and what sharing pays for passive structures. */
static void set_costs(Work *w) {
    const Pattern *p = &w->pattern;
    int32_t first = p->n_line + p->n_force, load = p->n_col - 1;
    for EACH(j, p->n_col) {
        double passive = j >= first && j < load ? PASSIVE_TIE_KG / LOAD_UNIT_KG : 0;
        double tie = j == load ? 0 : LINE_TIE_KG / LOAD_UNIT_KG * (1 + fmod(j * 0.6180339887498949, 1));
        w->most_cost[j] = j == load ? 1 : -passive;
        w->least_cost[j] = j == load ? -1 : -passive;
        w->load_cost[j] = j == load ? -1 : 0;
        w->most_searched[j] = w->most_cost[j] - tie;
        w->least_searched[j] = w->least_cost[j] - tie;
        w->price[j] = j >= first ? PASSIVE_PRICE : 0;
    }
    meet();
}

static Columns columns_of(const Work *w, const Posed *posed, int32_t n_col) {
    const Pattern *p = &w->pattern;
    Columns c = {p->n_row, n_col, p->start, p->row, p->rows, posed->value, 0, w->dense, dense_of(p->n_line + p->n_force)};
    columns_spread(&c);
    return c;
}

/* The least load of position i [kg]; 0 if other solvers must be asked. Whether the floor itself can be held is asked first, whatever it
 * costs, from the basis of the position before or of the largest load; that is most often so, often by that very basis. */
static int least_at(Work *w, int i, Programme programme) {
    Posed *posed = &w->posed[i];
    int32_t load = w->pattern.n_col - 1, outcome;
    double imbalance, floor = w->lift->floor / LOAD_UNIT_KG;
    posed->lower[load] = floor;
    programme.cost = w->load_cost;
    copy(w->rest, posed->rest, w->pattern.n_row);
    int begun = w->least_begun;
    w->least_begun = 1;
    if (!begun) begin_from(&programme, &w->least, w->most.basis);
    else if (w->least.where[load] == AT_LOWER && simplex_stands(&programme, &w->least)) {
        meet();
        posed->lower[load] = -INFINITY;
        w->result->least[i] = floor * LOAD_UNIT_KG;
        return 1;
    }
    outcome = vertex_at(programme, w->load_cost, &w->least, w->rest, w->point, w->dual, w->reduced, &imbalance);
    if (outcome != OPTIMAL || w->point[load] > floor + NEAR_FLOOR) {
        programme.cost = w->least_cost;
        copy(w->rest, posed->rest, w->pattern.n_row);
        outcome = vertex_at(programme, w->least_searched, &w->least, w->rest, w->point, w->dual, w->reduced, &imbalance);
    }
    meet();
    posed->lower[load] = -INFINITY;
    w->result->least[i] = (w->point[load] > floor + NEAR_FLOOR ? w->point[load] : floor) * LOAD_UNIT_KG;
    return outcome == OPTIMAL;
}

/* The largest and the least load of position i [kg]; 0 if other solvers must be asked. */
static int loads_at(Work *w, int i) {
    const Pattern *p = &w->pattern;
    Posed *posed = &w->posed[i];
    Columns columns = columns_of(w, posed, p->n_col);
    int32_t load = p->n_col - 1, *basis = w->result->basis + (size_t)i * p->n_row;
    Programme programme = {&columns, w->rest, posed->lower, posed->upper, w->most_cost, NUDGE};
    double *held = w->held + (size_t)i * p->n_col, imbalance;
    copy(w->rest, posed->rest, p->n_row);
    if (w->lift->has_start) begin_from(&programme, &w->most, w->lift->start_basis + (size_t)i * p->n_row);
    else if (i == 0) simplex_reset(&programme, &w->most);
    if (vertex_at(programme, w->most_searched, &w->most, w->rest, held, w->held_dual + (size_t)i * p->n_row,
                  w->held_reduced + (size_t)i * p->n_col, &imbalance) != OPTIMAL)
        return 0;
    for EACH(r, p->n_row) basis[r] = w->most.basis[r];
    meet();
    w->result->most[i] = held[load] * LOAD_UNIT_KG;
    w->result->least[i] = INFINITY;
    if (w->result->most[i] < w->lift->floor) return 1;
    return least_at(w, i, programme);
}

static double span_of(const double *values, int n, size_t stride) {
    double low = INFINITY, high = -INFINITY;
    for (int i = 0; i < n; i++) low = smaller(low, values[(size_t)i * stride]), high = larger(high, values[(size_t)i * stride]);
    return high - low;
}

/* How much of the body counts as load: mechanics/measures.py. */
static double moved_kg(const Work *w) {
    const Lift *lift = w->lift;
    if (!lift->moves_body) return 0;
    double rise = span_of(w->result->point + 3 * lift->load_mark[0] + 2, lift->n_pos, 3 * (size_t)lift->n_mark);
    double centre = span_of(w->heights, lift->n_pos, 1);
    return w->muscles->mass * (rise > LEAST_RISE_M ? smaller(centre / rise, 1) : 1);
}

/* The load of the set (mechanics/set_load.py); 0 if none can be held all the way. */
static int set_load(Work *w) {
    const Lift *lift = w->lift;
    double *told = w->result->told, moved = moved_kg(w), least = -INFINITY, most = INFINITY;
    int weakest = 0;
    for (int i = 0; i < lift->n_pos; i++) {
        least = larger(least, w->result->least[i]);
        if (w->result->most[i] * lift->usable < most) most = w->result->most[i] * lift->usable, weakest = i;
    }
    told[TOLD_MOVED] = moved, told[TOLD_WEAKEST] = weakest, told[TOLD_LEAST] = least, told[TOLD_MOST] = w->result->most[weakest];
    if ((most <= 0 && moved == 0) || least > most) return 0;
    double once = lift->skill * (most + moved) - moved, wanted = lift->fraction * (once + moved) - moved;
    double floor = least + INSIDE * (most - least);
    if (-LEAST_HELP_KG < wanted && wanted < 0) wanted = 0;
    told[TOLD_LOAD] = wanted > lift->gear_most ? larger(lift->gear_most, least) : wanted < floor ? floor : wanted;
    return 1;
}

/* How the load at the weakest position changes with the strength of each head; 0 if other solvers must be asked. */
static int slopes(Work *w) {
    const Pattern *p = &w->pattern;
    const Lift *lift = w->lift;
    int weakest = (int)w->result->told[TOLD_WEAKEST], groups = 0;
    const double *held = w->held + (size_t)weakest * p->n_col, *reduced = w->held_reduced + (size_t)weakest * p->n_col;
    double *slope = w->result->slope, *averaged = w->lower, total = 0;
    double *limited = w->upper;
    clear(slope, lift->n_head);
    clear(limited, lift->n_head);
    for (int l = 0; l < p->n_line && HAND == 0; l++) {
        double own = reduced[l] > ROUNDING ? LOAD_UNIT_KG * held[l] * reduced[l] : 0;
        slope[w->muscles->head[l]] += own, total += fabs(own);
        if (held[l] >= 1 - AT_BOUND) limited[w->muscles->head[l]] = 1;
    }
    if (HAND == 0) w->result->told[TOLD_SLOPES] = total;
    meet();
    for (int h = 0; h < lift->n_head; h++) {
        if (!limited[h]) continue;
        double *row = w->group + (size_t)groups++ * p->n_line;
        for EACH(l, p->n_line) row[l] = w->muscles->head[l] == h;
    }
    meet();
    Columns columns = columns_of(w, &w->posed[weakest], p->n_col);
    Programme programme = {&columns, w->posed[weakest].rest, w->posed[weakest].lower, w->posed[weakest].upper, w->most_cost, 0};
    w->least.inverse = w->beside;
    int32_t outcome = slopes_at(&programme, &w->most, &w->least, w->result->basis + (size_t)weakest * p->n_row, groups, p->n_line, w->group, STRENGTH_STEP,
                                averaged, w->room);
    if (outcome == UNIQUE) return 1;
    if (outcome != OPTIMAL) return 0;
    meet();
    for (int h = 0, g = 0; h < lift->n_head; h++)
        if (limited[h]) slope[h] = averaged[g++] * LOAD_UNIT_KG;
    return 1;
}

/* What bounds the load beside muscles, at the weakest position: mechanics/limits.py. */
static void other_limits(Work *w) {
    const Pattern *p = &w->pattern;
    int weakest = (int)w->result->told[TOLD_WEAKEST];
    Posed *posed = &w->posed[weakest];
    const double *held = w->held + (size_t)weakest * p->n_col, *y = w->held_dual + (size_t)weakest * p->n_row;
    Columns columns = columns_of(w, posed, p->n_col);
    double stretched = 0, structures = 0, shift = 0, supports = 0, rest = 0;
    for (int l = 0; l < p->n_line; l++)
        if (posed->active[l] > 1) stretched += column_dot(&columns, l, y) * posed->passive[l] / posed->active[l];
    for (int k = 0; k < p->n_force; k++) supports -= column_dot(&columns, p->n_line + k, y) * held[p->n_line + k];
    for (int k = 0; k < p->n_joint; k++) {
        int32_t j = p->n_line + p->n_force + k;
        double part = -column_dot(&columns, j, y) * (held[j] - held[j + p->n_joint]);
        if (k < w->lift->n_own) structures += part;
        else shift += part;
    }
    for (int r = 0; r < p->n_row; r++) rest += y[r] * posed->rest[r];
    w->result->told[TOLD_JOINTS] = LOAD_UNIT_KG * (structures - stretched);
    w->result->told[TOLD_SUPPORTS] = LOAD_UNIT_KG * supports;
    w->result->told[TOLD_BALANCE] = LOAD_UNIT_KG * (shift + rest + stretched);
}

/* Who does the work at position i; 0 if other solvers must be asked. */
static int share_position(Work *w, int i) {
    const Pattern *p = &w->pattern;
    Posed *posed = &w->posed[i];
    int32_t n_col = p->n_line + p->n_force + p->n_joint, load = p->n_col - 1;
    double kg = w->result->told[TOLD_LOAD] / LOAD_UNIT_KG, unit = SHARED_FORCE_UNIT_N / FORCE_UNIT_N;
    copy(w->rest, posed->rest, p->n_row);
    for EACH_FROM(k, p->start[load], p->start[load + 1]) w->rest[p->row[k]] -= kg * posed->value[k];
    for EACH_FROM(k, p->start[p->n_line], p->start[p->n_line + p->n_force]) posed->value[k] *= unit;
    copy(w->lower, posed->lower, n_col);
    copy(w->upper, posed->upper, n_col);
    for EACH_FROM(j, p->n_line, p->n_line + p->n_force) w->lower[j] /= unit, w->upper[j] /= unit;
    for EACH_FROM(j, p->n_line + p->n_force, n_col) w->lower[j] = -posed->upper[j + p->n_joint];
    meet();
    Columns columns = columns_of(w, posed, n_col);
    for EACH(k, p->start[n_col]) columns.largest = larger(columns.largest, fabs(posed->value[k]));
    columns.largest = most_of_all(columns.largest);
    Share share = {&columns, w->rest, w->lower, w->upper, {p->n_line, w->lift->power, CUBIC_SMOOTHING, w->price}};
    for EACH(r, p->n_row)
        w->search.y[r] = w->lift->has_start ? w->lift->start_multiplier[(size_t)i * p->n_row + r]
                         : i > 1            ? 2 * w->last[r] - w->last_but_one[r]
                         : i                ? w->last[r]
                                            : 0;
    meet();
    w->search.follows = i > 0 && !w->lift->has_start;
    double *kept = w->last_but_one;
    w->last_but_one = w->last, w->last = kept;
    share_at(&share, &w->search, kept);
    copy(w->result->multiplier + (size_t)i * p->n_row, w->search.y, p->n_row);
    copy(w->activation + (size_t)i * p->n_line, w->search.x, p->n_line);
    w->result->told[TOLD_RESIDUAL] = larger(w->result->told[TOLD_RESIDUAL], w->search.largest);
    return w->search.largest <= SHARED;
}

/* Where landmarks are at first, and between which ends each clinical angle lies. */
static void reached(const Lift *lift, Result *result) {
    copy(result->first, result->point, 3 * lift->n_mark);
    for EACH(a, ANGLES) {
        double *least = result->reach + a, *most = least + ANGLES;
        *least = INFINITY, *most = -INFINITY;
        for (int i = 0; i < lift->n_pos; i++) {
            double angle = result->angle[(size_t)i * ANGLES + a];
            *least = smaller(*least, angle), *most = larger(*most, angle);
        }
    }
}

/* The balance of every position, and what lines can do there before the load of the set is known. */
static void balance_all(Work *w, double **scratch, double *own) {
    const Lift *lift = w->lift;
    size_t lines = (size_t)lift->n_line * sizeof(double);
    for (int i = 0; i < lift->n_pos; i++) w->posed[i] = posed_in(&w->pattern, scratch);
    meet();
    for EACH(i, lift->n_pos) {
        size_t at = (size_t)i * lift->n_line;
        w->heights[i] = balance_at(w->body, w->muscles, lift, &w->pattern, (int)i, w->result, &w->posed[i], own);
        memcpy(w->active + at, w->posed[i].active, lines);
        memcpy(w->passive + at, w->posed[i].passive, lines);
        memcpy(w->relaxed + at, w->posed[i].relaxed, lines);
    }
    meet();
    heads_change(w->body, w->muscles, lift, &w->pattern, w->result, w->posed, w->change, w->room, own);
    reached(lift, w->result);
}

static void take_motion(const Body *body, Lift *lift, Result *result, double *scratch, double *own) {
    int64_t n = lift->n_pos;
    if (!lift->given) {
        motion_solve(body, lift, result, scratch, own);
        return;
    }
    copy(result->q, lift->q, n * body->n_q);
    copy(result->rate, lift->rate, n * body->n_coord);
    copy(result->law, lift->law, LAW + lift->n_load);
}

int lift_move(const Body *body, const Lift *asked, Result *result, double *scratch, double *own) {
    Lift lift = *asked;
    clear(result->told, TOLDS);
    clear(result->law, LAW + lift.n_load);
    take_motion(body, &lift, result, scratch, own);
    if (!(result->told[TOLD_MISSED] <= TOLERANCE_M)) return LIFT_MISSED;
    int stretched = lift.resistance == RESIST_BAND || lift.resistance == RESIST_ACROSS;
    return stretched && result->law[0] <= lift.slack ? LIFT_LEFT : LIFT_SOLVED;
}

int lift_hold(const Body *body, const Muscles *muscles, const Lift *lift, Result *result, double *scratch, double *own, double *near) {
    int64_t since = phase_over(NO_PHASE, 0);
    Work work = work_in(body, muscles, lift, &scratch, own, near);
    work.result = result;
    set_costs(&work);
    balance_all(&work, &scratch, own);
    since = phase_over(PHASE_BALANCE, since);
    for (int i = 0; i < lift->n_pos; i++)
        if (!loads_at(&work, i)) return LIFT_LEFT;
    since = phase_over(PHASE_LOADS, since);
    if (!set_load(&work)) return LIFT_UNHELD;
    meet();
    if (!slopes(&work)) return LIFT_LEFT;
    other_limits(&work);
    since = phase_over(PHASE_LIMITS, since);
    for (int i = 0; i < lift->n_pos; i++)
        if (!share_position(&work, i)) return LIFT_LEFT;
    since = phase_over(PHASE_SHARING, since);
    Worked worked = {work.activation, work.active, work.passive, work.relaxed, work.change};
    heads_solve(muscles, lift, result, &worked, work.room, own);
    phase_over(PHASE_HEADS, since);
    return LIFT_SOLVED;
}
