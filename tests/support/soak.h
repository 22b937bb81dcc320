/* SPDX-License-Identifier: MIT
 * How often a random test tries: the usual number, or the long one of `make soak`. */
#ifndef TESTS_SUPPORT_SOAK_H
#define TESTS_SUPPORT_SOAK_H

#include <stdlib.h>

static inline int soak(int usual, int times)
{
    return getenv("SOAK") ? usual * times : usual;
}

#endif
