/* SPDX-License-Identifier: MIT
 * What it costs to tip late. */
#include <caneyear/crop/late.h>

#include <math.h>

#include <caneyear/crop/injury.h>

double cy_late_shoots(double late_d)
{
    const double part = fmin(fmax(late_d / CY_LATE_SHOOTS_DAYS, 0), 1);
    return 1 - part * (1 - 1 / CY_LATE_SHOOTS);
}

void cy_late_autumn(struct cy_late_loss *out, const struct cy_life *lives, int count,
                    double length_d, double late_d)
{
    const cy_day delay = (cy_day)floor(fmax(late_d, 0) * CY_LATE_DELAY_PER_DAY + 0.5);
    double timely = 0, late = 0;
    int due = 0, fails = 0, fails_timely = 0;
    for (int i = 0; i < count; i++) {
        const struct cy_life *life = &lives[i];
        if (life->autumn_due == CY_DAY_NONE) {
            /* Frozen before it bloomed: lost, late or in time. */
            bool frozen = life->never[CY_STAGE_AUTUMN_BLOOM] == CY_FREEZE_FIRST;
            fails += frozen;
            fails_timely += frozen;
            due += frozen;
            continue;
        }
        double in_time = cy_life_ripened(life->autumn_due, length_d, life->autumn_freeze);
        double pushed = cy_life_ripened(life->autumn_due + delay, length_d, life->autumn_freeze);
        timely += in_time;
        late += pushed;
        fails_timely += in_time < CY_INJURY_NONE_LEFT;
        fails += pushed < CY_INJURY_NONE_LEFT;
        due++;
    }
    *out = (struct cy_late_loss){NAN, NAN, NAN};
    if (due == 0)
        return;
    out->fails = (double)fails / due;
    out->fails_timely = (double)fails_timely / due;
    out->left = timely > 0 ? late / timely : NAN;
}
