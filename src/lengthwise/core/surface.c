/* What closed surfaces of triangles hold, and which way they look. */
#include <math.h>
#include <stdint.h>

#include "vector.h"

/* Twice the area of a triangle times its normal; the corners go to `corner` as seen from `from`. */
static void spanned(const double *points, const int32_t *face, const double *from, double corner[3][3], double *out) {
    double u[3], v[3];
    for (int i = 0; i < 3; i++)
        for (int k = 0; k < 3; k++) corner[i][k] = points[3 * face[i] + k] - from[k];
    for (int k = 0; k < 3; k++) u[k] = corner[1][k] - corner[0][k], v[k] = corner[2][k] - corner[0][k];
    cross(u, v, out);
}

/* Volumes (n_pos) of surfaces: points (n_pos, n_point, 3), the same triangles (n_face, 3) for all. */
void lw_volume(int64_t n_pos, int64_t n_point, const double *points, int64_t n_face, const int32_t *faces, double *volume) {
    double corner[3][3], n[3];
    for (int64_t i = 0; i < n_pos; i++) {
        const double *own = points + 3 * n_point * i;
        double sum = 0;
        for (int64_t f = 0; f < n_face; f++) {
            spanned(own, faces + 3 * f, own, corner, n);
            sum += dot(corner[0], n);
        }
        volume[i] = sum / 6;
    }
}

/* Unit normals at the points by area (n_pos, n_point, 3), and the areas of the surfaces (n_pos). */
void lw_normals(int64_t n_pos, int64_t n_point, const double *points, int64_t n_face, const int32_t *faces, double *normals, double *area) {
    double corner[3][3], n[3];
    for (int64_t i = 0; i < n_pos; i++) {
        const double *own = points + 3 * n_point * i;
        double *out = normals + 3 * n_point * i, sum = 0;
        for (int64_t k = 0; k < 3 * n_point; k++) out[k] = 0;
        for (int64_t f = 0; f < n_face; f++) {
            spanned(own, faces + 3 * f, own, corner, n);
            sum += sqrt(dot(n, n));
            for (int c = 0; c < 3; c++)
                for (int k = 0; k < 3; k++) out[3 * faces[3 * f + c] + k] += n[k];
        }
        for (int64_t j = 0; j < n_point; j++) {
            double size = larger(sqrt(dot(out + 3 * j, out + 3 * j)), 1e-12);
            for (int k = 0; k < 3; k++) out[3 * j + k] /= size;
        }
        area[i] = sum / 2;
    }
}
