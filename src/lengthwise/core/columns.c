#include "columns.h"

#include <math.h>

#include "vector.h"

double *take_numbers(double **scratch, int64_t n) {
    double *taken = *scratch;
    *scratch += n;
    return taken;
}

size_t integers_size(int64_t n) { return ((size_t)n * sizeof(int32_t) + sizeof(double) - 1) / sizeof(double); }

int32_t *take_integers(double **scratch, int64_t n) { return (int32_t *)take_numbers(scratch, (int64_t)integers_size(n)); }

size_t columns_size(const Problem *problem) {
    int64_t entries = problem->n_row * problem->n_col;
    return integers_size(problem->n_col + 1) + integers_size(entries) + (size_t)entries;
}

size_t rows_size(int64_t n_row, int64_t n_entry) { return integers_size(n_row + 1) + 2 * integers_size(n_entry); }

Rows rows_in(int64_t n_row, int64_t n_col, const int32_t *start, const int32_t *row, int64_t n_entry, double **scratch) {
    Rows rows = {take_integers(scratch, n_row + 1), take_integers(scratch, n_entry), take_integers(scratch, n_entry)};
#if HANDS > 1
    int32_t end = start[n_col];
    for EACH(i, n_row) {
        int32_t before = 0;
        for (int32_t k = 0; k < end; k++) before += row[k] < i;
        rows.start[i] = before;
        for (int64_t j = 0; j < n_col; j++)
            for (int32_t k = start[j]; k < start[j + 1]; k++)
                if (row[k] == i) rows.column[before] = (int32_t)j, rows.entry[before++] = k;
        if (i == n_row - 1) rows.start[n_row] = end;
    }
    meet();
#else
    (void)n_col, (void)start, (void)row;
#endif
    return rows;
}

#if HANDS == 1
void columns_take(const Columns *columns, const double *x, double *y) {
    for (int64_t j = 0; j < columns->n_col; j++)
        if (x[j] != 0) column_add(columns, j, -x[j], y);
}
#else
void columns_take(const Columns *columns, const double *x, double *y) {
    const Rows *rows = &columns->rows;
    meet();
    for EACH(i, columns->n_row) {
        double left = y[i];
        int32_t end = rows->start[i + 1];
#pragma unroll 8
        for (int32_t k = rows->start[i]; k < end; k++) {
            int32_t j = rows->column[k];
            double by = j < columns->n_col ? -x[j] : 0;
            left = by == 0 ? left : left + by * columns->value[rows->entry[k]];
        }
        y[i] = left;
    }
    meet();
}
#endif

static int ever_used(const Problem *problem, const Block *block, int64_t row, int64_t column) {
    const double *entry = block->entry + row * block->n + column;
    for (int64_t p = 0; p < problem->n_pos; p++)
        if (entry[p * problem->n_row * block->n] != 0) return 1;
    return 0;
}

Columns columns_in(const Problem *problem, double **scratch) {
    int64_t entries = problem->n_row * problem->n_col, j = 0;
    int32_t filled = 0;
    Columns columns = {.n_row = problem->n_row, .n_col = problem->n_col};
    columns.value = take_numbers(scratch, entries);
    columns.start = take_integers(scratch, problem->n_col + 1);
    columns.row = take_integers(scratch, entries);
    for (int64_t b = 0; b < problem->n_block; b++)
        for (int64_t c = 0; c < problem->block[b].n; c++) {
            columns.start[j++] = filled;
            for (int64_t i = 0; i < problem->n_row; i++)
                if (ever_used(problem, &problem->block[b], i, c)) columns.row[filled++] = (int32_t)i;
        }
    columns.start[j] = filled;
    return columns;
}

void columns_at(Columns *columns, const Problem *problem, int64_t position) {
    int64_t j = 0;
    columns->largest = 0;
    for (int64_t b = 0; b < problem->n_block; b++) {
        const Block *block = &problem->block[b];
        const double *entry = block->entry + position * problem->n_row * block->n;
        for (int64_t c = 0; c < block->n; c++, j++) {
            double unit = block->factor * (block->unit ? block->unit[position * block->n + c] : 1);
            for (int32_t k = columns->start[j]; k < columns->start[j + 1]; k++) {
                int64_t i = columns->row[k];
                columns->value[k] = entry[i * block->n + c] * unit / problem->scale[i];
                columns->largest = larger(columns->largest, fabs(columns->value[k]));
            }
        }
    }
}

void columns_spread(Columns *columns) {
    int64_t width = columns->n_dense;
    for (int64_t j = 0; j < width; j++)
        for (int32_t k = columns->start[j]; k < columns->start[j + 1]; k++) columns->dense[columns->row[k] * width + j] = columns->value[k];
}

/* out += four rows of width numbers, each times its own y; one after the other, as column_dot does. */
static inline void add_four(const double *restrict row, const double *restrict y, int64_t width, double *restrict out) {
    double a = y[0], b = y[1], c = y[2], d = y[3];
    const double *two = row + width, *three = two + width, *four = three + width;
    if (a == 0 && b == 0 && c == 0 && d == 0) return;
    for (int64_t j = 0; j < width; j++) out[j] = out[j] + a * row[j] + b * two[j] + c * three[j] + d * four[j];
}

static void pull_dense(const Columns *columns, const double *restrict y, double *restrict out) {
    int64_t width = columns->n_dense, i = 0;
    for (int64_t j = 0; j < width; j++) out[j] = 0;
    for (; i + 4 <= columns->n_row; i += 4) add_four(columns->dense + i * width, y + i, width, out);
    for (; i < columns->n_row; i++)
        for (int64_t j = 0; j < width; j++) out[j] += y[i] * columns->dense[i * width + j];
}

void columns_pull(const Columns *columns, const double *y, double *out) {
    if (columns->n_dense) pull_dense(columns, y, out);
    for EACH_FROM(j, columns->n_dense, columns->n_col) out[j] = column_dot(columns, j, y);
    meet();
}
