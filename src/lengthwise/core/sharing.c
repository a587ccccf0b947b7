/* Sharing by a Newton method on the dual.
 *
 * For multipliers y the best x is known variable by variable: it follows the pull of its column, columns' y, between its bounds. Only y
 * is sought, where the imbalance rest - columns x(y) vanishes; that is the gradient of a concave, piecewise smooth function. Sources
 * (from memory): Qi & Sun 1993, Math. Program. 58 (semismooth Newton); Li, Sun & Toh 2018, SIAM J. Optim. 28 (regularised, on the dual).
 *
 * A good start saves most of the steps, so positions start from what their neighbours found: from the set of variables that lay between their
 * bounds there, and if that leads nowhere from the multipliers. What comes out must not depend on it. So the steps only have to find that
 * set; the answer is then worked out anew from it alone. Cubes start from the squares of the same position.
 */
#include "sharing.h"

#include <math.h>
#include <string.h>

#include "vector.h"

#include "factor.h"

#define EPSILON 2.220446049250313e-16
#define LEAST_IMBALANCE 1e-9  /* at which steps may stop */
#define WORST_IMBALANCE 1e-5  /* above which they never do, however much rounding large multipliers bring */
#define SOLVED 1e-10          /* imbalance of an answer */
#define ROUNDED 1e-13         /* imbalance that nothing improves */
#define OUTSIDE 1e-9          /* how far a variable may lie from what its multipliers ask for, and outside its bounds */
#define NEAR 1e-7             /* how far a search may still be from the answer whose set it has found */
#define TIED 1e-9             /* how near to a bound a variable counts as resting there */
#define MOST_STEPS 120
#define MOST_CORRECTIONS 8
#define MOST_SEARCHES 60
#define MOST_FOLLOWED 4
#define FLAT 0.1

static double between(double value, double low, double high) {
    value = value < low ? low : value;
    return value > high ? high : value;
}

static int is_cubic(const Share *share, int64_t j) { return share->costs.power == 3 && j < share->costs.n_line; }

static double root(const Share *share, double pull) {
    return sqrt(share->costs.smoothing * share->costs.smoothing + 4 * larger(pull, 0));
}

static double best(const Share *share, int64_t j, double pull) {
    double price = share->costs.price[j];
    double wanted = is_cubic(share, j) ? 0.5 * (root(share, pull) - share->costs.smoothing) : pull - between(pull, -price, price);
    return between(wanted, share->lower[j], share->upper[j]);
}

/* What suits every variable at its pull (n_col). */
static void best_of(const Share *share, const double *restrict pull, double *restrict out) {
    int64_t cubic = share->costs.power == 3 ? share->costs.n_line : 0;
    const double *price = share->costs.price, *low = share->lower, *high = share->upper;
    meet();
    for EACH(j, cubic) out[j] = best(share, j, pull[j]);
    for EACH_FROM(j, cubic, share->columns->n_col) out[j] = between(pull[j] - between(pull[j], -price[j], price[j]), low[j], high[j]);
    meet();
}

static double slope_of(const Share *share, int64_t j, double pull, double x) {
    if (!(x > share->lower[j] && x < share->upper[j] && fabs(pull) > share->costs.price[j])) return 0;
    return is_cubic(share, j) ? 1 / root(share, pull) : 1;
}

static double largest_of(const double *values, int64_t n) {
    double largest = 0;
    for EACH(i, n) largest = larger(largest, fabs(values[i]));
    return most_of_all(largest);
}

/* What x leaves out of balance. */
static double imbalance(const Share *share, const double *x, double *short_by) {
    const Columns *columns = share->columns;
    copy(short_by, share->rest, columns->n_row);
    columns_take(columns, x, short_by);
    return largest_of(short_by, columns->n_row);
}

static void look(const Share *share, Search *search) {
    best_of(share, search->pull, search->x);
    for EACH(j, share->columns->n_col) search->slope[j] = slope_of(share, j, search->pull[j], search->x[j]);
    meet();
    search->largest = imbalance(share, search->x, search->short_by);
}

static void start_from(const Share *share, Search *search) {
    columns_pull(share->columns, search->y, search->pull);
    look(share, search);
}

/* Variables with a slope, in rising order; returns how many. */
static int64_t free_ones(const Search *search, int64_t n_col) {
    int64_t count = 0;
    for (int64_t first = 0; first < n_col; first += HANDS) {
        int64_t j = first + HAND;
        int found = j < n_col && search->slope[j] != 0;
        int64_t at = next_of_all(found, &count);
        if (found) search->free[at] = (int32_t)j;
    }
    meet();
    return count;
}

/* columns diag(slope) columns', lower triangle. */
#if HANDS == 1
static void jacobian(const Columns *columns, const Search *search) {
    int64_t n = columns->n_row, count = free_ones(search, columns->n_col);
    double *restrict matrix = search->matrix;
    const double *restrict value = columns->value;
    const int32_t *restrict at = columns->row;
    clear(matrix, n * n);
    for (int64_t k = 0; k < count; k++) {
        int32_t j = search->free[k], first = columns->start[j], end = columns->start[j + 1];
        double slope = search->slope[j];
        for (int32_t a = first; a < end; a++) {
            double *row = matrix + at[a] * n, size = slope * value[a];
            for (int32_t b = first; b <= a; b++) row[at[b]] += size * value[b];
        }
    }
}
#else
/* The same; a hand takes a pair of a column's entries, and looks up what it needs of as many columns as there are hands at once. */
static void jacobian(const Columns *columns, const Search *search) {
    int n = (int)columns->n_row, count = (int)free_ones(search, columns->n_col);
    double *restrict matrix = search->matrix;
    const double *restrict value = columns->value;
    const int32_t *restrict at = columns->row;
    clear(matrix, (int64_t)n * n);
    for (int base = 0; base < count; base += HANDS) {
        int32_t own = base + HAND < count ? search->free[base + HAND] : 0, own_first = columns->start[own], own_end = columns->start[own + 1];
        double own_slope = search->slope[own];
        for (int k = 0; k < HANDS && base + k < count; k++) {
            int32_t first = (int32_t)from_hand_whole(own_first, k), width = (int32_t)from_hand_whole(own_end, k) - first;
            double slope = from_hand(own_slope, k);
            for EACH(e, (int64_t)width * (width + 1) / 2) {
                int32_t a = (int32_t)((sqrtf(8 * (float)e + 1) - 1) / 2), b = first + (int32_t)e - a * (a + 1) / 2;
                a += first;
                matrix[at[a] * n + at[b]] += slope * value[a] * value[b];
            }
            meet();
        }
    }
}
#endif

/* Factor of the Jacobian plus as little on its diagonal as makes it positive; `fading` vanishes with the imbalance. */
static void factorise(const Columns *columns, const Search *search, double fading) {
    int64_t n = columns->n_row;
    double *matrix = search->matrix;
    double mean = 0, added;
    jacobian(columns, search);
    for (int64_t i = 0; i < n; i++) mean += matrix[i * n + i] / (double)n;
    added = 1e-13 * larger(mean, 1) + fading;
    meet();
    for (;;) {
        for EACH(i, n) matrix[i * n + i] += added;
        meet();
        if (!cholesky(matrix, n)) return;
        jacobian(columns, search);
        added *= 10;
    }
}

static void aim(const Share *share, Search *search) {
    const Columns *columns = share->columns;
    factorise(columns, search, 1e-4 * smaller(search->largest, 1));
    copy(search->direction, search->short_by, columns->n_row);
    cholesky_solve(search->matrix, columns->n_row, search->direction);
    columns_pull(columns, search->direction, search->change);
}

/* Slope of the dual function along the direction after `length` of it. */
static double rise_at(const Share *share, const Search *search, double reach, double length) {
    double *x = search->trial, *pull = search->trial_pull;
    for EACH(j, share->columns->n_col) pull[j] = search->pull[j] + length * search->change[j];
    best_of(share, pull, x);
    return reach - dot_of_all(search->change, x, (int)share->columns->n_col);
}

/* All the way unless the dual function falls again before; then to near its top. The bracket is narrowed by the secant, kept away from
 * its ends, and by halving every third time. */
static double step_length(const Share *share, const Search *search) {
    int n = (int)share->columns->n_row;
    double reach = dot_of_all(share->rest, search->direction, n), first = dot_of_all(search->short_by, search->direction, n);
    double near = 0, far = 1, rise = first, fall = -rise_at(share, search, reach, 1), length = 1;
    if (fall <= FLAT * first) return 1;
    for (int k = 0; k < MOST_SEARCHES; k++) {
        double width = far - near, secant = (near * fall + far * rise) / (rise + fall);
        length = k % 3 == 2 ? near + 0.5 * width : between(secant, near + 0.02 * width, far - 0.02 * width);
        double here = rise_at(share, search, reach, length);
        if (fabs(here) <= FLAT * first) break;
        if (here > 0) near = length, rise = here;
        else far = length, fall = -here;
    }
    return length;
}

/* Whether the same variables lie between their bounds as before the last step, and the others at the same ends. */
static int same_set(const Share *share, const Search *search) {
    int differs = 0;
    for EACH(j, share->columns->n_col) {
        differs |= (search->slope[j] > 0) != (search->slope_before[j] > 0);
        differs |= search->slope[j] > 0 ? search->x[j] * search->x_before[j] < 0 : search->x[j] != search->x_before[j];
    }
    return !any_of_all(differs);
}

/* Imbalance at which steps may stop: large multipliers leave rounding of this order in x(y). */
static double attainable(const Share *share, const Search *search, double least) {
    double entry = share->columns->largest;
    return between(EPSILON * entry * entry * largest_of(search->y, share->columns->n_row), least, WORST_IMBALANCE);
}

static int is_zero(const double *values, int64_t n) { return largest_of(values, n) == 0; }

/* Newton steps until the imbalance is gone or, with squares, until a whole step changes nothing about who lies between bounds. */
static void descend(const Share *share, Search *search, double least, int until_settled) {
    int64_t width = share->columns->n_col;
    start_from(share, search);
    if (is_zero(search->y, share->columns->n_row)) /* everything rests at a bound: see all unpriced variables free */
        for EACH(j, width) search->slope[j] = share->costs.price[j] == 0;
    meet();
    for (int64_t step = 0; step < MOST_STEPS; step++, search->steps++) {
        if (search->largest <= attainable(share, search, least)) return;
        aim(share, search);
        double length = step_length(share, search);
        for EACH(i, share->columns->n_row) search->y[i] += length * search->direction[i];
        for EACH(j, width) search->pull[j] += length * search->change[j];
        copy(search->x_before, search->x, width);
        copy(search->slope_before, search->slope, width);
        look(share, search);
        if (until_settled && length == 1 && same_set(share, search)) return;
    }
}

/* Moves the free variables themselves to close the last of the imbalance: large multipliers leave rounding in x(y). */
static void close_up(const Share *share, Search *search) {
    const Columns *columns = share->columns;
    double *x = search->x_before, *short_by = search->row;
    for (int k = 0; k < MOST_CORRECTIONS && search->largest <= WORST_IMBALANCE && search->largest > ROUNDED; k++) {
        aim(share, search);
        for EACH(j, columns->n_col)
            x[j] = search->slope[j] == 0 ? search->x[j]
                                         : between(search->x[j] + search->slope[j] * search->change[j], share->lower[j], share->upper[j]);
        meet();
        double left = imbalance(share, x, short_by);
        if (!(left < search->largest)) return;
        copy(search->x, x, columns->n_col);
        copy(search->short_by, short_by, columns->n_row);
        search->largest = left;
    }
}

/* The x of least squares whose free variables are those of the search, worked out from that set alone; into x_before, y into `row`,
 * pull into `change`. Returns the imbalance left. */
static double worked_out(const Share *share, Search *search) {
    const Columns *columns = share->columns;
    double *x = search->x_before, *y = search->row, *step = search->direction, before = INFINITY, left;
    for EACH(j, columns->n_col) /* what a free variable is without multipliers */
        x[j] = search->slope[j] == 0 ? search->x[j] : copysign(share->costs.price[j], -search->x[j]);
    clear(y, columns->n_row);
    factorise(columns, search, 0);
    for (int k = 0; k < MOST_CORRECTIONS; k++) {
        left = imbalance(share, x, step);
        if (left <= ROUNDED || left > 0.5 * before) return left;
        before = left;
        cholesky_solve(search->matrix, columns->n_row, step);
        for EACH(i, columns->n_row) y[i] += step[i];
        for EACH(j, columns->n_col)
            if (search->slope[j] > 0) x[j] += column_dot(columns, j, step);
        meet();
    }
    return imbalance(share, x, step);
}

/* Whether what was worked out lies within its bounds and on its side of every kink, and is what its multipliers ask for. */
static int asked_for(const Share *share, const Search *search) {
    int missed = 0;
    for EACH(j, share->columns->n_col) {
        double pull = column_dot(share->columns, j, search->row);
        missed |= !(fabs(best(share, j, pull) - search->x_before[j]) <= OUTSIDE * (1 + fabs(pull)));
    }
    return !any_of_all(missed);
}

/* Whether what was worked out is what the search had all but reached: the proof where few variables are free and multipliers not unique. */
static int reached(const Share *share, const Search *search) {
    if (search->largest > LEAST_IMBALANCE) return 0;
    int far = 0;
    for EACH(j, share->columns->n_col) far |= !(fabs(search->x[j] - search->x_before[j]) <= NEAR);
    return !any_of_all(far);
}

/* Counts free variables that came to lie on a bound as resting there, so that a tie has one answer. Returns whether there were any. */
static int settle_ties(const Share *share, Search *search) {
    int found = 0;
    for EACH(j, share->columns->n_col) {
        double x = search->x_before[j], low = share->lower[j], high = share->upper[j];
        if (search->slope[j] == 0) continue;
        double to = x <= low + TIED ? low : x >= high - TIED ? high : fabs(x) <= TIED && share->costs.price[j] > 0 ? 0 : x;
        if (to == x && x > low && x < high) continue;
        search->x[j] = to, search->slope[j] = 0;
        found = 1;
    }
    meet();
    return any_of_all(found);
}

/* Takes over what was worked out, within its bounds. */
static void take_over(const Share *share, Search *search) {
    for EACH(j, share->columns->n_col) search->x[j] = between(search->x_before[j], share->lower[j], share->upper[j]);
    meet();
    search->largest = imbalance(share, search->x, search->short_by);
}

/* Works the answer out from the set of free variables that the search found, correcting the set a few times; 0 if that fails. */
static int settle(const Share *share, Search *search) {
    int64_t height = share->columns->n_row;
    copy(search->y_before, search->y, height);
    for (int k = 0; k < MOST_CORRECTIONS && worked_out(share, search) <= SOLVED; k++) {
        int asked = asked_for(share, search);
        if (asked || reached(share, search)) {
            if (settle_ties(share, search)) continue;
            if (asked) copy(search->y, search->row, height);
            take_over(share, search);
            return 1;
        }
        copy(search->y, search->row, height);
        start_from(share, search);
    }
    copy(search->y, search->y_before, height);
    start_from(share, search);
    return 0;
}

enum { FREE_DOWN = -1, AT_NOTHING = 0, FREE_UP = 1, AT_LOW = 2, AT_HIGH = 3 };

/* Where each variable rests, or which way it is free. */
static void note_set(const Share *share, Search *search) {
    for EACH(j, share->columns->n_col) {
        double x = search->x[j];
        search->rests[j] = search->slope[j] != 0 ? (x < 0 ? FREE_DOWN : FREE_UP) : x == share->lower[j] ? AT_LOW : x == share->upper[j] ? AT_HIGH : AT_NOTHING;
    }
    meet();
}

/* From the set of the position before, corrected a few times by what it asks for. Returns whether that ends in the answer; else leaves
 * multipliers that are near. */
static int follow(const Share *share, Search *search) {
    for EACH(j, share->columns->n_col) {
        int32_t rests = search->rests[j];
        search->slope[j] = rests == FREE_UP || rests == FREE_DOWN;
        search->x[j] = rests == AT_LOW ? share->lower[j] : rests == AT_HIGH ? share->upper[j] : rests;
    }
    meet();
    for (int k = 0; k < MOST_FOLLOWED && worked_out(share, search) <= SOLVED; k++) {
        int asked = asked_for(share, search);
        if (asked && settle_ties(share, search)) continue;
        copy(search->y, search->row, share->columns->n_row);
        if (asked) {
            take_over(share, search);
            return 1;
        }
        start_from(share, search);
    }
    return 0;
}

static void squares(const Share *share, Search *search) {
    if (search->follows && follow(share, search)) return;
    descend(share, search, LEAST_IMBALANCE, 1);
    if (settle(share, search)) return;
    descend(share, search, ROUNDED, 0);
    if (!settle(share, search)) close_up(share, search);
}

/* Multipliers that pull the free variables of the squares to where they are, were their costs the cubic ones. */
static void pull_as_cubes(const Share *share, Search *search) {
    const Columns *columns = share->columns;
    clear(search->y, columns->n_row);
    for (int64_t j = 0; j < columns->n_col; j++) {
        double x = search->x[j], marginal = j < share->costs.n_line ? x * x + share->costs.smoothing * x : x;
        if (search->slope[j] > 0) column_add(columns, j, marginal + copysign(share->costs.price[j], x), search->y);
    }
    factorise(columns, search, 0);
    cholesky_solve(search->matrix, columns->n_row, search->y);
}

static void cubes(const Share *share, Search *search) {
    pull_as_cubes(share, search);
    descend(share, search, LEAST_IMBALANCE, 0);
    close_up(share, search);
}

Search search_in(int64_t n, int64_t m, double *matrix, double **scratch) {
    Search search = {0};
    double **rows[] = {&search.y, &search.short_by, &search.direction, &search.row, &search.y_before};
    double **cols[] = {&search.pull, &search.x, &search.slope, &search.change, &search.x_before, &search.slope_before, &search.trial, &search.trial_pull};
    for (size_t k = 0; k < sizeof rows / sizeof *rows; k++) *rows[k] = take_numbers(scratch, n);
    for (size_t k = 0; k < sizeof cols / sizeof *cols; k++) *cols[k] = take_numbers(scratch, m);
    search.matrix = matrix;
    search.free = take_integers(scratch, m), search.rests = take_integers(scratch, m);
    return search;
}

size_t search_size(int64_t n_row, int64_t n_col) { return (size_t)(5 * n_row + 8 * n_col) + 2 * integers_size(n_col); }

size_t lw_share_scratch(const Problem *problem) {
    return columns_size(problem) + search_size(problem->n_row, problem->n_col) + (4 + (size_t)problem->n_row) * (size_t)problem->n_row;
}

void share_at(const Share *share, Search *search, double *squares_y) {
    int64_t height = share->columns->n_row;
    Share square = *share;
    square.costs.power = 2;
    search->steps = 0;
    squares(&square, search);
    if (search->largest > SOLVED) { /* a start can lead astray near the edge of what can be held */
        clear(search->y, height);
        search->follows = 0;
        squares(&square, search);
    }
    copy(squares_y, search->y, height);
    note_set(&square, search);
    if (share->costs.power == 3) cubes(share, search);
}

/* The start of a position: the given one, or the straight line through those of the two positions before. */
static void set_start(const double *start, const double *last, const double *last_but_one, int64_t p, int64_t n, double *y) {
    for (int64_t i = 0; i < n; i++) y[i] = start ? start[p * n + i] : p > 1 ? 2 * last[i] - last_but_one[i] : p ? last[i] : 0;
}

void lw_share(const Problem *problem, const Costs *costs, const double *start, double *point, double *multiplier, double *pull,
              double *imbalance_left, int64_t *steps, double *scratch) {
    int64_t n = problem->n_row, m = problem->n_col;
    size_t height = (size_t)n * sizeof(double);
    Columns columns = columns_in(problem, &scratch);
    Search search = search_in(n, m, take_numbers(&scratch, n * n), &scratch);
    double *rest = take_numbers(&scratch, n), *last = take_numbers(&scratch, n), *last_but_one = take_numbers(&scratch, n);
    double *own = take_numbers(&scratch, n);
    for (int64_t p = 0; p < problem->n_pos; p++) {
        columns_at(&columns, problem, p);
        for (int64_t i = 0; i < n; i++) rest[i] = problem->rest[p * n + i] / problem->scale[i];
        Share share = {&columns, rest, problem->lower + p * m, problem->upper + p * m, *costs};
        set_start(start, last, last_but_one, p, n, search.y);
        search.follows = p > 0 && !start;
        share_at(&share, &search, own);
        memcpy(last_but_one, last, height);
        memcpy(last, own, height);
        memcpy(point + p * m, search.x, (size_t)m * sizeof(double));
        memcpy(multiplier + p * n, search.y, height);
        for (int64_t j = 0; j < m; j++) pull[p * m + j] = column_dot(&columns, j, search.y);
        imbalance_left[p] = search.largest;
        steps[p] = search.steps;
    }
}
