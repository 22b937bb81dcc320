/* SPDX-License-Identifier: MIT
 * For the tests of this room: cmocka, US units, and comparison to a relative tolerance. */
#ifndef TESTS_TRELLIS_NEAR_H
#define TESTS_TRELLIS_NEAR_H

#include <stdlib.h>
#include <string.h>

#include "support/near.h"

/* Typed again here, so that a slip in the room's own units would show. */
#define IN 0.0254
#define FT 0.3048
#define LB 4.4482216152605
#define LB_FT (LB / FT)
#define FT_LB (LB * FT)
#define PSI 6894.757293168361
#define PSF 47.88025898033584
#define DF (5.0 / 9.0)
#define PCF (PSF / FT)

#endif
