/* SPDX-License-Identifier: MIT
 * The help page: every key, and what the letters and marks mean. */
#include "screen/view.h"

static void add_states(struct cy_text *out, bool ascii)
{
    cy_text_add(out, "What the canes do\n");
    for (int state = CY_STATE_EMERGING; state < CY_STATE_GONE; state++) {
        bool branches = state == CY_STATE_LATERALS;
        cy_text_add(out, "  ");
        cy_text_add(out, cy_cane_glyph((enum cy_state)state, CY_PART_ALONE, 0.7, 0, ascii));
        cy_text_add(out, "  ");
        cy_text_add(out, cy_state_word((enum cy_state)state));
        if (branches) {
            cy_text_add(out, "; where a life has three lines, ");
            cy_text_add(out, cy_cane_glyph(CY_STATE_LATERALS, CY_PART_CROWN, 1, 0, ascii));
            cy_text_add(out, cy_cane_glyph(CY_STATE_LATERALS, CY_PART_CROWN, 1, 1, ascii));
        }
        cy_text_add_char(out, '\n');
    }
}

static void add_letters(struct cy_text *out, bool ascii)
{
    cy_text_add(out,
                "Dates over a life: the letter is the middle of the years, the line goes from\n"
                "the early year in ten to the late one\n");
    for (int stage = 0; stage < CY_STAGE_COUNT; stage++) {
        char letter = cy_stage_letter((enum cy_stage)stage);
        if (!letter)
            continue;
        cy_text_add(out, "  ");
        cy_text_add_char(out, letter);
        cy_text_add(out, "  ");
        cy_text_add(out, cy_stage_word((enum cy_stage)stage));
        cy_text_add_char(out, '\n');
    }
    cy_text_add(out, "  ");
    cy_text_add(out, cy_glyph(CY_GLYPH_PASS, ascii));
    cy_text_add(out, "  a pass of tipping\n");
}

static void add_mark(struct cy_text *out, enum cy_glyph_id glyph, const char *meaning, bool ascii)
{
    cy_text_add(out, "  ");
    cy_text_add(out, cy_glyph(glyph, ascii));
    cy_text_add(out, "  ");
    cy_text_add(out, meaning);
    cy_text_add_char(out, '\n');
}

static void add_marks(struct cy_text *out, bool ascii)
{
    cy_text_add(out,
                "The field, turned so that its rows lie level; left and right are named in its "
                "heading\n");
    add_mark(out, CY_GLYPH_END_POST, "end post", ascii);
    add_mark(out, CY_GLYPH_POST, "line post", ascii);
    add_mark(out, CY_GLYPH_WIRE, "wire, no canes in sight", ascii);
    add_mark(out, CY_GLYPH_GAP,
             "plants missing, or hedge not filled; spread evenly, since the farm says how many and "
             "not where",
             ascii);
    add_mark(out, CY_GLYPH_UNPLANTED, "not planted yet", ascii);
    cy_text_add(out, "  Where a row has one line, last year's canes and this year's take turns; "
                     "where it has two, last year's are above.\n");
    cy_text_add(out, "Jobs\n");
    add_mark(out, CY_GLYPH_DONE, "done", ascii);
    add_mark(out, CY_GLYPH_LATE, "late: its window closed before today", ascii);
    add_mark(out, CY_GLYPH_OPEN, "open on the day cursor's day", ascii);
    cy_text_add(out, "  What stands behind the hours is the day on which the crew gets to it: what "
                     "cannot wait first, then what is due first. The crew's week counts the hours "
                     "planned for it; above the first job it can be chosen, and asked why.\n");
}

unsigned cy_help_open(struct cy_screen *screen)
{
    struct cy_text *text = &screen->page.text;
    cy_page_begin(screen);
    cy_text_add(&screen->page.title, "Keys and marks");
    cy_actions_list(text, screen->ascii);
    cy_text_add_char(text, '\n');
    add_states(text, screen->ascii);
    cy_text_add_char(text, '\n');
    add_letters(text, screen->ascii);
    cy_text_add_char(text, '\n');
    add_marks(text, screen->ascii);
    cy_text_add(text, "\nWhat stands in [brackets] is the least trusted thing behind a figure; a "
                      "placeholder is a default with no publication behind it.\n");
    cy_page_open(screen, true);
    return CY_DID_REDRAW;
}
