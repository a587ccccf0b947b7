"""A device that is this processor: the threads of one warp take turns, so that what they should have met for shows.

One runs until all must meet, and then the next in rising or in falling order; or they change places at random whenever a function is called.
Only Linux on x86-64: a thread's place is kept by moving the stack.
"""

import ctypes
import platform
import subprocess
import sys
from contextlib import nullcontext
from functools import cache

import numpy as np

from lengthwise.core import build, device

PLATFORM = sys.platform == "linux" and platform.machine().lower() in ("x86_64", "amd64")
BEFORE = r"""
#define ROOM 4096
#define OWN 8192
#include <math.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#define __CUDACC__
#define __device__
#define __noinline__ __attribute__((noinline))
#define __global__
#define __shared__
double all_near[8192];
enum { THREADS = 32, STACK = 1 << 20 };
static void *place[THREADS], *caller;
static int now, done, arrived, meetings, under_way, turn = 1;
static double slot[2][THREADS];
static struct { int64_t x; } blockIdx = {0}, blockDim = {THREADS}, gridDim = {1};
struct Place { int64_t x; };
static Place own_place() { return Place{now}; }
#define threadIdx own_place()
extern "C" void switch_to(void **from, void *to);
asm(".globl switch_to\nswitch_to:\npush %rbp\npush %rbx\npush %r12\npush %r13\npush %r14\npush %r15\nmov %rsp,(%rdi)\nmov %rsi,%rsp\n"
    "pop %r15\npop %r14\npop %r13\npop %r12\npop %rbx\npop %rbp\nret\n");
static void next_thread() {
    int from = now;
    now = (now + turn) % THREADS;
    switch_to(&place[from], place[now]);
}
#ifdef AT_RANDOM
extern "C" __attribute__((no_instrument_function)) void __cyg_profile_func_enter(void *, void *) {
    static uint64_t dice = 88172645463325252; /* xorshift: Marsaglia 2003 */
    dice ^= dice << 13, dice ^= dice >> 7, dice ^= dice << 17;
    if (under_way && dice % 7 == 0) next_thread();
}
extern "C" __attribute__((no_instrument_function)) void __cyg_profile_func_exit(void *, void *) {}
#endif
static void __syncwarp() {
    int own = meetings;
    if (++arrived == THREADS) arrived = 0, meetings++;
    else while (own == meetings) next_thread();
}
template <class T> static T told(T v, int whose) {
    int side = meetings & 1;
    memcpy(&slot[side][now], &v, sizeof v);
    __syncwarp();
    if (whose >= 0 && whose < THREADS) memcpy(&v, &slot[side][whose], sizeof v);
    return v;
}
template <class T> static T __shfl_sync(unsigned, T v, int whose) { return told(v, whose); }
template <class T> static T __shfl_xor_sync(unsigned, T v, int by) { return told(v, now ^ by); }
template <class T> static T __shfl_down_sync(unsigned, T v, int by) { return told(v, now + by); }
static unsigned __ballot_sync(unsigned, int v) {
    unsigned all = 0;
    int side = meetings & 1;
    told((double)(v != 0), now);
    for (int k = 0; k < THREADS; k++) all |= (unsigned)(slot[side][k] != 0) << k;
    return all;
}
static int __any_sync(unsigned all, int v) { return __ballot_sync(all, v) != 0; }
static unsigned extreme(unsigned v, double sign) {
    double most = -INFINITY;
    int side = meetings & 1;
    told(sign * v, now);
    for (int k = 0; k < THREADS; k++) most = fmax(most, slot[side][k]);
    return (unsigned)(sign * most);
}
static unsigned __reduce_max_sync(unsigned, unsigned v) { return extreme(v, 1); }
static unsigned __reduce_min_sync(unsigned, unsigned v) { return extreme(v, -1); }
static int __popc(unsigned v) { return __builtin_popcount(v); }
static int __ffs(unsigned v) { return __builtin_ffs((int)v); }
static unsigned long long atomicAdd(unsigned long long *at, unsigned long long by) { unsigned long long was = *at; *at += by; return was; }
"""
"""What a device's compiler knows beyond C++. turn: whose turn it is after a thread's, counted from it."""
AFTER = r"""
static void (*work)(const Queue *);
static const Queue *queue_of_all;
static void run() {
    work(queue_of_all);
    done++;
    for (void *gone;;) {
        if (done == THREADS) switch_to(&gone, caller);
        next_thread();
    }
}
static void together(void (*what)(const Queue *), const Queue *queue) {
    char *stacks = (char *)malloc((size_t)STACK * THREADS);
    work = what, queue_of_all = queue, done = arrived = now = 0;
    for (int k = 0; k < THREADS; k++) {
        void **top = (void **)(stacks + (size_t)STACK * (k + 1)) - 2;
        *top = (void *)run;
        place[k] = top - 6;
    }
    under_way = 1;
    switch_to(&caller, place[0]);
    under_way = 0;
    free(stacks);
}
extern "C" void warp_turn(int by) { turn = by; }
extern "C" void warp_moves(const Queue *queue) { together(moves, queue); }
extern "C" void warp_holds(const Queue *queue) { together(holds, queue); }
extern "C" void warp_paths(const Body *bodies, const int32_t *whose, int64_t n, const double *q, double *length) {
    for (now = 0; now < THREADS; now++) paths(bodies, whose, n, q, length);
}
"""


TURNS = {"rising": (1, ()), "falling": (31, ()), "random": (1, ("-DAT_RANDOM", "-finstrument-functions"))}
"""By name: whose turn comes next, and what the compiler is told for it."""


@cache
def _compiled(folder, told: tuple[str, ...]):
    """The text compiled into a folder, once for all turns that need the same."""
    text, made = folder / f"core{len(told)}.cc", folder / f"core{len(told)}.so"
    text.write_text(BEFORE + device.source() + AFTER, encoding="utf-8")
    flags = ("-x", "c++", "-std=c++20", "-O1", "-w", "-fPIC", "-shared", "-ffp-contract=off", "-fno-exceptions", "-fno-threadsafe-statics")  # fmt: skip
    command = [*(build.compiler() or []), *flags, *told, "-o", str(made), str(text), "-lm", "-Wl,-Bsymbolic"]
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, timeout=300)
    assert done.returncode == 0, done.stderr[:2000]
    return made


class OneWarp:
    """A card of one warp. Scratch is filled with what is not a number, so that what nobody wrote shows.

    Args:
        folder: for the compiled text. turns: a name of TURNS.
    """

    processors, near_bytes = 1, 1

    def __init__(self, folder, turns: str) -> None:
        next_by, told = TURNS[turns]
        self._library = ctypes.CDLL(str(_compiled(folder, told)))
        self._library.warp_turn(next_by)

    turn = staticmethod(nullcontext)

    def put(self, array):
        return np.array(array, order="C")

    def room(self, numbers):
        return np.full(numbers, np.nan)

    def address(self, held):
        return held.ctypes.data

    def get(self, held):
        return held

    def launch(self, name, own, shape, *words):
        told = (ctypes.c_int64(w) if isinstance(w, int) else ctypes.c_void_p(w.ctypes.data) for w in words)
        getattr(self._library, f"warp_{name}")(*told)
