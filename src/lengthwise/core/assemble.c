/* The balance of the body as matrices: what each line, support and kilogram does to each coordinate that must be in balance.
 *
 * A lift that both sides do alike is folded to one side: `row` picks the coordinates that count, `weight` says how often the columns of
 * the right side count in each.
 */
#include <stdint.h>
#include <stddef.h>
#include <string.h>

#include "vector.h"

/* What was surveyed and what is asked of it; fields and order are repeated in assembly.py. */
typedef struct {
    int64_t n_pos, n_coord, n_row, n_arm, n_line, n_mark, n_hold, n_rib, n_load;
    const int32_t *row;        /* (n_row) */
    const double *weight;      /* (n_row) */
    const double *arms;        /* (n_pos, n_arm, n_coord), of which the first n_line count */
    const double *active;      /* force that full activation adds [N] (n_pos, n_line) */
    const double *passive;     /* force at rest [N] (n_pos, n_line) */
    const double *gravity;     /* (n_pos, n_coord) */
    const double *point, *frame, *jacobian, *turn; /* of the landmarks (n_pos, n_mark, 3 | 9 | 3 * n_coord | 3 * n_coord) */
    const int32_t *hold_mark, *hold_on, *hold_turns; /* landmark, the one that takes the opposite force or -1, whether a couple (n_hold) */
    const double *hold_direction; /* (n_hold, 3) */
    const int32_t *rib_point, *rib_centre; /* landmarks on the blade and on the rib cage (n_rib) */
    const double *rib_axes;    /* half depth and half width of the rib cage [m] (2) */
    const int32_t *load_mark;  /* (n_load) */
    const double *load_force;  /* at 1 kg [N] (n_pos, n_load, 3) */
} Parts;

size_t lw_parts_size(void) { return sizeof(Parts); }

/* Adds direction · slope (3, n_coord) times `sign` to a column of the support matrix, folded. */
static void add_column(const Parts *parts, const double *slope, const double *direction, double sign, double *column, size_t stride) {
    size_t n = (size_t)parts->n_coord;
    for (int64_t r = 0; r < parts->n_row; r++) {
        size_t d = (size_t)parts->row[r];
        double moved = direction[0] * slope[d] + direction[1] * slope[n + d] + direction[2] * slope[2 * n + d];
        column[(size_t)r * stride] += sign * parts->weight[r] * moved;
    }
}

static const double *slope_of(const Parts *parts, const double *all, size_t position, int mark) {
    return all + (position * (size_t)parts->n_mark + (size_t)mark) * 3 * (size_t)parts->n_coord;
}

static void muscles(const Parts *parts, size_t i, double *muscle, double *rest) {
    size_t n = (size_t)parts->n_coord, n_line = (size_t)parts->n_line;
    const double *active = parts->active + i * n_line, *passive = parts->passive + i * n_line;
    for (int64_t r = 0; r < parts->n_row; r++) {
        const double *arm = parts->arms + i * (size_t)parts->n_arm * n + parts->row[r];
        double *out = muscle + (size_t)r * n_line, held = 0;
        for (size_t l = 0; l < n_line; l++) {
            out[l] = -parts->weight[r] * arm[l * n] * active[l];
            held += arm[l * n] * passive[l];
        }
        rest[r] = parts->gravity[i * n + (size_t)parts->row[r]] + parts->weight[r] * held;
    }
}

/* The rib cage, an upright elliptic cylinder, pushes a point of the blade square to its surface. */
static void rib(const Parts *parts, size_t i, int k, double *column, size_t stride) {
    int at = parts->rib_point[k], centre = parts->rib_centre[k];
    size_t first = i * (size_t)parts->n_mark;
    const double *p = parts->point + 3 * (first + (size_t)at), *c = parts->point + 3 * (first + (size_t)centre);
    const double *frame = parts->frame + 9 * (first + (size_t)centre);
    double arm[3] = {p[0] - c[0], p[1] - c[1], p[2] - c[2]}, local[3], world[3], twist[3];
    turned_back(frame, arm, local);
    for (int a = 0; a < 2; a++) local[a] /= parts->rib_axes[a] * parts->rib_axes[a];
    local[2] = 0;
    unit3(local);
    turned(frame, local, world);
    cross(arm, world, twist);
    add_column(parts, slope_of(parts, parts->jacobian, i, at), world, 1, column, stride);
    add_column(parts, slope_of(parts, parts->jacobian, i, centre), world, -1, column, stride);
    add_column(parts, slope_of(parts, parts->turn, i, centre), twist, -1, column, stride);
}

/* muscle (n_pos, n_row, n_line), support (n_pos, n_row, n_hold + n_rib), load and rest (n_pos, n_row). */
void lw_assemble(const Parts *parts, double *muscle, double *support, double *load, double *rest) {
    size_t n_row = (size_t)parts->n_row, width = (size_t)(parts->n_hold + parts->n_rib);
    memset(support, 0, (size_t)parts->n_pos * n_row * width * sizeof(double));
    memset(load, 0, (size_t)parts->n_pos * n_row * sizeof(double));
    for (size_t i = 0; i < (size_t)parts->n_pos; i++) {
        muscles(parts, i, muscle + i * n_row * (size_t)parts->n_line, rest + i * n_row);
        double *here = support + i * n_row * width;
        for (int64_t k = 0; k < parts->n_hold; k++) {
            const double *source = parts->hold_turns[k] ? parts->turn : parts->jacobian, *along = parts->hold_direction + 3 * k;
            add_column(parts, slope_of(parts, source, i, parts->hold_mark[k]), along, 1, here + k, width);
            if (parts->hold_on[k] >= 0) add_column(parts, slope_of(parts, source, i, parts->hold_on[k]), along, -1, here + k, width);
        }
        for (int64_t k = 0; k < parts->n_rib; k++) rib(parts, i, (int)k, here + parts->n_hold + k, width);
        for (int64_t k = 0; k < parts->n_load; k++) {
            const double *force = parts->load_force + 3 * (i * (size_t)parts->n_load + (size_t)k);
            add_column(parts, slope_of(parts, parts->jacobian, i, parts->load_mark[k]), force, 1, load + i * n_row, 1);
        }
    }
}
