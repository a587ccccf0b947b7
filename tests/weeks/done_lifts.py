"""Lifts that an invented client has done: load [kg] and repetitions of the last set."""

DONE = {
    "bench_press": (70, 8),
    "back_squat": (90, 8),
    "hip_thrust": (100, 8),
    "romanian_deadlift": (90, 8),
    "overhead_press": (45, 6),
}
