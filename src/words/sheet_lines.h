/* SPDX-License-Identifier: MIT
 * What several sheets draw and say alike: weeks as bars, sentences broken to a width. */
#ifndef WORDS_SHEET_LINES_H
#define WORDS_SHEET_LINES_H

#include "words/sheet.h"

/* "1 Jul (13 Jun to 13 Jul)", or "never". */
void cy_sheet_day_range(struct cy_text *out, const struct cy_figure *day);

/* A week as a line: its Monday, its weight and range, and a bar, solid to the middle year and
 * thin to the 9th of 10, as long as the request's width at `most_kg`. */
void cy_sheet_week(struct cy_text *out, cy_day monday, const struct cy_figure *kg, double most_kg,
                   const struct cy_sheet_request *request);
/* What the bars mean. */
void cy_sheet_week_legend(struct cy_sheet *out, const struct cy_sheet_request *request);

/* Adds text in lines of at most `width` columns, cut at blanks; the last carries the figure. */
void cy_sheet_add_wrapped(struct cy_sheet *sheet, enum cy_sheet_role role, struct cy_text *text,
                          int width, cy_sheet_why why, size_t row, int item);

#endif
