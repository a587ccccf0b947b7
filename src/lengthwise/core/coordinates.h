/* Clinical angles to joint coordinates: one row of ANGLES numbers a posture.
 *
 * Order: place of the pelvis x, y, z [cm]; pelvis tilt, list, turn; trunk flexion, side bending, rotation; neck the same; then for the
 * right and the left side 16 each: hip flexion, abduction, internal rotation; elbow, pronation, wrist flexion, radial deviation, knee,
 * ankle, subtalar; shoulder flexion, abduction, horizontal adduction, internal rotation; blade elevation, protraction [deg].
 */
#ifndef LENGTHWISE_COORDINATES_H
#define LENGTHWISE_COORDINATES_H

#include "body.h"

enum { ANGLES = 44, FIRST_SIDE = 12, A_SIDE = 16, HINGES = 7, SEAT_TERMS = 15 };

/* alike: the left mirrors the right, whose numbers alone are read. flat: for each side, whether the shoulder is given by horizontal
 * adduction. q: (n_q). */
void coordinates(const Body *body, const double *angle, int alike, const int32_t *flat, double *q);

/* Parts of a row, each deciding some coordinates of its own; of what has two sides the right one, the left one is the next bit. */
enum { PLACE_PART = 1, PELVIS_PART = 2, TRUNK_PART = 4, NECK_PART = 8, HIP_PART = 16, HINGES_PART = 64, ARM_PART = 256, ALL_PARTS = 1023 };

/* The part that the number at `slot` belongs to; 0 for none. */
int coordinates_part(int slot, int alike);

/* Works out anew what some parts decide; all other coordinates in q stay. */
void coordinates_of(const Body *body, const double *angle, int parts, int alike, const int32_t *flat, double *q);

/* Marks where the joints begin in q that some parts decide (n_q). */
void coordinates_decided(const Body *body, int parts, int alike, int32_t *decided);

/* Where clavicle and blade rest for a right arm that points along `direction` (3): three angles each [deg]. */
void rest_girdle(const double *seat, const double *direction, double elevation, double protraction, double *clavicle, double *blade);

/* Thorax to the right upper arm for shoulder flexion, abduction, horizontal adduction and internal rotation [deg], as a quaternion. */
void arm_turn(const double *shoulder, int flat, double *out);

/* About which axis, in the frame that it starts from, a turn about y, x and z [deg] turns as its number `which` grows at `rate` [rad/deg]. */
void euler_rate(const double *angle, int which, double rate, double *about);

/* What the girdle's rhythm is written in, and a right arm in a posture: its direction, and the axes of the hinges that place clavicle and blade
 * in the thorax where they are carried (3, 3). */
typedef struct {
    double front, side, raised, flat, share, ahead, soon, late, lift, reach;
} Rhythm;
typedef struct {
    double angle[6], direction[3], clavicle[9], blade[9];
    Rhythm rhythm;
    int flat;
} Arm;
Arm arm_at(const Body *body, const double *angle, int flat);

/* How clavicle, blade and upper arm turn in the thorax as one of the shoulder's six numbers grows (3, 3) [rad/deg]. */
void arm_rates(const Body *body, const Arm *arm, int which, double *about);

/* Rows of ANGLES (n_pos, ANGLES) for coordinates q (n_pos, n_q), both sides, shoulders by swing. */
void lw_clinical(const Body *body, int n_pos, const double *q, double *rows);

/* Rows of Body.posture_q, right before left. */
enum { LUMBAR = 0, THORACIC = 1, NECK = 2, HIP = 3, HINGE = 5, GIRDLE = 19, SHOULDER = 21 };

#endif
