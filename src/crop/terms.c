/* SPDX-License-Identifier: MIT
 * The names of the stages and states of a cohort. */
#include <caneyear/crop/terms.h>

const char *cy_stage_word(enum cy_stage stage)
{
    static const char *const words[] = {
#define STAGE(name, word) [CY_STAGE_##name] = word,
        CY_STAGES(STAGE)
#undef STAGE
    };
    return (unsigned)stage < CY_STAGE_COUNT ? words[stage] : "";
}

const char *cy_state_word(enum cy_state state)
{
    static const char *const words[] = {
#define STATE(name, word) [CY_STATE_##name] = word,
        CY_STATES(STATE)
#undef STATE
    };
    return (unsigned)state < CY_STATE_COUNT ? words[state] : "";
}
