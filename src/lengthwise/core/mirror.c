/* Arithmetic knows no sides: what is mirrored on the way in is mirrored bit by bit on the way out. */
#include "mirror.h"

/* Whether b is a with some signs turned. */
static int turned_signs(const double *a, const double *b, int n, const double *sign) {
    int same = 1;
    for (int k = 0; k < n; k++) same &= b[k] == sign[k] * a[k];
    return same;
}

static int alike(const Body *body, int right, int left) {
    static const double place[3] = {1, -1, 1}, axis[3] = {-1, 1, -1}, turn[4] = {1, -1, 1, -1};
    int count = body->joint_count[right], same = count == body->joint_count[left] && body->mass[right] == body->mass[left];
    same &= turned_signs(body->offset + 3 * right, body->offset + 3 * left, 3, place);
    same &= turned_signs(body->centre + 3 * right, body->centre + 3 * left, 3, place);
    same &= turned_signs(body->turn + 4 * right, body->turn + 4 * left, 4, turn);
    for (int k = 0; k < count && same; k++) {
        int a = body->first_joint[right] + k, b = body->first_joint[left] + k;
        same &= body->joint_kind[a] == body->joint_kind[b];
        if (body->joint_kind[a] == JOINT_HINGE) same &= turned_signs(body->joint_axis + 3 * a, body->joint_axis + 3 * b, 3, axis);
    }
    return same;
}

/* Whether a segment of the middle is its own mirror image. */
static int even(const Body *body, int s) {
    return body->offset[3 * s + 1] == 0 && body->centre[3 * s + 1] == 0 && body->turn[4 * s + 1] == 0 && body->turn[4 * s + 3] == 0;
}

int mirror_segments(const Body *body, int32_t *seen) {
    seen[0] = 0;
    for (int s = 1; s < body->n_segment; s++) {
        int32_t twin = s;
        if (body->joint_count[s]) twin = body->coord_segment[body->mirror_coord[body->joint_coord[body->first_joint[s]]]];
        seen[s] = twin < s ? twin : s;
        if (twin == s && (seen[body->parent[s]] != body->parent[s] || !even(body, s))) return 0;
        if (twin < s && (seen[body->parent[s]] != body->parent[twin] || !alike(body, twin, s))) return 0;
    }
    return 1;
}
