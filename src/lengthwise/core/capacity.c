#include "capacity.h"

#include <math.h>
#include <string.h>

#include "vector.h"

/* Far below what is asked of an answer and far above rounding. Where several bases give the same vertex it settles which one is taken. */
#define NUDGE 1e-9

size_t lw_capacity_scratch(const Problem *problem) {
    return columns_size(problem) + simplex_size(problem->n_row, problem->n_col) + (size_t)(problem->n_row * problem->n_row + problem->n_row + problem->n_col);
}

static void scaled_rest(const Problem *problem, int64_t position, double *rest) {
    for (int64_t i = 0; i < problem->n_row; i++) rest[i] = problem->rest[position * problem->n_row + i] / problem->scale[i];
}

/* cost less tie, which the search goes by. */
static double *searched_cost(const double *cost, const double *tie, int64_t n_col, double **scratch) {
    double *searched = take_numbers(scratch, n_col);
    for (int64_t j = 0; j < n_col; j++) searched[j] = cost[j] - tie[j];
    return searched;
}

void begin_from(const Programme *programme, Simplex *simplex, const int32_t *basis) {
    simplex_reset(programme, simplex);
    for EACH(i, programme->columns->n_row) simplex->where[programme->columns->n_col + i] = -1;
    meet();
    for EACH(i, programme->columns->n_row) simplex->basis[i] = basis[i], simplex->where[basis[i]] = (int32_t)i;
    meet();
}

/* Solves from the basis that is there, and from nothing if that leads nowhere. */
static int32_t solve(const Programme *programme, Simplex *simplex) {
    int32_t outcome = simplex_solve(programme, simplex);
    if (outcome == OPTIMAL) return OPTIMAL;
    simplex_reset(programme, simplex);
    return simplex_solve(programme, simplex);
}

/* What x leaves out of balance, and the reduced cost of every column; overwrites rest. */
static double check(const Programme *programme, const double *x, const double *dual, double *reduced, double *rest) {
    double largest = 0;
    columns_pull(programme->columns, dual, reduced);
    for EACH(j, programme->columns->n_col) reduced[j] = programme->cost[j] - reduced[j];
    columns_take(programme->columns, x, rest);
    for EACH(i, programme->columns->n_row) largest = larger(largest, fabs(rest[i]));
    return most_of_all(largest);
}

int32_t vertex_at(Programme programme, const double *searched, Simplex *simplex, double *rest, double *point, double *dual, double *reduced,
                  double *imbalance) {
    const double *cost = programme.cost;
    programme.cost = searched;
    simplex->steps = 0;
    int32_t outcome = solve(&programme, simplex);
    programme.cost = cost;
    simplex_answer(&programme, simplex, point, dual);
    *imbalance = check(&programme, point, dual, reduced, rest);
    return outcome;
}

void lw_capacity(const Problem *problem, const double *cost, const double *tie, const int32_t *start, double *point, double *dual,
                 double *reduced, double *imbalance, int32_t *basis, int32_t *outcome, int64_t *steps, double *scratch) {
    int64_t n = problem->n_row, m = problem->n_col;
    Columns columns = columns_in(problem, &scratch);
    Simplex simplex = simplex_in(n, m, take_numbers(&scratch, n * n), &scratch);
    double *rest = take_numbers(&scratch, n), *searched = searched_cost(cost, tie, m, &scratch);
    for (int64_t p = 0; p < problem->n_pos; p++) {
        Programme programme = {&columns, rest, problem->lower + p * m, problem->upper + p * m, cost, NUDGE};
        columns_at(&columns, problem, p);
        scaled_rest(problem, p, rest);
        if (start) begin_from(&programme, &simplex, start + p * n);
        else if (p == 0 || outcome[p - 1] != OPTIMAL) simplex_reset(&programme, &simplex);
        outcome[p] = vertex_at(programme, searched, &simplex, rest, point + p * m, dual + p * n, reduced + p * m, imbalance + p);
        memcpy(basis + p * n, simplex.basis, (size_t)n * sizeof(int32_t));
        steps[p] = simplex.steps;
    }
}

size_t lw_slopes_scratch(const Problem *problem) {
    size_t n = (size_t)problem->n_row;
    return lw_capacity_scratch(problem) + simplex_size(problem->n_row, problem->n_col) + 3 * (size_t)problem->n_col + n + n * n;
}

/* Bounds of the lines of one group scaled by 1 + change x weight; all others as they are. */
static void strengthen(const double *bound, const double *weight, double change, int64_t n_line, double *out) {
    for EACH(j, n_line) out[j] = bound[j] * (1 + change * weight[j]);
    meet();
}

/* What the objective gains where the upper bounds of the lines of one group grow together: the price of each that rests there. */
static double priced(const Programme *programme, const Simplex *simplex, const double *weight, int64_t n_line, const double *dual) {
    double sum = 0;
    for (int64_t j = next_filled(weight, 0, n_line); j < n_line; j = next_filled(weight, j + 1, n_line))
        if (simplex->where[j] == AT_UPPER) sum += weight[j] * larger(programme->cost[j] - column_dot(programme->columns, j, dual), 0);
    return sum;
}

/* Solves from where `kept` stands, and from nothing if that leads nowhere. */
static int32_t solve_from(const Programme *changed, const Simplex *kept, Simplex *simplex) {
    simplex_copy(changed->columns, kept, simplex);
    int32_t outcome = simplex_again(changed, simplex);
    if (outcome == OPTIMAL) return OPTIMAL;
    simplex_reset(changed, simplex);
    return simplex_solve(changed, simplex);
}

int32_t slopes_at(const Programme *as_is, Simplex *kept, Simplex *simplex, const int32_t *basis, int64_t n_group, int64_t n_line,
                  const double *weight, double step, double *slope, double *room) {
    int64_t m = as_is->columns->n_col;
    double *lower = room, *upper = lower + m, *x = upper + m, *dual = x + m;
    Programme changed = {as_is->columns, as_is->rest, lower, upper, as_is->cost, 0};
    begin_from(as_is, kept, basis);
    int32_t outcome = solve(as_is, kept);
    if (outcome != OPTIMAL) return outcome;
    if (!simplex_degenerate(as_is, kept)) return UNIQUE;
    copy(lower, as_is->lower, m);
    copy(upper, as_is->upper, m);
    for (int64_t g = 0; g < n_group; g++) {
        double sum = 0;
        for (int sign = 1; sign >= -1; sign -= 2) {
            strengthen(as_is->lower, weight + g * n_line, sign * step, n_line, lower);
            strengthen(as_is->upper, weight + g * n_line, sign * step, n_line, upper);
            if ((outcome = solve_from(&changed, kept, simplex)) != OPTIMAL) return outcome;
            simplex_answer(&changed, simplex, x, dual);
            sum += 0.5 * priced(&changed, simplex, weight + g * n_line, n_line, dual);
        }
        slope[g] = sum;
    }
    return OPTIMAL;
}

int32_t lw_slopes(const Problem *problem, const double *cost, int64_t position, const int32_t *basis, int64_t n_group, int64_t n_line,
                  const double *weight, double step, double *slope, double *scratch) {
    int64_t n = problem->n_row, m = problem->n_col;
    Columns columns = columns_in(problem, &scratch);
    Simplex kept = simplex_in(n, m, take_numbers(&scratch, n * n), &scratch), simplex = simplex_in(n, m, take_numbers(&scratch, n * n), &scratch);
    double *rest = take_numbers(&scratch, n), *room = take_numbers(&scratch, 3 * m + n);
    Programme as_is = {&columns, rest, problem->lower + position * m, problem->upper + position * m, cost, 0};
    columns_at(&columns, problem, position);
    scaled_rest(problem, position, rest);
    return slopes_at(&as_is, &kept, &simplex, basis, n_group, n_line, weight, step, slope, room);
}
