#include "balance.h"

#include <string.h>

#include "coordinates.h"
#include "fibres.h"
#include "path.h"
#include "resistance.h"
#include "survey.h"
#include "tissue.h"

#define SHIFT_M 0.04 /* mechanics/reserve.py */

/* ---- which entries there can be ---- */

static int32_t columns_of(const Lift *lift) {
    return lift->n_line + lift->n_hold + lift->n_rib + 2 * (lift->n_own + lift->n_shift) + 1;
}

size_t pattern_size(const Body *body, const Lift *lift) {
    int64_t arms = (int64_t)lift->n_line * body->n_coord, entries = (int64_t)lift_rows(lift) * columns_of(lift);
    return integers_size(lift->n_line + 1) + integers_size(arms) + integers_size(columns_of(lift) + 1) + 2 * integers_size(entries) +
           rows_size(lift_rows(lift), entries) + (size_t)lift_rows(lift) + 3 * integers_size(body->n_coord);
}

/* Adds to `count` (n_coord) which velocities move a segment. */
static void count_chain(const Body *body, int segment, int32_t by, int32_t *count) {
    const int32_t *chain = body->chain + (size_t)segment * body->n_coord;
    for (int e = 0; e < body->chain_length[segment]; e++) count[chain[e]] += by;
}

/* Arms of a line: velocities that move some of its way points and not all of them alike. */
static void add_line(const Body *body, int line, Pattern *p, int32_t *count) {
    int first = body->line_first[line], ways = body->line_count[line];
    memset(count, 0, (size_t)body->n_coord * sizeof(int32_t));
    for (int w = first; w < first + ways; w++) count_chain(body, body->way_segment[w], 1, count);
    for (int d = 0; d < body->n_coord; d++)
        if (count[d] > 0 && count[d] < ways) p->arm_coord[p->n_arm++] = d;
    p->arm_start[line + 1] = p->n_arm;
}

static void add_entry(Pattern *p, int32_t row, int32_t from) { p->row[p->n_entry] = row, p->from[p->n_entry++] = from; }

static void end_column(Pattern *p) { p->start[++p->n_col] = p->n_entry; }

/* A column with an entry in the row of every coordinate that counts. */
static void add_counted(const Lift *lift, Pattern *p, const int32_t *count, int guided) {
    for (int32_t r = 0; r < lift->n_row; r++)
        if (count[lift->row[r]] != 0) add_entry(p, r, lift->row[r]);
    if (guided) add_entry(p, lift->n_row, -1);
    end_column(p);
}

static void add_lines(const Body *body, const Lift *lift, Pattern *p, int32_t *count) {
    p->arm_start[0] = 0;
    for (int l = 0; l < lift->n_line; l++) {
        add_line(body, l, p, count);
        memset(count, 0, (size_t)body->n_coord * sizeof(int32_t));
        for (int32_t a = p->arm_start[l]; a < p->n_arm; a++) count[p->arm_coord[a]] = a + 1;
        for (int32_t r = 0; r < lift->n_row; r++)
            if (count[lift->row[r]]) add_entry(p, r, count[lift->row[r]] - 1);
        end_column(p);
    }
}

static void add_supports(const Body *body, const Lift *lift, Pattern *p, int32_t *count) {
    size_t size = (size_t)body->n_coord * sizeof(int32_t);
    for (int k = 0; k < lift->n_hold; k++) {
        memset(count, 0, size);
        count_chain(body, lift->segment[lift->hold_mark[k]], 1, count);
        if (lift->hold_on[k] >= 0) count_chain(body, lift->segment[lift->hold_on[k]], 1, count);
        add_counted(lift, p, count, lift->hold_sled[k] >= 0);
    }
    for (int k = 0; k < lift->n_rib; k++) { /* what moves blade and ribs alike does nothing */
        memset(count, 0, size);
        count_chain(body, lift->segment[lift->rib_point[k]], 1, count);
        count_chain(body, lift->segment[lift->rib_centre[k]], -1, count);
        add_counted(lift, p, count, 0);
    }
}

static void add_joints(const Lift *lift, Pattern *p) {
    for (int32_t r = lift->n_row - lift->n_own; r < lift->n_row; r++) add_entry(p, r, lift->row[r]), end_column(p);
    for (int k = 0; k < lift->n_shift; k++) {
        for (int32_t r = 0; r < lift->n_row; r++)
            if (lift->row[r] >= 3 && lift->row[r] < 6) add_entry(p, r, lift->row[r]);
        end_column(p);
    }
}

Pattern pattern_in(const Body *body, const Muscles *muscles, const Lift *lift, double **scratch, double *own) {
    int64_t arms = (int64_t)lift->n_line * body->n_coord, entries = (int64_t)lift_rows(lift) * columns_of(lift);
    int32_t *count = (int32_t *)own;
    Pattern p = {.n_row = lift_rows(lift), .n_line = lift->n_line, .n_force = lift->n_hold + lift->n_rib, .n_joint = lift->n_own + lift->n_shift};
    p.arm_start = take_integers(scratch, lift->n_line + 1), p.arm_coord = take_integers(scratch, arms);
    p.start = take_integers(scratch, columns_of(lift) + 1);
    p.row = take_integers(scratch, entries), p.from = take_integers(scratch, entries);
    p.scale = take_numbers(scratch, lift_rows(lift));
    for (int32_t r = 0; r < p.n_row; r++) p.scale[r] = r < lift->n_row ? muscles->scale[lift->row[r]] : muscles->scale[0];
    p.start[0] = 0;
    add_lines(body, lift, &p, count);
    add_supports(body, lift, &p, count);
    for (int way = 0; way < 2; way++) add_joints(lift, &p);
    memset(count, 0, (size_t)body->n_coord * sizeof(int32_t));
    for (int m = 0; m < lift->n_load; m++)
        if (lift->load_own[m]) count_chain(body, lift->segment[lift->load_mark[m]], 1, count);
    add_counted(lift, &p, count, lift->is_guided);
    meet();
    p.rows = rows_in(p.n_row, p.n_col, p.start, p.row, p.n_entry, scratch);
    return p;
}

/* ---- one position ---- */

size_t posed_size(const Body *body, const Lift *lift) {
    size_t entries = (size_t)lift_rows(lift) * (size_t)columns_of(lift), lines = (size_t)lift->n_line;
    return entries + 2 * (size_t)columns_of(lift) + (size_t)lift_rows(lift) + lines * (size_t)body->n_coord + 3 * lines +
           (size_t)(lift->n_own + lift->n_shift);
}

Posed posed_in(const Pattern *p, double **scratch) {
    Posed posed = {0};
    struct { double **place; int64_t n; } parts[] = {
        {&posed.value, p->n_entry}, {&posed.lower, p->n_col}, {&posed.upper, p->n_col}, {&posed.rest, p->n_row}, {&posed.arm, p->n_arm},
        {&posed.active, p->n_line}, {&posed.passive, p->n_line}, {&posed.relaxed, p->n_line}, {&posed.unit, p->n_joint},
    };
    for (size_t k = 0; k < sizeof parts / sizeof *parts; k++) *parts[k].place = take_numbers(scratch, parts[k].n);
    return posed;
}

size_t balance_size(const Body *body, const Lift *lift) {
    return pose_size(body) + 4 * (size_t)body->n_segment + 5 * (size_t)body->n_coord + 5 * (size_t)lift->n_line + 12 * (size_t)lift->n_load;
}

/* What it takes to fill in a position. */
typedef struct {
    const Body *body;
    const Muscles *muscles;
    const Lift *lift;
    const Pattern *pattern;
    Pose pose;
    double *mass, *moment, *gravity, *column, *low, *high, *hung;
    double *full, *cosine, *ones, *force, *spare, *at;
} Filling;

static Filling filling_in(const Body *body, const Muscles *muscles, const Lift *lift, const Pattern *pattern, double *scratch) {
    Filling f = {.body = body, .muscles = muscles, .lift = lift, .pattern = pattern, .pose = pose_in(body, scratch)};
    int64_t nv = body->n_coord, nl = lift->n_line;
    scratch += pose_size(body);
    struct { double **place; int64_t n; } parts[] = {
        {&f.mass, body->n_segment}, {&f.moment, 3 * body->n_segment}, {&f.gravity, nv}, {&f.column, nv}, {&f.low, nv}, {&f.high, nv},
        {&f.hung, nv}, {&f.full, nl}, {&f.cosine, nl}, {&f.ones, nl}, {&f.force, nl}, {&f.spare, nl}, {&f.at, 12 * lift->n_load},
    };
    for (size_t k = 0; k < sizeof parts / sizeof *parts; k++) *parts[k].place = take_numbers(&scratch, parts[k].n);
    return f;
}

/* Path lengths and arms of the lines that count. */
static void lines_at(Filling *f, double *path, Posed *posed) {
    const Pattern *p = f->pattern;
    const Muscles *m = f->muscles;
    for (int l = 0; l < p->n_line; l++) {
        int32_t from = p->arm_start[l], to = p->arm_start[l + 1];
        for (int32_t a = from; a < to; a++) f->column[p->arm_coord[a]] = 0;
        double length = path_line(f->body, &f->pose, l, f->column), factor = m->arm_factor[l];
        path[l] = factor == 1 ? length : m->at_rest[l] + factor * (length - m->at_rest[l]);
        for (int32_t a = from; a < to; a++) posed->arm[a] = factor * f->column[p->arm_coord[a]];
    }
}

/* What each line can do while it moves at this rate: active and passive force [N], and its resting fibre length. */
static void forces_at(Filling *f, const double *path, const double *rate, Posed *posed) {
    const Pattern *p = f->pattern;
    const Muscles *m = f->muscles;
    int n = p->n_line;
    for (int l = 0; l < n; l++) f->ones[l] = 1, f->force[l] = fibres_first(m->begin + l * BEGINS, (path[l] - m->slack[l]) / m->optimal[l]);
    lw_settle(1, n, n, path, m->slack, m->optimal, m->width, f->ones, f->force, f->spare, f->cosine, f->full);
    memset(f->ones, 0, (size_t)n * sizeof(double));
    lw_settle(1, n, n, path, m->slack, m->optimal, m->width, f->ones, NULL, posed->relaxed, f->cosine, f->force);
    for (int l = 0; l < n; l++) {
        double speed = 0;
        for (int32_t a = p->arm_start[l]; a < p->arm_start[l + 1]; a++) speed += posed->arm[a] * rate[p->arm_coord[a]];
        f->spare[l] = speed / (m->optimal[l] * f->lift->seconds);
    }
    fibres_moving(n, f->spare);
    for (int l = 0; l < n; l++) {
        posed->active[l] = (f->full[l] - f->force[l]) * m->force[l] * f->spare[l];
        posed->passive[l] = f->force[l] * m->force[l];
    }
}

/* Columns of the lines, what they leave to be balanced at rest, and the reserve they lend each joint. */
static void muscle_columns(Filling *f, Posed *posed) {
    const Pattern *p = f->pattern;
    const Lift *lift = f->lift;
    double *up = f->high, *down = f->low;
    for (int32_t r = 0; r < lift->n_row; r++) posed->rest[r] = f->gravity[lift->row[r]];
    for (int l = 0; l < p->n_line; l++) {
        double share = f->muscles->reserve[l];
        posed->lower[l] = 0, posed->upper[l] = 1;
        for (int32_t k = p->start[l]; k < p->start[l + 1]; k++) {
            int32_t r = p->row[k];
            double arm = lift->weight[r] * posed->arm[p->from[k]], moment = -arm * posed->active[l];
            posed->value[k] = moment / p->scale[r];
            posed->rest[r] += arm * posed->passive[l];
            if (moment > 0) up[lift->row[r]] += moment * share;
            else down[lift->row[r]] += moment * share;
        }
    }
}

/* How the place of a landmark, or the turn of its segment, along `direction` changes with each velocity, times `sign`; into `column`. */
static void add_slopes(const Filling *f, int mark, const double *point, const double *direction, int turns, double sign, double *column) {
    const Body *body = f->body;
    int segment = f->lift->segment[mark];
    const int32_t *chain = body->chain + (size_t)segment * body->n_coord;
    double moment[3], part[3];
    cross(point, direction, moment);
    for (int d = 0; d < 3 && !turns; d++) column[d] += sign * direction[d];
    for (int e = 3; e < body->chain_length[segment]; e++) {
        const double *axis = f->pose.axis + 3 * chain[e];
        if (turns) {
            column[chain[e]] += sign * dot(axis, direction);
            continue;
        }
        cross(f->pose.anchor + 3 * chain[e], direction, part);
        for (int k = 0; k < 3; k++) part[k] = moment[k] - part[k];
        column[chain[e]] += sign * dot(axis, part);
    }
}

/* The entries of column j from a value for every coordinate, and one for what is guided. */
static void put_column(const Filling *f, int32_t j, double unit, double guided, Posed *posed) {
    const Pattern *p = f->pattern;
    for (int32_t k = p->start[j]; k < p->start[j + 1]; k++) {
        int32_t r = p->row[k];
        posed->value[k] = (p->from[k] < 0 ? guided : f->lift->weight[r] * f->column[p->from[k]]) * unit / p->scale[r];
    }
}

static void clear_column(const Filling *f) { memset(f->column, 0, (size_t)f->body->n_coord * sizeof(double)); }

/* The rib cage, an upright elliptic cylinder, pushes a point of the blade square to its surface. */
static void rib_column(const Filling *f, const double *point, int k) {
    int at = f->lift->rib_point[k], centre = f->lift->rib_centre[k];
    const double *p = point + 3 * at, *c = point + 3 * centre, *frame = f->pose.frame + 9 * f->lift->segment[centre];
    double arm[3] = {p[0] - c[0], p[1] - c[1], p[2] - c[2]}, local[3], world[3], twist[3];
    turned_back(frame, arm, local);
    for (int a = 0; a < 2; a++) local[a] /= f->muscles->rib_axes[a] * f->muscles->rib_axes[a];
    local[2] = 0;
    unit3(local);
    turned(frame, local, world);
    cross(arm, world, twist);
    add_slopes(f, at, p, world, 0, 1, f->column);
    add_slopes(f, centre, c, world, 0, -1, f->column);
    add_slopes(f, centre, c, twist, 1, -1, f->column);
}

static void support_columns(const Filling *f, const double *point, const double *rail, Posed *posed) {
    const Lift *lift = f->lift;
    for (int k = 0; k < f->pattern->n_force; k++) {
        int32_t j = lift->n_line + k;
        int rib = k >= lift->n_hold;
        double guided = 0;
        clear_column(f);
        if (rib) rib_column(f, point, k - lift->n_hold);
        else {
            const double *along = lift->hold_direction + 3 * k;
            int mark = lift->hold_mark[k], on = lift->hold_on[k];
            add_slopes(f, mark, point + 3 * mark, along, lift->hold_turns[k], 1, f->column);
            if (on >= 0) add_slopes(f, on, point + 3 * on, along, lift->hold_turns[k], -1, f->column);
            if (lift->hold_sled[k] >= 0) guided = -dot(rail + 3 * lift->hold_sled[k], along);
        }
        put_column(f, j, FORCE_UNIT_N, guided, posed);
        posed->lower[j] = rib ? 0 : lift->hold_lower[k] / FORCE_UNIT_N;
        posed->upper[j] = rib ? INFINITY : lift->hold_upper[k] / FORCE_UNIT_N;
    }
}

static double unit_of(double lower, double upper) {
    double bound = larger(upper, -lower);
    return bound > 0 && bound < INFINITY ? bound : 1;
}

/* One passive structure, there and back; `ease` is how many times cheaper it is to load than others. */
static void joint_columns(const Filling *f, int k, double lower, double upper, double ease, Posed *posed) {
    const Pattern *p = f->pattern;
    int32_t there = p->n_line + p->n_force + k, back = there + p->n_joint;
    double unit = posed->unit[k] = ease * unit_of(lower, upper);
    put_column(f, there, unit, 0, posed);
    put_column(f, back, -unit, 0, posed);
    posed->lower[there] = posed->lower[back] = 0;
    posed->upper[there] = upper / unit, posed->upper[back] = -lower / unit;
}

/* Structures and reserve about every joint; then the shift of the whole body's weight about the level axes. */
static void passive_columns(const Filling *f, const double *q, double *angle, const double *reserve_down, const double *reserve_up, Posed *posed) {
    const Lift *lift = f->lift;
    double world[9], shift = SHIFT_M * f->body->gravity * f->muscles->mass;
    tissue_bounds(f->body, f->muscles, q, angle, f->hung, f->gravity);
    clear_column(f);
    for (int k = 0; k < lift->n_own; k++) {
        int32_t r = lift->n_row - lift->n_own + k, d = lift->row[r];
        f->column[d] = 1 / lift->weight[r];
        joint_columns(f, k, f->hung[d] + reserve_down[d], f->gravity[d] + reserve_up[d], f->muscles->ease[d], posed);
        f->column[d] = 0;
    }
    quat_matrix(q + 3, world);
    for (int k = 0; k < lift->n_shift; k++) {
        int axis = lift->n_shift == 1 ? 1 : k;
        for (int32_t r = 0; r < lift->n_row; r++)
            if (lift->row[r] >= 3 && lift->row[r] < 6) f->column[lift->row[r]] = world[3 * axis + lift->row[r] - 3] / lift->weight[r];
        joint_columns(f, lift->n_own + k, -shift, shift, 1, posed);
    }
}

static void load_column(const Filling *f, const double *force, const double *point, double rail_n, Posed *posed) {
    const Lift *lift = f->lift;
    int32_t j = f->pattern->n_col - 1;
    clear_column(f);
    for (int m = 0; m < lift->n_load; m++)
        if (lift->load_own[m]) add_slopes(f, lift->load_mark[m], point + 3 * lift->load_mark[m], force + 3 * m, 0, 1, f->column);
    put_column(f, j, LOAD_UNIT_KG, -rail_n * lift->sled_share, posed);
    posed->lower[j] = -INFINITY, posed->upper[j] = INFINITY;
}

double balance_at(const Body *body, const Muscles *muscles, const Lift *lift, const Pattern *pattern, int i, Result *result, Posed *posed,
                  double *scratch) {
    Filling f = filling_in(body, muscles, lift, pattern, scratch);
    const double *q = result->q + (size_t)i * body->n_q, *rate = result->rate + (size_t)i * body->n_coord;
    double *point = result->point + (size_t)i * 3 * lift->n_mark, *path = result->path + (size_t)i * lift->n_line, centre[3];
    double *force = f.at + 6 * lift->n_load, *rail = force + 3 * lift->n_load;
    pose_axes(body, q, &f.pose);
    survey_gather(body, &f.pose, f.mass, f.moment, centre);
    survey_weights(body, &f.pose, f.mass, f.moment, f.gravity);
    for (int m = 0; m < lift->n_mark; m++) pose_point(&f.pose, lift->segment[m], lift->local + 3 * m, point + 3 * m);
    for (int m = 0; m < lift->n_load; m++) {
        copy3(point + 3 * lift->load_mark[m], f.at + 3 * m);
        if (lift->axis_mark[m] >= 0) copy3(point + 3 * lift->axis_mark[m], f.at + 3 * (lift->n_load + m));
    }
    double rail_n = resistance_at(lift, result->law, lift->phase[i], f.at, force, rail);
    lines_at(&f, path, posed);
    forces_at(&f, path, rate, posed);
    memset(f.low, 0, (size_t)body->n_coord * sizeof(double));
    memset(f.high, 0, (size_t)body->n_coord * sizeof(double));
    muscle_columns(&f, posed);
    support_columns(&f, point, rail, posed);
    load_column(&f, force, point, rail_n, posed);
    passive_columns(&f, q, result->angle + (size_t)i * ANGLES, f.low, f.high, posed);
    for (int32_t r = 0; r < pattern->n_row; r++) posed->rest[r] = r < lift->n_row ? posed->rest[r] / pattern->scale[r] : 0;
    return centre[2];
}
