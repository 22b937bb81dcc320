/* SPDX-License-Identifier: MIT
 * JSON written into a text: the writer keeps the commas and the escapes. */
#ifndef CANEYEAR_BASE_JSON_H
#define CANEYEAR_BASE_JSON_H

#include <stdbool.h>

#include <caneyear/base/day.h>
#include <caneyear/base/text.h>

#define CY_JSON_DEPTH 16

struct cy_json {
    struct cy_text *text;
    int depth;
    bool has_items[CY_JSON_DEPTH], after_key;
};

/* Deeper nesting than CY_JSON_DEPTH and ends without a beginning set text->failed. */
void cy_json_begin(struct cy_json *json, struct cy_text *text);
void cy_json_object(struct cy_json *json);
void cy_json_array(struct cy_json *json);
void cy_json_end_object(struct cy_json *json);
void cy_json_end_array(struct cy_json *json);
void cy_json_key(struct cy_json *json, const char *key);
void cy_json_string(struct cy_json *json, const char *value); /* NULL writes null */
void cy_json_number(struct cy_json *json, double value);      /* not finite writes null */
void cy_json_bool(struct cy_json *json, bool value);
void cy_json_day(struct cy_json *json, cy_day day); /* CY_DAY_NONE writes null */

#endif
