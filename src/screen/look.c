/* SPDX-License-Identifier: MIT
 * How things look: colours by role, glyphs by table. */
#include "screen/look.h"

#define BOLD CY_BOLD
#define DIM CY_DIM
#define REVERSE CY_REVERSE
#define UNDERLINE CY_UNDERLINE

struct cy_look cy_look_of(enum cy_role_id role, bool colour)
{
    static const struct {
        enum cy_hue hue;
        unsigned weight, plain;
    } roles[] = {
#define ROLE(name, hue, weight, plain) [CY_ROLE_##name] = {CY_HUE_##hue, weight, plain},
        CY_ROLES(ROLE)
#undef ROLE
    };
    if (colour)
        return (struct cy_look){roles[role].hue, roles[role].weight};
    return (struct cy_look){CY_HUE_PLAIN, roles[role].plain};
}

const char *cy_glyph(enum cy_glyph_id id, bool ascii)
{
    static const char *const glyphs[][2] = {
#define GLYPH(name, utf8, ascii) [CY_GLYPH_##name] = {utf8, ascii},
        CY_GLYPHS(GLYPH)
#undef GLYPH
    };
    return glyphs[id][ascii];
}

/* ---- canes ---------------------------------------------------------------------------------- */

struct cane_look {
    const char *alone[2], *wood[2], *crown[2]; /* in UTF-8, in ASCII */
    enum cy_role_id role;
};

static const struct cane_look canes[] = {
    [CY_STATE_ABSENT] = {{" ", " "}, {" ", " "}, {" ", " "}, CY_ROLE_WIRE},
    [CY_STATE_EMERGING] = {{"▁", "."}, {"▁", "."}, {" ", " "}, CY_ROLE_RISING},
    [CY_STATE_ELONGATING] = {{"▅", "/"}, {"▅", "/"}, {" ", " "}, CY_ROLE_RISING},
    [CY_STATE_TIPPED] = {{"┬", "T"}, {"█", "#"}, {"┬", "T"}, CY_ROLE_TIPPED},
    [CY_STATE_LATERALS] = {{"Y", "Y"}, {"█", "#"}, {"╲", "\\"}, CY_ROLE_RISING},
    [CY_STATE_AUTUMN_BLOOM] = {{"✿", "*"}, {"█", "#"}, {"✿", "*"}, CY_ROLE_BLOOMING},
    [CY_STATE_AUTUMN_RIPE] = {{"●", "@"}, {"█", "#"}, {"●", "@"}, CY_ROLE_RIPE},
    [CY_STATE_DORMANT] = {{"▒", "="}, {"▒", "="}, {"┈", "'"}, CY_ROLE_RESTING},
    [CY_STATE_CHILLED] = {{"▓", "%"}, {"▓", "%"}, {"┈", "'"}, CY_ROLE_RESTING},
    [CY_STATE_BUD_BREAK] = {{"▴", "^"}, {"█", "#"}, {"▴", "^"}, CY_ROLE_BUDDING},
    [CY_STATE_BLOOM] = {{"✿", "*"}, {"█", "#"}, {"✿", "*"}, CY_ROLE_BLOOMING},
    [CY_STATE_GREEN_FRUIT] = {{"○", "o"}, {"█", "#"}, {"○", "o"}, CY_ROLE_GREEN_FRUIT},
    [CY_STATE_RIPE] = {{"●", "@"}, {"█", "#"}, {"●", "@"}, CY_ROLE_RIPE},
    [CY_STATE_SPENT] = {{"░", ":"}, {"░", ":"}, {"×", "x"}, CY_ROLE_SPENT},
    [CY_STATE_GONE] = {{" ", " "}, {" ", " "}, {" ", " "}, CY_ROLE_WIRE},
};

const char *cy_cane_glyph(enum cy_state state, enum cy_part part, double grown, int column,
                          bool ascii)
{
    static const char *const rising[] = {"▁", "▂", "▃", "▄", "▅", "▆", "▇"};
    bool branching = state == CY_STATE_LATERALS && part == CY_PART_CROWN;
    if (branching && column % 2)
        return ascii ? "/" : "╱";
    if (state == CY_STATE_ELONGATING && part != CY_PART_CROWN && !ascii) {
        int height = (int)(grown * 7);
        return rising[height < 0 ? 0 : height > 6 ? 6 : height];
    }
    const struct cane_look *look = &canes[state];
    switch (part) {
    case CY_PART_WOOD:
        return look->wood[ascii];
    case CY_PART_CROWN:
        return look->crown[ascii];
    default:
        return look->alone[ascii];
    }
}

enum cy_role_id cy_cane_role(enum cy_state state)
{
    return canes[state].role;
}

char cy_stage_letter(enum cy_stage stage)
{
    static const char letters[CY_STAGE_COUNT] = {
        [CY_STAGE_EMERGENCE] = 'e',    [CY_STAGE_TIP] = 't',
        [CY_STAGE_AUTUMN_BLOOM] = 'b', [CY_STAGE_AUTUMN_PEAK_PICK] = 'p',
        [CY_STAGE_DORMANT] = 'd',      [CY_STAGE_CHILL_MET] = 'c',
        [CY_STAGE_BUD_BREAK] = 'k',    [CY_STAGE_BLOOM] = 'B',
        [CY_STAGE_PEAK_PICK] = 'P',    [CY_STAGE_SPENT] = 's',
    };
    return letters[stage];
}
