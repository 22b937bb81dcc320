/* SPDX-License-Identifier: MIT
 * How things look: colours by role, glyphs by table, each with an entry for terminals that have
 * neither colour nor Unicode. */
#ifndef SCREEN_LOOK_H
#define SCREEN_LOOK_H

#include <stdbool.h>

#include <caneyear/season/plan.h>

/* ROLE(name, colour, weight, weight without colour): colours are those of cy_hue, weights sets of
 * cy_weight. No role is a background, and none is the only bearer of its meaning. */
#define CY_ROLES(ROLE)                                                                             \
    ROLE(NORMAL, PLAIN, 0, 0)                                                                      \
    ROLE(TITLE, PLAIN, BOLD, BOLD)                                                                 \
    ROLE(HEADING, CYAN, BOLD, BOLD)                                                                \
    ROLE(FOCUS, CYAN, BOLD | REVERSE, BOLD | REVERSE) /* heading of the band in hand */            \
    ROLE(FAINT, PLAIN, DIM, 0)                                                                     \
    ROLE(KEY, PLAIN, BOLD, BOLD)                                                                   \
    ROLE(CHOSEN, PLAIN, BOLD, BOLD)         /* the row or job that the cursor stands on */         \
    ROLE(SELECTED, PLAIN, REVERSE, REVERSE) /* the same in the band in hand */                     \
    ROLE(DAY, CYAN, REVERSE, REVERSE)       /* the day cursor */                                   \
    ROLE(POST, PLAIN, 0, 0)                                                                        \
    ROLE(WIRE, PLAIN, DIM, 0)                                                                      \
    ROLE(GAP, PLAIN, DIM, 0)                                                                       \
    ROLE(RISING, GREEN, 0, 0)                                                                      \
    ROLE(TIPPED, GREEN, BOLD, BOLD)                                                                \
    ROLE(RESTING, YELLOW, 0, 0)                                                                    \
    ROLE(BUDDING, GREEN, BOLD, BOLD)                                                               \
    ROLE(BLOOMING, MAGENTA, BOLD, BOLD)                                                            \
    ROLE(GREEN_FRUIT, GREEN, 0, 0)                                                                 \
    ROLE(RIPE, RED, BOLD, BOLD)                                                                    \
    ROLE(SPENT, YELLOW, DIM, 0)                                                                    \
    ROLE(SPREAD, CYAN, 0, 0)                                                                       \
    ROLE(MIDDLE, CYAN, BOLD, BOLD)                                                                 \
    ROLE(GOOD, GREEN, 0, 0)                                                                        \
    ROLE(WARNING, YELLOW, BOLD, BOLD)                                                              \
    ROLE(LATE, RED, BOLD, BOLD)                                                                    \
    ROLE(ERROR, RED, BOLD, BOLD)                                                                   \
    ROLE(PLACEHOLDER, YELLOW, 0, UNDERLINE)                                                        \
    ROLE(FIELD, PLAIN, UNDERLINE, UNDERLINE)                                                       \
    ROLE(FIELD_HELD, PLAIN, REVERSE, REVERSE)

enum cy_role_id {
#define ROLE(name, hue, weight, plain) CY_ROLE_##name,
    CY_ROLES(ROLE)
#undef ROLE
        CY_ROLE_ID_COUNT
};

enum cy_hue { CY_HUE_PLAIN, CY_HUE_RED, CY_HUE_GREEN, CY_HUE_YELLOW, CY_HUE_MAGENTA, CY_HUE_CYAN };
enum cy_weight { CY_BOLD = 1, CY_DIM = 2, CY_REVERSE = 4, CY_UNDERLINE = 8 };

struct cy_look {
    enum cy_hue hue;
    unsigned weight;
};

struct cy_look cy_look_of(enum cy_role_id role, bool colour);

/* GLYPH(name, in UTF-8, in ASCII): each one column wide. */
#define CY_GLYPHS(GLYPH)                                                                           \
    GLYPH(MARK, ">", ">") /* beside what is chosen */                                              \
    GLYPH(CUT, "…", "~")  /* where text is cut off */                                              \
    GLYPH(RULE, "─", "-")                                                                          \
    GLYPH(POST, "│", "|")                                                                          \
    GLYPH(END_POST, "┃", "H")                                                                      \
    GLYPH(WIRE, "─", "-")                                                                          \
    GLYPH(GAP, "·", "_") /* plants missing, hedge not filled */                                    \
    GLYPH(UNPLANTED, "┄", "'")                                                                     \
    GLYPH(DAY_LINE, "╎", "|")                                                                      \
    GLYPH(DAY_TOP, "▼", "v")                                                                       \
    GLYPH(SPREAD, "─", "-")                                                                        \
    GLYPH(SPREAD_FROM, "╶", "-")                                                                   \
    GLYPH(SPREAD_TO, "╴", "-")                                                                     \
    GLYPH(PASS, "╵", "'")                                                                          \
    GLYPH(DONE, "✓", "x")                                                                          \
    GLYPH(LATE, "!", "!")                                                                          \
    GLYPH(OPEN, "•", "*")                                                                          \
    GLYPH(AHEAD, " ", " ")                                                                         \
    GLYPH(LEFT, "←", "<")                                                                          \
    GLYPH(RIGHT, "→", ">")

enum cy_glyph_id {
#define GLYPH(name, utf8, ascii) CY_GLYPH_##name,
    CY_GLYPHS(GLYPH)
#undef GLYPH
        CY_GLYPH_COUNT
};

const char *cy_glyph(enum cy_glyph_id id, bool ascii);

/* How the canes of a state are drawn: on one line, or as wood with what it bears above. The last
 * is by `grown`, how far the canes have come up (0 to 1), and by column, since branches alternate.
 */
enum cy_part { CY_PART_ALONE, CY_PART_WOOD, CY_PART_CROWN };
const char *cy_cane_glyph(enum cy_state state, enum cy_part part, double grown, int column,
                          bool ascii);
enum cy_role_id cy_cane_role(enum cy_state state);
/* The letter over the middle of a stage's dates; 0 for stages that the picture shows without. */
char cy_stage_letter(enum cy_stage stage);

#endif
