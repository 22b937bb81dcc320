/* SPDX-License-Identifier: MIT
 * The sheet of what there is to sell, week by week. */
#include "words/sheet.h"
#include "words/words.h"

int cy_sheet_supply(struct cy_sheet *out, const struct cy_sheet_request *request)
{
    struct cy_text text = {0};
    cy_text_add(&out->title, "What there is to sell");
    cy_say_supply(&text, request->plan, request->ascii);
    cy_sheet_add_text(out, CY_SHEET_TEXT, &text);
    cy_text_dispose(&text);
    return CY_OK;
}
