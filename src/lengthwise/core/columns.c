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

static int ever_used(const Problem *problem, const Block *block, int64_t row, int64_t column) {
    const double *entry = block->entry + row * block->n + column;
    for (int64_t p = 0; p < problem->n_pos; p++)
        if (entry[p * problem->n_row * block->n] != 0) return 1;
    return 0;
}

Columns columns_in(const Problem *problem, double **scratch) {
    int64_t entries = problem->n_row * problem->n_col, j = 0;
    int32_t filled = 0;
    Columns columns = {problem->n_row, problem->n_col, NULL, NULL, NULL, 0};
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
