/* A whole lift on one body as two blocks of numbers that hold no addresses: what a coach asks of every position, in one call.
 *
 * `lift_in` lays the blocks out; lifts.py writes them in the same order. Muscles are the body's, so that one block serves all lifts.
 */
#ifndef LENGTHWISE_LIFT_H
#define LENGTHWISE_LIFT_H

#include <stddef.h>

#include "body.h"
#include "chain.h"

/* What resists: weight, a cable's pull, a band to a place, a band between left and right, a lever, what is guided on rails. */
enum { RESIST_WEIGHT = 0, RESIST_CABLE = 1, RESIST_BAND = 2, RESIST_ACROSS = 3, RESIST_LEVER = 4, RESIST_SLED = 5 };

/* SOLVED; pins that this person cannot meet; no load that can be held all the way; or an answer that is left to other solvers. */
enum { LIFT_SOLVED = 0, LIFT_MISSED = 1, LIFT_UNHELD = 2, LIFT_LEFT = 3 };

/* Muscle lines and passive tissue of one body; fields and order are repeated in lifts.py. */
typedef struct {
    int32_t n_line, n_head, n_end, n_group;
    const int32_t *head;       /* of each line, left heads after all right ones (n_line) */
    const double *slack, *optimal, *width, *force; /* [m], [m], sine of pennation at optimal length, [N] (n_line) */
    const double *reserve;     /* share of each line's moment that is in hand about every joint it crosses (n_line) */
    const double *arm_factor, *at_rest; /* on how lengths differ from those at rest [m] (n_line) */
    const double *shortest, *longest; /* fibre length [of optimal] (n_line) */
    const double *begin;       /* how long fully active fibres are along the path, see fibres.h (n_line, BEGINS) */
    const int32_t *end_slot, *end_coord; /* structures: the angle each bounds, see coordinates.h, and the velocity it acts on (n_end) */
    const double *end_sign, *end_low, *end_high, *end_middle, *end_most; /* [deg], [Nm] (n_end) */
    const double *base_low, *base_high; /* moments that need no angle [Nm] (n_coord) */
    const double *ease;        /* how many times cheaper than others its structures are to load (n_coord) */
    const int32_t *hang_q, *hang_coord; /* of the clavicles' elevation (2) */
    const double *hang;        /* moment [Nm] and the elevation up to which it grows [deg] (2) */
    const int32_t *ball_coord, *ball_slot; /* shoulders: first velocity (2); flexion, abduction and rotation in a row of angles (2, 3) */
    const double *ball;        /* raised until, least and largest rotation [deg]; swing, its end, twist at its end [Nm] (6) */
    const int32_t *group;      /* the joint that a coach counts each velocity to, or -1 (n_coord) */
    const double *scale;       /* forces on each coordinate are counted in [N or Nm] (n_coord) */
    const double *rib_axes;    /* half depth and half width of the rib cage [m] (2) */
    double ramp;               /* over how many degrees a structure tightens */
    double mass;               /* of the body [kg] */
} Muscles;

/* One lift as it is worked on. */
typedef struct {
    int32_t n_pos, n_key, n_mark, n_hold, n_rib, n_load, n_cam, n_row, n_shift, n_line, n_head;
    int32_t folded, given, resistance, each, held_lever, moves_body, power, has_start, n_own, is_guided;
    Chain chain; /* its law of the held load is filled in while the lift moves */
    const int32_t *row;          /* coordinates in balance (n_row) */
    const int32_t *segment;      /* of the landmarks (n_mark) */
    const int32_t *hold_mark, *hold_on, *hold_turns, *hold_sled; /* as in assemble.c; which loaded landmark is guided there, or -1 (n_hold) */
    const int32_t *rib_point, *rib_centre; /* (n_rib) */
    const int32_t *load_mark, *load_own, *axis_mark; /* loaded landmarks; whether it counts; the landmark on its axis or -1 (n_load) */
    const int32_t *used;         /* whether a line's fibres are asked for (n_line) */
    const int32_t *start_basis;  /* where the search for the largest load begins (n_pos, rows) */
    double holding, ratio, slack, chains, seconds, fraction, floor, gear_most, usable, rail_n, sled_share, begins, ends, long_from, long_to;
    double skill;                /* share of strength that is brought to bear */
    const double *knot;          /* (n_key) */
    const double *key_row;       /* clinical angles at the keys (n_key, ANGLES) */
    const double *key_goal;      /* goals of the pins there (n_key, n_equation) */
    const double *local;         /* places of the landmarks (n_mark, 3) */
    const double *phase;         /* (n_pos) */
    const double *weight;        /* how often a column counts in each row (n_row) */
    const double *hold_direction, *hold_lower, *hold_upper; /* (n_hold, 3), (n_hold), (n_hold) */
    const double *anchor;        /* pulley, anchor or axis beside each loaded landmark (n_load, 3) */
    const double *about, *rail;  /* along a lever's axis (3); along a sled's rail (3) */
    const double *cam;           /* evenly over the lifting phase (n_cam) */
    const double *q, *rate, *law; /* of a motion that is known (n_pos, n_q), (n_pos, n_coord), (LAW + n_load) */
    const double *start_multiplier; /* where sharing begins (n_pos, rows) */
} Lift;

/* The law of a resistance over the whole lifting phase: its longest reach or lowest height, its rise, and on which side of each
 * lever's axis the force acts (n_load). */
enum { LAW = 2 };

/* Answers of one lift in the caller's memory, in the order of lifts.py: what is found of every position, */
typedef struct {
    double *q, *rate, *solved;   /* (n_pos, n_q), (n_pos, n_coord), (n_pos, n_unknown) */
    double *path, *point, *angle; /* (n_pos, n_line), (n_pos, n_mark, 3); clinical [deg] (n_pos, ANGLES) */
    double *most, *least;        /* load that can be held [kg] (n_pos) */
    double *multiplier;          /* of sharing (n_pos, rows) */
    double *length, *span, *activation, *active, *passive; /* of each head (n_pos, n_head) */
    double *measure;             /* longest span, loaded length, long-range load, tension at the longest, joint conflict (n_head, 5) */
    int32_t *basis;              /* of the largest load (n_pos, rows) */
    /* and what is told of the whole lift, a hundredth as much: */
    double *fact;                /* of the side of each head that does more: facts.h (heads of one side, FACTS) */
    double *effort, *slope;      /* effort over the lift; d load / d ln strength where it is weakest [kg] (n_head) */
    double *law;                 /* (LAW + n_load) */
    double *first, *reach;       /* landmarks at the first position (n_mark, 3); least and largest of each clinical angle (2, ANGLES) */
    double *told;                /* see TOLD_ */
} Result;

enum { TOLD_MISSED, TOLD_MOVED, TOLD_LOAD, TOLD_WEAKEST, TOLD_RESIDUAL, TOLD_JOINTS, TOLD_SUPPORTS, TOLD_BALANCE, TOLD_SLOPES, TOLD_LEAST, TOLD_MOST, TOLDS };
enum { MEASURES = 5, FACTS = MEASURES + 8 };

Lift lift_in(const Body *body, const int32_t *integer, const double *real);
/* bulk, brief: the two kinds of answers; the first takes bulk_size numbers. */
Result result_in(const Body *body, const Lift *lift, double *bulk, double *brief, int32_t *basis);
size_t bulk_size(const Body *body, const Lift *lift);

/* Heads of one side. */
static inline int32_t lift_heads(const Lift *lift) { return lift->folded ? lift->n_head : lift->n_head / 2; }

/* Rows of the balance: the coordinates, and what is guided. */
static inline int32_t lift_rows(const Lift *lift) { return lift->n_row + lift->is_guided; }

/* How many numbers of scratch a lift needs: what all hands share, what each has of its own (team.h), and the matrix that is worked on most,
 * which a device keeps near its arithmetic. */
size_t lift_size(const Body *body, const Muscles *muscles, const Lift *lift);
size_t lift_own_size(const Body *body, const Lift *lift);
size_t lift_near_size(const Lift *lift);

/* How a lift moves, by all hands together; then all else about it. Each returns LIFT_SOLVED or why not. */
int lift_move(const Body *body, const Lift *lift, Result *result, double *scratch, double *own);
int lift_hold(const Body *body, const Muscles *muscles, const Lift *lift, Result *result, double *scratch, double *own, double *near);

#endif
