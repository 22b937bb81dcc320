/* SPDX-License-Identifier: MIT
 * What several sheets draw and say alike: weights with their spread, by week with bars. */
#ifndef WORDS_SHEET_LINES_H
#define WORDS_SHEET_LINES_H

#include "words/sheet.h"

/* "409 lb (24 lb to 1336 lb)" */
void cy_sheet_kg_range(struct cy_text *out, const struct cy_figure *kg, enum cy_system system);
/* "1 Jul (13 Jun to 13 Jul)", or "never". */
void cy_sheet_day_range(struct cy_text *out, const struct cy_figure *day);
/* " [made]" */
void cy_sheet_basis(struct cy_text *out, cy_basis basis);

/* A week as a line: its Monday, its weight and range, and a bar, solid to the middle year and
 * thin to the 9th of 10, as long as the request's width at `most_kg`. */
void cy_sheet_week(struct cy_text *out, cy_day monday, const struct cy_figure *kg, double most_kg,
                   const struct cy_sheet_request *request);
/* What the bars mean. */
void cy_sheet_week_legend(struct cy_sheet *out, const struct cy_sheet_request *request);

#endif
