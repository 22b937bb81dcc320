/* SPDX-License-Identifier: MIT
 * What the files that speak of the trellis share. */
#ifndef WORDS_TRELLIS_H
#define WORDS_TRELLIS_H

#include <caneyear/season/trellis.h>

#include "words/sheet.h"

/* "1130 %"; "?" where there is none. */
void cy_say_use(struct cy_text *out, double use);
/* "line post", or for a wire "wire 3.0 ft". */
void cy_say_part(struct cy_text *out, const struct cy_plan *plan,
                 const struct cy_trellis_verdict *verdict, const struct cy_trellis_check *check);
/* A case in at most ten columns. */
const char *cy_case_short(enum cy_trellis_case in);
/* Why there is no figure, as a clause. */
const char *cy_say_refusal(enum cy_trellis_refusal refusal);
/* A note of a verdict, as a sentence; one call a bit. */
void cy_say_trellis_note(struct cy_text *out, enum cy_trellis_note note);
/* What a change is and does, as a sentence. */
void cy_say_fix(struct cy_text *out, const struct cy_plan *plan, size_t row,
                const struct cy_trellis_fix *fix);
void cy_say_length(struct cy_text *out, const struct cy_plan *plan, double length_m);
void cy_say_money(struct cy_text *out, double money);

/* trellis_picture.c: the row seen from the side. */
void cy_trellis_picture(struct cy_sheet *sheet, const struct cy_sheet_request *request,
                        const struct cy_trellis_verdict *verdict,
                        const struct cy_trellis_frame *frame);

#endif
