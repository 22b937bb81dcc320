/* SPDX-License-Identifier: MIT
 * A sheet: one subject of the plan as lines of text, for the screen's pages and for the command
 * line. A line that shows a figure can be asked why; its trace is made only then. */
#ifndef WORDS_SHEET_H
#define WORDS_SHEET_H

#include <stdbool.h>
#include <stddef.h>

#include <caneyear/base/text.h>
#include <caneyear/season/frostwatch.h>
#include <caneyear/season/plan.h>
#include <caneyear/season/rowplan.h>
#include <caneyear/season/suitability.h>

enum cy_sheet_role {
    CY_SHEET_TEXT,    /* wrapped to the page */
    CY_SHEET_HEADING,
    CY_SHEET_PICTURE, /* drawn in characters: never wrapped, cut at the page's edge */
    CY_SHEET_GOOD,
    CY_SHEET_WARNING,
    CY_SHEET_CAUTION  /* where the work can hurt someone */
};

struct cy_sheet;
struct cy_sheet_line;
/* Fills the trace of a line's figure; false where there is none. */
typedef bool (*cy_sheet_why)(struct cy_trace *trace, const struct cy_sheet *sheet,
                             const struct cy_sheet_line *line);

struct cy_sheet_line {
    char *text;
    enum cy_sheet_role role;
    cy_sheet_why why; /* NULL: the line shows no figure */
    size_t row;       /* of the plan; what these two mean is the maker's */
    int item;
};

struct cy_sheet {
    struct cy_text title;
    struct cy_sheet_line *lines;
    size_t count, capacity;
    const struct cy_plan *plan;          /* borrowed: a sheet does not outlive it */
    struct cy_suitability suitability;   /* its own, where the sheet is of that */
    struct cy_sunlight sunlight;         /* the same */
    struct cy_rowplan_site field;        /* the same */
    struct cy_frostwatch watch;          /* the same */
    struct cy_frostodds frost;           /* the same */
    bool failed;                         /* ran out of memory */
};

/* What a sheet is made from. */
struct cy_sheet_request {
    const struct cy_plan *plan;
    size_t row;      /* of the plan; where there is one */
    bool whole_farm; /* not of the row but of all */
    cy_day day;      /* that it looks at */
    int width;       /* columns, for pictures */
    bool ascii;
    struct cy_planner *planner;                /* what was worked out before */
    const struct cy_plan_request *plan_request; /* by which the plan was made */
};

/* SHEET(id, letter, word, title): the letter chooses it in the planner's list of pages, the word
 * on the command line. Each has its maker, cy_sheet_WORD, in a file of its own. */
#define CY_SHEETS(SHEET)                                                                           \
    SHEET(SUPPLY, 's', supply, "what there is to sell, week by week")                              \
    SHEET(CROP, 'y', crop, "what a row bears and when, or each row of the farm")                   \
    SHEET(SUIT, 'c', suit, "what suits the site: its marks, and each cultivar's")                  \
    SHEET(LEARNED, 'e', learned, "what this farm's own seasons say")                               \
    SHEET(SUN, 'l', sun, "hours of direct sun, and what stands before it")                         \
    SHEET(LAYOUT, 'o', layout, "rows proposed for the field, and which way they best run")         \
    SHEET(FROST, 'f', frost, "what frost kills this week, and the odds of a freeze by date")       \
    SHEET(TRELLIS, 't', trellis, "the trellis: what wires, posts and ends use of what is allowed") \
    SHEET(PARTS, 'b', parts, "the trellis's parts and what they cost")                             \
    SHEET(WATER, 'w', water, "what the soil holds, what to water, zones and their turns")

enum cy_sheet_id {
#define SHEET(id, letter, word, title) CY_SHEET_##id,
    CY_SHEETS(SHEET)
#undef SHEET
        CY_SHEET_COUNT
};

struct cy_sheet_info {
    char letter;
    const char *word, *title;
    int (*make)(struct cy_sheet *out, const struct cy_sheet_request *request);
};

#define SHEET(id, letter, word, title)                                                             \
    int cy_sheet_##word(struct cy_sheet *out, const struct cy_sheet_request *request);
CY_SHEETS(SHEET)
#undef SHEET

const struct cy_sheet_info *cy_sheet_info(enum cy_sheet_id id);
/* The sheet of a word; CY_SHEET_COUNT where there is none. */
enum cy_sheet_id cy_sheet_named(const char *word);

/* Makes a sheet; CY_NO_MEMORY leaves *out empty. The caller disposes of it. */
int cy_sheet_make(struct cy_sheet *out, enum cy_sheet_id id,
                  const struct cy_sheet_request *request);
void cy_sheet_dispose(struct cy_sheet *sheet);

/* For makers: add a line; names from outside are cleaned before they get here. */
void cy_sheet_add(struct cy_sheet *sheet, enum cy_sheet_role role, const char *text);
void cy_sheet_add_figure(struct cy_sheet *sheet, enum cy_sheet_role role, const char *text,
                         cy_sheet_why why, size_t row, int item);
/* Adds the text's lines as they stand, then clears it. */
void cy_sheet_add_text(struct cy_sheet *sheet, enum cy_sheet_role role, struct cy_text *text);

/* The sheet as plain text; with `why`, the trace of each figure stands below it. */
void cy_sheet_print(struct cy_text *out, const struct cy_sheet *sheet, bool why);

#endif
