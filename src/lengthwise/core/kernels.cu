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

/* Lifts of many bodies and where their answers go. task (n, TASK): body, and where the numbers of the lift and of its answer begin: integer,
 * real, bulk, brief, basis. order (n): which first. room: room_size numbers a warp. */
enum { TASK = 6 };

typedef struct {
    const Body *bodies;
    const Muscles *muscles;
    const int64_t *order, *task;
    const int32_t *integer;
    const double *real;
    double *bulk, *brief;
    int32_t *basis, *status;
    double *room;
    unsigned long long *next;
    int64_t n, room_size, near_size;
} Queue;

/* The next lift that is left, or -1. */
static __device__ inline int64_t take(const Queue *queue) {
    int64_t k = said_by_first(HAND == 0 ? (int64_t)atomicAdd(queue->next, 1ULL) : 0);
    return k < queue->n ? queue->order[k] : -1;
}

static __device__ inline double *own_room(const Queue *queue) {
    return queue->room + (blockIdx.x * (int64_t)blockDim.x + threadIdx.x) / HANDS * queue->room_size;
}

/* How lifts move, a warp a lift: warps take the next that is left. OWN: numbers that each thread has for itself. */
extern "C" __global__ void moves(const Queue *queue) {
    double own[OWN], *shared = own_room(queue);
    for (int64_t i = take(queue); i >= 0; i = take(queue)) {
        const int64_t *at = queue->task + TASK * i;
        const Body *body = queue->bodies + at[0];
        Lift lift = lift_in(body, queue->integer + at[1], queue->real + at[2]);
        Result answer = result_in(body, &lift, queue->bulk + at[3], queue->brief + at[4], queue->basis + at[5]);
        int said = lift_move(body, &lift, &answer, shared, own);
        if (HAND == 0) queue->status[i] = said;
        meet();
    }
}

/* The rest of the lifts that have moved. A block's shared memory holds the matrix that each of its warps works on, near_size numbers. */
extern "C" __global__ void holds(const Queue *queue) {
    NEAR_ROOM(all_near);
    double own[OWN], *shared = own_room(queue), *near = all_near + threadIdx.x / HANDS * queue->near_size;
    for (int64_t i = take(queue); i >= 0; i = take(queue)) {
        const int64_t *at = queue->task + TASK * i;
        const Body *body = queue->bodies + at[0];
        if (queue->status[i] != LIFT_SOLVED) continue;
        Lift lift = lift_in(body, queue->integer + at[1], queue->real + at[2]);
        Result answer = result_in(body, &lift, queue->bulk + at[3], queue->brief + at[4], queue->basis + at[5]);
        int said = lift_hold(body, queue->muscles + at[0], &lift, &answer, shared, own, near);
        if (HAND == 0) queue->status[i] = said;
        meet();
    }
}
