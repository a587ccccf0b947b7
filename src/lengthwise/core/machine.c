/* What the machine that runs this can do. */

#if defined(__x86_64__)
#include <cpuid.h>

/* Whether the operating system keeps the wide registers of each thread (bits 1 and 2 of the extended control register). */
static int keeps_wide_registers(void) {
    unsigned low, high;
    __asm__ volatile("xgetbv" : "=a"(low), "=d"(high) : "c"(0));
    return (low & 6) == 6;
}

/* Whether it has the instructions of the wide library, AVX2 (Intel's manual, volume 2, CPUID leaves 1 and 7). */
int lw_has_wide(void) {
    unsigned a, b, c, d;
    if (!__get_cpuid(1, &a, &b, &c, &d) || !(c & bit_OSXSAVE) || !(c & bit_AVX)) return 0;
    return keeps_wide_registers() && __get_cpuid_count(7, 0, &a, &b, &c, &d) && (b & bit_AVX2) != 0;
}
#else
int lw_has_wide(void) { return 0; }
#endif
