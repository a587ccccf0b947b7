/* Which triangle is nearest at each pixel of a picture. */
#include <math.h>
#include <stdint.h>

/* Triangles (n_face, 3) of points (n_point, 3): x and y in pixels, z the distance from the eye. For each pixel of width x height, row by
 * row: the nearest triangle or -1, its depth, and the shares of its second and third corner (2 numbers). */
void lw_raster(int64_t n_face, const int32_t *faces, const double *points, int64_t width, int64_t height, int32_t *nearest, double *depth,
               double *share) {
    for (int64_t i = 0; i < width * height; i++) nearest[i] = -1, depth[i] = INFINITY;
    for (int64_t f = 0; f < n_face; f++) {
        const double *a = points + 3 * faces[3 * f], *b = points + 3 * faces[3 * f + 1], *c = points + 3 * faces[3 * f + 2];
        double bx = b[0] - a[0], by = b[1] - a[1], cx = c[0] - a[0], cy = c[1] - a[1], area = bx * cy - by * cx;
        if (fabs(area) < 1e-9) continue;
        int64_t x0 = (int64_t)fmax(0, ceil(fmin(a[0], fmin(b[0], c[0])))), x1 = (int64_t)fmin(width - 1, floor(fmax(a[0], fmax(b[0], c[0]))));
        int64_t y0 = (int64_t)fmax(0, ceil(fmin(a[1], fmin(b[1], c[1])))), y1 = (int64_t)fmin(height - 1, floor(fmax(a[1], fmax(b[1], c[1]))));
        for (int64_t y = y0; y <= y1; y++)
            for (int64_t x = x0; x <= x1; x++) {
                double px = x - a[0], py = y - a[1];
                double u = (px * cy - py * cx) / area, v = (py * bx - px * by) / area;
                if (u < 0 || v < 0 || u + v > 1) continue;
                double z = a[2] + u * (b[2] - a[2]) + v * (c[2] - a[2]);
                int64_t i = y * width + x;
                if (z < depth[i]) depth[i] = z, nearest[i] = (int32_t)f, share[2 * i] = u, share[2 * i + 1] = v;
            }
    }
}
