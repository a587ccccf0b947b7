/* Entries of the core on a graphics processor. Blocks hold addresses of the device; every thread works in room of its own. */

extern "C" __device__ void lw_paths(const Body *body, int n_pos, const double *q, double *length, double *scratch);

/* Lengths of all lines of n postures, each of its own body. ROOM: numbers that one posture takes. */
extern "C" __global__ void paths(const Body *bodies, const int32_t *whose, int64_t n, const double *q, double *length) {
    double room[ROOM];
    for (int64_t i = blockIdx.x * (int64_t)blockDim.x + threadIdx.x; i < n; i += (int64_t)gridDim.x * blockDim.x) {
        const Body *body = bodies + whose[i];
        lw_paths(body, 1, q + i * body->n_q, length + i * body->n_line, room);
    }
}

/* Whole lifts, a warp a lift. task (n, 5): body, and where the numbers of the lift and of its answer begin: integer, real, result, basis.
 * Warps take the next lift that is left; room: room_size numbers a warp. OWN: numbers that each thread has for itself. */
extern "C" __global__ void lifts(const Body *bodies, const Muscles *muscles, int64_t n, const int64_t *task, const int32_t *integer,
                                 const double *real, double *result, int32_t *basis, int32_t *status, double *room, int64_t room_size,
                                 unsigned long long *next) {
    double own[OWN], *shared = room + (blockIdx.x * (int64_t)blockDim.x + threadIdx.x) / HANDS * room_size;
    for (;;) {
        int64_t i = said_by_first(HAND == 0 ? (int64_t)atomicAdd(next, 1ULL) : 0);
        if (i >= n) return;
        const int64_t *at = task + 5 * i;
        const Body *body = bodies + at[0];
        Lift lift = lift_in(body, integer + at[1], real + at[2]);
        Result answer = result_in(body, &lift, result + at[3], basis + at[4]);
        int said = lift_solve(body, muscles + at[0], &lift, &answer, shared, own);
        if (HAND == 0) status[i] = said;
        meet();
    }
}
