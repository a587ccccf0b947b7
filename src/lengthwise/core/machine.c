/* What the machine that runs this can do. */

/* Whether it has the instructions of the wide library (AVX2 and FMA). */
int lw_has_wide(void) {
#if defined(__x86_64__) || defined(_M_X64)
    __builtin_cpu_init();
    return __builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma");
#else
    return 0;
#endif
}
