/* SPDX-License-Identifier: MIT
 * JSON written into a text. */
#include <caneyear/base/json.h>

#include <math.h>
#include <string.h>

void cy_json_begin(struct cy_json *json, struct cy_text *text)
{
    *json = (struct cy_json){.text = text};
}

/* The comma before a value, unless it is the first of its list or follows its key. */
static void before_value(struct cy_json *json)
{
    if (!json->after_key && json->has_items[json->depth])
        cy_text_add_char(json->text, ',');
    json->has_items[json->depth] = true;
    json->after_key = false;
}

static void open(struct cy_json *json, char bracket)
{
    before_value(json);
    cy_text_add_char(json->text, bracket);
    if (json->depth + 1 < CY_JSON_DEPTH)
        json->has_items[++json->depth] = false;
    else
        json->text->failed = true;
}

static void close(struct cy_json *json, char bracket)
{
    cy_text_add_char(json->text, bracket);
    if (json->depth > 0)
        json->depth--;
    else
        json->text->failed = true;
}

void cy_json_object(struct cy_json *json)
{
    open(json, '{');
}

void cy_json_array(struct cy_json *json)
{
    open(json, '[');
}

void cy_json_end_object(struct cy_json *json)
{
    close(json, '}');
}

void cy_json_end_array(struct cy_json *json)
{
    close(json, ']');
}

static void add_escaped(struct cy_text *text, int32_t c)
{
    static const char hex[] = "0123456789abcdef";
    if (c == '\n') {
        cy_text_add(text, "\\n");
        return;
    }
    cy_text_add(text, "\\u");
    for (int shift = 12; shift >= 0; shift -= 4)
        cy_text_add_char(text, hex[c >> shift & 0xF]);
}

/* Characters unfit for a terminal are escaped too: JSON is read there as well. */
static void add_string(struct cy_text *text, const char *value)
{
    size_t length = strlen(value), used;
    cy_text_add_char(text, '"');
    for (size_t i = 0; i < length; i += used) {
        int32_t c = cy_utf8_next(value + i, length - i, &used);
        if (c < 0) {
            cy_text_add(text, "\xEF\xBF\xBD"); /* U+FFFD */
        } else if (cy_utf8_is_control(c)) {
            add_escaped(text, c);
        } else {
            if (c == '"' || c == '\\')
                cy_text_add_char(text, '\\');
            cy_text_add_n(text, value + i, used);
        }
    }
    cy_text_add_char(text, '"');
}

void cy_json_key(struct cy_json *json, const char *key)
{
    before_value(json);
    add_string(json->text, key);
    cy_text_add_char(json->text, ':');
    json->after_key = true;
}

static void add_plain(struct cy_json *json, const char *word)
{
    before_value(json);
    cy_text_add(json->text, word);
}

void cy_json_string(struct cy_json *json, const char *value)
{
    if (!value) {
        add_plain(json, "null");
        return;
    }
    before_value(json);
    add_string(json->text, value);
}

void cy_json_number(struct cy_json *json, double value)
{
    if (!isfinite(value)) {
        add_plain(json, "null");
        return;
    }
    before_value(json);
    cy_text_add_number(json->text, value);
}

void cy_json_bool(struct cy_json *json, bool value)
{
    add_plain(json, value ? "true" : "false");
}

void cy_json_day(struct cy_json *json, cy_day day)
{
    char out[CY_DAY_TEXT];
    cy_json_string(json, day == CY_DAY_NONE ? NULL : cy_day_print(out, day));
}
