/* Many lifts at once, on threads of the caller's process; which thread takes a lift changes no bit of its answer. */
#include <pthread.h>

#include "columns.h"
#include "lift.h"

enum { MOST_THREADS = 64 };

typedef struct {
    const Body *body;
    const Muscles *const *muscles;
    int32_t n_lift;
    const int32_t *const *integer;
    const double *const *real;
    double *const *bulk, *const *brief;
    int32_t *const *basis;
    int32_t *status;
    int32_t next;
    pthread_mutex_t turn;
} Queue;

typedef struct {
    Queue *queue;
    double *scratch;
} Worker;

static int32_t take(Queue *queue) {
    pthread_mutex_lock(&queue->turn);
    int32_t k = queue->next++;
    pthread_mutex_unlock(&queue->turn);
    return k;
}

static void *work(void *own) {
    Worker *worker = own;
    Queue *queue = worker->queue;
    for (int32_t k = take(queue); k < queue->n_lift; k = take(queue)) {
        const Muscles *muscles = queue->muscles[k];
        Lift lift = lift_in(queue->body, queue->integer[k], queue->real[k]);
        double *own = worker->scratch + lift_size(queue->body, muscles, &lift), *near = own + lift_own_size(queue->body, &lift);
        double *bulk = near + lift_near_size(&lift);
        int32_t *basis = (int32_t *)(bulk + bulk_size(queue->body, &lift));
        if (queue->bulk) bulk = queue->bulk[k], basis = queue->basis[k];
        Result result = result_in(queue->body, &lift, bulk, queue->brief[k], basis);
        int said = lift_move(queue->body, &lift, &result, worker->scratch, own);
        queue->status[k] = said == LIFT_SOLVED ? lift_hold(queue->body, muscles, &lift, &result, worker->scratch, own, near) : said;
    }
    return NULL;
}

size_t lw_muscles_size(void) { return sizeof(Muscles); }

size_t lw_lift_scratch(const Body *body, const Muscles *muscles, const int32_t *integer, const double *real) {
    Lift lift = lift_in(body, integer, real);
    return lift_size(body, muscles, &lift) + lift_own_size(body, &lift) + lift_near_size(&lift);
}

/* What a lift takes beside it where nobody keeps what is found of every position. */
size_t lw_bulk_scratch(const Body *body, const int32_t *integer, const double *real) {
    Lift lift = lift_in(body, integer, real);
    return bulk_size(body, &lift) + integers_size((int64_t)lift.n_pos * lift_rows(&lift));
}

size_t lw_lift_own_scratch(const Body *body, const int32_t *integer, const double *real) {
    Lift lift = lift_in(body, integer, real);
    return lift_own_size(body, &lift);
}

/* Solves n_lift lifts, given as the blocks of lift.h. bulk, brief, basis: room for the answers of each; bulk and basis NULL where nobody keeps
 * them. status (n_lift). scratch: of each thread, scratch_size numbers; enough for the largest lift. */
void lw_lifts(const Body *body, int32_t n_lift, const Muscles *const *muscles, const int32_t *const *integer, const double *const *real,
              double *const *bulk, double *const *brief, int32_t *const *basis, int32_t *status, int32_t n_thread, double *scratch, size_t scratch_size) {
    Queue queue = {.body = body, .muscles = muscles, .n_lift = n_lift, .integer = integer, .real = real, .bulk = bulk, .brief = brief, .basis = basis, .status = status};
    pthread_t thread[MOST_THREADS];
    Worker worker[MOST_THREADS];
    int started = 1;
    n_thread = n_thread < MOST_THREADS ? n_thread : MOST_THREADS;
    n_thread = n_thread < n_lift ? n_thread : n_lift;
    pthread_mutex_init(&queue.turn, NULL);
    for (int t = 0; t < n_thread; t++) worker[t] = (Worker){&queue, scratch + (size_t)t * scratch_size};
    while (started < n_thread && pthread_create(&thread[started], NULL, work, &worker[started]) == 0) started++;
    if (n_thread > 0) work(&worker[0]);
    for (int t = 1; t < started; t++) pthread_join(thread[t], NULL);
    pthread_mutex_destroy(&queue.turn);
}
