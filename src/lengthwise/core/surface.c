/* What closed surfaces of triangles hold, and which way they look. */
#include <math.h>
#include <stdint.h>

#include "vector.h"

enum { LANES = 4 };

/* Volumes (LANES) of as many surfaces: points from the first one of each, (n_point, 3, LANES). */
static void held(const double *points, int64_t n_face, const int32_t *faces, double *volume) {
    double sum[LANES] = {0};
    for (int64_t f = 0; f < n_face; f++) {
        const double *a = points + 3 * LANES * faces[3 * f], *b = points + 3 * LANES * faces[3 * f + 1], *c = points + 3 * LANES * faces[3 * f + 2];
        for (int i = 0; i < LANES; i++) {
            double x = a[i], y = a[i + LANES], z = a[i + 2 * LANES];
            double u[3] = {b[i] - x, b[i + LANES] - y, b[i + 2 * LANES] - z}, v[3] = {c[i] - x, c[i + LANES] - y, c[i + 2 * LANES] - z};
            sum[i] += x * (u[1] * v[2] - u[2] * v[1]) + y * (u[2] * v[0] - u[0] * v[2]) + z * (u[0] * v[1] - u[1] * v[0]);
        }
    }
    for (int i = 0; i < LANES; i++) volume[i] = sum[i] / 6;
}

/* Volumes (n_pos) of surfaces: points (n_pos, n_point, 3), the same triangles (n_face, 3) for all, LANES surfaces at once. Scratch: side
 * (n_point, 3, LANES). */
void lw_volume(int64_t n_pos, int64_t n_point, const double *points, int64_t n_face, const int32_t *faces, double *side, double *volume) {
    for (int64_t i = 0; i < n_pos; i += LANES) {
        int64_t n = n_pos - i < LANES ? n_pos - i : LANES;
        double found[LANES];
        for (int64_t k = 0; k < LANES; k++) {
            const double *own = points + 3 * n_point * (i + (k < n ? k : 0));
            for (int64_t j = 0; j < 3 * n_point; j++) side[LANES * j + k] = own[j] - own[j % 3];
        }
        held(side, n_face, faces, found);
        for (int64_t k = 0; k < n; k++) volume[i + k] = found[k];
    }
}

/* Unit normals at the points by area (n_pos, n_point, 3), and the areas of the surfaces (n_pos). */
void lw_normals(int64_t n_pos, int64_t n_point, const double *points, int64_t n_face, const int32_t *faces, double *normals, double *area) {
    double u[3], v[3], n[3];
    for (int64_t i = 0; i < n_pos; i++) {
        const double *own = points + 3 * n_point * i;
        double *out = normals + 3 * n_point * i, sum = 0;
        for (int64_t k = 0; k < 3 * n_point; k++) out[k] = 0;
        for (int64_t f = 0; f < n_face; f++) {
            const double *a = own + 3 * faces[3 * f], *b = own + 3 * faces[3 * f + 1], *c = own + 3 * faces[3 * f + 2];
            for (int k = 0; k < 3; k++) u[k] = b[k] - a[k], v[k] = c[k] - a[k];
            cross(u, v, n);
            sum += sqrt(dot(n, n));
            for (int m = 0; m < 3; m++)
                for (int k = 0; k < 3; k++) out[3 * faces[3 * f + m] + k] += n[k];
        }
        for (int64_t j = 0; j < n_point; j++) {
            double size = larger(sqrt(dot(out + 3 * j, out + 3 * j)), 1e-12);
            for (int k = 0; k < 3; k++) out[3 * j + k] /= size;
        }
        area[i] = sum / 2;
    }
}
