/* SPDX-License-Identifier: MIT
 * The table of unit words. */
#ifndef CANEYEAR_BASE_UNIT_WORDS_H
#define CANEYEAR_BASE_UNIT_WORDS_H

#include <stdbool.h>
#include <stddef.h>

enum dimension { LENGTH, MASS, TIME, WARMTH, MONEY, ANGLE, DIMENSIONS };

struct cy_unit_word {
    const char *word;
    signed char exponents[DIMENSIONS];
    double times, over; /* exact integers: one of it is times/over of the base unit */
    /* Degrees on a scale, not of a difference; where the scale's zero stands in degrees. */
    bool is_scale;
    double zero;
};

/* The entry of word[0..length), NULL if there is none. Letter case is ignored, but in a word of
 * up to three letters m (milli) never stands for M (mega) nor M for m. */
const struct cy_unit_word *cy_unit_word_find(const char *word, size_t length);

#endif
