"""The core as one text for a graphics processor: the same C files, every function of them marked for the device.

Files that only a processor needs (threads, choice of instruction set, pictures) are left out. Each file keeps its own names in a namespace of
its own; what it shares is declared in its header and has C linkage, so that it is one function wherever it is named.
"""

import re
from pathlib import Path

HERE = Path(__file__).parent
HOST_ONLY = ("threads", "machine", "raster", "clearance", "contact", "finite")
PROLOGUE = """
#ifdef __CUDACC_RTC__
typedef unsigned char uint8_t;
typedef int int32_t;
typedef long long int64_t;
typedef unsigned int uint32_t;
typedef unsigned long long uint64_t;
#define NULL 0
#define INFINITY __longlong_as_double(0x7ff0000000000000LL)
#define NAN __longlong_as_double(0x7ff8000000000000LL)
#else
#include <math.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#endif
#define restrict __restrict__
static __device__ inline double lesser(double a, double b) { return fmin(a, b); }
static __device__ inline double greater(double a, double b) { return fmax(a, b); }
static __device__ inline double remainder_of(double a, double b) { return fmod(a, b); }
#define fmin(a, b) lesser(a, b)
#define fmax(a, b) greater(a, b)
#define fmod(a, b) remainder_of(a, b)
"""
"""C++ has several of each of these, and a whole number beside a double would call none of the device's."""
WORDS = """
template <class T> static __device__ inline void copy_words(T *restrict to, const T *restrict from, size_t bytes) {
#pragma unroll 4
    for (size_t i = 0; i < bytes / sizeof(T); i++) to[i] = from[i];
}
template <class T> static __device__ inline void clear_words(T *to, size_t bytes) {
    for (size_t i = 0; i < bytes / sizeof(T); i++) to[i] = 0;
}
#define memcpy(to, from, bytes) copy_words(to, from, bytes)
#define memset(to, zero, bytes) clear_words(to, bytes)
"""
"""A device's own memcpy goes byte by byte."""
TEAM = """
#ifdef __CUDACC__
#define NEAR_ROOM(name) extern __shared__ double name[]
#define HANDS 32
#define HAND ((int)(threadIdx.x % HANDS))
#define ALL 0xffffffffu
static __device__ inline void meet() { __syncwarp(); }
static __device__ inline double sum_of_eight_and_rest(double own) {
    double all = own + __shfl_down_sync(ALL, own, 4), rest = __shfl_sync(ALL, own, 8);
    all += __shfl_down_sync(ALL, all, 1);
    all += __shfl_down_sync(ALL, all, 2);
    all = __shfl_sync(ALL, all, 0) + rest;
    meet();
    return all;
}
static __device__ inline double most_of_all(double own) {
    for (int far = HANDS / 2; far; far /= 2) own = fmax(own, __shfl_xor_sync(ALL, own, far));
    meet();
    return own;
}
static __device__ inline int any_of_all(int own) {
    int any = __any_sync(ALL, own);
    meet();
    return any;
}
static __device__ inline int64_t said_by_first(int64_t own) { return __shfl_sync(ALL, (long long)own, 0); }
static __device__ inline double from_hand(double own, int hand) { return __shfl_sync(ALL, own, hand); }
static __device__ inline int from_hand_whole(int own, int hand) { return __shfl_sync(ALL, own, hand); }
static __device__ inline unsigned hands_where(int found) { return __ballot_sync(ALL, found); }
#if !defined(__CUDA_ARCH__) || __CUDA_ARCH__ >= 800
static __device__ inline int64_t best_of_all(double value, int64_t place) { /* as whole numbers that rise with the value, half by half */
    uint64_t key = bits_of(place < 0 ? -INFINITY : value + 0.0);
    key = key >> 63 ? ~key : key | 0x8000000000000000;
    unsigned high = (unsigned)(key >> 32), low = (unsigned)key, most_high = __reduce_max_sync(ALL, high);
    unsigned most_low = __reduce_max_sync(ALL, high == most_high ? low : 0);
    unsigned first = __reduce_min_sync(ALL, high == most_high && low == most_low ? (unsigned)place : 0xffffffffu);
    meet();
    return (int32_t)first;
}
#else
static __device__ inline int64_t best_of_all(double value, int64_t place) {
    if (place < 0) value = -INFINITY;
    for (int far = HANDS / 2; far; far /= 2) {
        double other = __shfl_xor_sync(ALL, value, far);
        int64_t there = __shfl_xor_sync(ALL, (long long)place, far);
        if (other > value || (other == value && there < place)) value = other, place = there;
    }
    meet();
    return place;
}
#endif
static __device__ inline int64_t next_of_all(int found, int64_t *count) {
    unsigned all = __ballot_sync(ALL, found);
    int64_t at = *count + __popc(all & ((1u << HAND) - 1));
    *count += __popc(all);
    return at;
}
#ifdef TIMED
__device__ unsigned long long phase_clocks[8];
static __device__ inline int64_t phase_over(int phase, int64_t since) {
    int64_t now = clock64();
    if (HAND == 0 && phase >= 0) atomicAdd(phase_clocks + phase, (unsigned long long)(now - since));
    return now;
}
#else
static __device__ inline int64_t phase_over(int phase, int64_t since) { return 0; }
#endif
static __device__ inline int64_t next_filled(const double *values, int64_t from, int64_t n) {
    for (; from < n; from += HANDS) {
        unsigned all = __ballot_sync(ALL, from + HAND < n && values[from + HAND] != 0);
        if (all) return from + __ffs(all) - 1;
    }
    return n;
}
#endif
"""
"""What team.h asks of a warp."""
FIRST = "functions.h"
"""What TEAM is written with."""
SHORT = 4
"""Functions of no more lines may be copied into their callers."""
FREE = ("pose", "factor")
"""Files whose functions may all be, as they are called from few places."""
_LOCAL = re.compile(r'^#include "(\w+\.h)"$', re.MULTILINE)
_SYSTEM = re.compile(r"^#include <.*>$", re.MULTILINE)
_DATA = re.compile(r"^static const \w+ \w+\[", re.MULTILINE)
_STATIC = re.compile(r"^(?=static [\w \t*]+\()", re.MULTILINE)
_FUNCTION = re.compile(r"^(?=[A-Za-z])(?!typedef|enum|struct|extern|static|__device__)(?=[\w \t*]+\()", re.MULTILINE)
_MACRO = re.compile(r"^#define (\w+)", re.MULTILINE)


def source(folder: Path = HERE) -> str:
    """The text that a compiler for graphics processors takes: every kernel of the core, and the entries of kernels.cu."""
    known: list[str] = []
    files = [f for f in sorted(folder.glob("*.c")) if f.stem not in HOST_ONLY]
    bodies = [_unit(f, known, folder) for f in files]
    known.remove(FIRST)
    functions = _marked(_bare((folder / FIRST).read_text(encoding="utf-8")))
    headers = "\n".join(_marked(_bare((folder / h).read_text(encoding="utf-8"))) for h in known)
    entries = (folder / "kernels.cu").read_text(encoding="utf-8")
    return "\n".join([PROLOGUE, functions, WORDS, TEAM, headers, *bodies, entries])


def _unit(file: Path, known: list[str], folder: Path) -> str:
    text = file.read_text(encoding="utf-8")
    for name in _LOCAL.findall(text):
        _need(name, known, folder)
    own = _marked(_bare(text), file.stem in FREE)
    forget = "\n".join(f"#undef {name}" for name in dict.fromkeys(_MACRO.findall(own)))
    return f"namespace of_{file.stem} {{\n{own}\n}}\n{forget}"


def _need(name: str, known: list[str], folder: Path) -> None:
    """A header after those that it includes, once."""
    if name in known:
        return
    for other in _LOCAL.findall((folder / name).read_text(encoding="utf-8")):
        _need(other, known, folder)
    if name not in known:
        known.append(name)


def _bare(text: str) -> str:
    return _SYSTEM.sub("", _LOCAL.sub("", text))


def _marked(text: str, free: bool = False) -> str:
    """Functions and tables of a file marked for the device."""
    own = _DATA.sub(lambda found: f"__device__ {found[0]}", text)
    own = _STATIC.sub(lambda found: f"__device__ {'' if free else _kept_apart(own, found.start())}", own)
    return _FUNCTION.sub('extern "C" __device__ __noinline__ ', own)


def _kept_apart(text: str, start: int) -> str:
    """A long function is called rather than copied: copied everywhere, the compiler takes ten minutes."""
    lines = text[start:].partition("\n}")[0].count("\n") if not text[start:].partition("\n")[0].endswith("}") else 0
    return "__noinline__ " if lines > SHORT and not text.startswith("static inline", start) else ""
