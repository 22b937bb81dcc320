/* SPDX-License-Identifier: MIT
 * Farms with trellises, for the tests of their verdicts. */
#ifndef TESTS_SEASON_TRELLIS_FARM_H
#define TESTS_SEASON_TRELLIS_FARM_H

#include "season/farms.h"
#include "season/trellis_parts.h"

#include <stdlib.h>

#include "support/near.h"

#define FT 0.3048
#define IN 0.0254
#define LB 4.4482216152605
#define MPH 0.44704
#define DF (5.0 / 9.0)

#define TODAY "2027-03-01"

static inline void add_wire(struct cy_farm *farm, const char *trellis, const char *key,
                            const char *height, const char *tension, const char *set_at)
{
    static const char *const names[] = {"height", "tension", "set_at"};
    const char *const values[] = {height, tension, set_at};
    const struct cy_thing *parent = cy_farm_by_key(farm, CY_KIND_TRELLIS, 0, trellis);
    assert_non_null(cy_farm_add(farm, CY_KIND_WIRE, parent->id, key, NULL, 0));
    for (int i = 0; i < 3; i++) {
        struct cy_text address = {0};
        cy_text_add(&address, "trellis.");
        cy_text_add(&address, trellis);
        cy_text_add(&address, ".wire.");
        cy_text_add(&address, key);
        cy_text_add_char(&address, '.');
        cy_text_add(&address, names[i]);
        if (values[i])
            put(farm, cy_text_get(&address), values[i]);
        cy_text_dispose(&address);
    }
}

/* Rows "a" of 100 ft and "b" of 150 ft on the trellis "wires": 4 in. posts 25 ft apart and 2 ft
 * deep in sandy loam, tied ends, wires at 3 and 5 ft; a gust of 50 mph over open country. */
static inline void trellis_farm(struct cy_farm *farm)
{
    farm_north(farm);
    add_row(farm, "a", "natchez", "hedge", "2020-03-20");
    add_row(farm, "b", "natchez", "hedge", "2020-03-20");
    put(farm, "row.b.length", "150 ft");
    add_wire(farm, "wires", "low", "3 ft", "200 lbf", "60 F");
    add_wire(farm, "wires", "top", "5 ft", "225 lbf", "60 F");
    put(farm, "site.soil", "sandy loam");
    put(farm, "site.gust", "50 mph");
    put(farm, "site.exposure", "C");
    ADD(farm, JOB, "tighten-wire", PRACTICE, "from", "wires slack", "to", "wires slack", "to_days",
        "7 d", "rows", "standing rows", "needs", "a trellis", "rate", "0.3 h/100ft");
}

static inline const struct cy_trellis_check *check_of(const struct cy_trellis_verdict *verdict,
                                                      enum cy_trellis_check_kind kind, int wire)
{
    for (int i = 0; i < verdict->check_count; i++)
        if (verdict->checks[i].kind == kind && verdict->checks[i].wire == wire)
            return &verdict->checks[i];
    fail_msg("no check %s of wire %d", cy_check_what(kind), wire);
    return NULL;
}

/* The frame of the first row, whose values a test then changes. */
static inline struct cy_trellis_frame frame_of(const struct cy_plan *plan)
{
    struct cy_trellis_frame frame;
    assert_true(cy_trellis_frame_of(&frame, plan, 0));
    return frame;
}

static inline struct cy_trellis_verdict judged(const struct cy_trellis_frame *frame)
{
    struct cy_trellis_verdict verdict;
    assert_int_equal(cy_trellis_judge(&verdict, frame), CY_OK);
    return verdict;
}

#endif
