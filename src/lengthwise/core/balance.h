/* The balance of a lift at one position, straight from a pose, as the columns that the solvers read. */
#ifndef LENGTHWISE_BALANCE_H
#define LENGTHWISE_BALANCE_H

#include "columns.h"
#include "lift.h"
#include "pose.h"

/* Units in which the solvers count: mechanics/load_programme.py and problem.py say why. */
#define LOAD_UNIT_KG 50.0
#define FORCE_UNIT_N 1000.0
#define SHARED_FORCE_UNIT_N 10000.0

/* Which coordinates each line can move, and which rows each column can fill; one for a whole lift. Columns: lines, supports with the
 * ribs last, passive structures with the weight's shift last, these the other way, the load. */
typedef struct {
    int32_t n_row, n_line, n_force, n_joint, n_col, n_arm, n_entry;
    int32_t *arm_start, *arm_coord; /* arms of a line: arm_start[l] to arm_start[l + 1] (n_line + 1), (n_arm) */
    int32_t *start, *row;           /* entries of a column, rows rising (n_col + 1), (n_entry) */
    int32_t *from;                  /* the arm, or the coordinate, behind each entry; -1 for what is guided (n_entry) */
    double *scale;                  /* what rows are divided by (n_row) */
    Rows rows;
} Pattern;

/* One position. */
typedef struct {
    double *value, *lower, *upper, *rest; /* of the columns (n_entry), (n_col) twice; what must be balanced (n_row) */
    double *arm, *active, *passive, *relaxed; /* (n_arm); forces [N] and resting fibre length (n_line) */
    double *unit;                         /* by which each passive structure is counted [Nm] (n_joint) */
} Posed;

size_t pattern_size(const Body *body, const Lift *lift);
/* own: each hand's own room for n_coord integers; every hand writes the same pattern. */
Pattern pattern_in(const Body *body, const Muscles *muscles, const Lift *lift, double **scratch, double *own);

/* Room for one position, and for what it takes to fill one in. */
size_t posed_size(const Body *body, const Lift *lift);
Posed posed_in(const Pattern *pattern, double **scratch);
size_t balance_size(const Body *body, const Lift *lift);

/* Fills in position i, from its coordinates and rates; leaves path lengths, landmarks and clinical angles in the result. Returns the height of the body's
 * centre of mass [m]. */
double balance_at(const Body *body, const Muscles *muscles, const Lift *lift, const Pattern *pattern, int i, Result *result, Posed *posed,
                  double *scratch);

#endif
