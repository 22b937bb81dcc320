/* SPDX-License-Identifier: MIT
 * What suits the site as JSON: every mark with its reason and its trace. */
#include <math.h>

#include "words/json_words.h"
#include "words/words.h"

static void verdict_json(struct cy_json *json, const struct cy_suitability *table,
                         const struct cy_suit_cultivar *cultivar, const struct cy_verdict *verdict,
                         const struct cy_trace *trace)
{
    struct cy_text words = {0};
    cy_say_verdict(&words, table, cultivar, verdict);
    cy_json_object(json);
    cy_put_text(json, "mark", cy_mark_word(verdict->mark));
    cy_put_number(json, "figure", verdict->figure);
    cy_put_text(json, "unit",
                isnan(verdict->figure) ? NULL : cy_quantity_inside(verdict->quantity));
    cy_put_number(json, "limit", verdict->limit);
    cy_put_text(json, "reason", cy_text_get(&words));
    cy_put_text(json, "basis", cy_basis_word(verdict->basis));
    cy_put_text(json, "source", verdict->source);
    cy_put_bool(json, "own_figure", verdict->ranked);
    cy_json_key(json, "why");
    cy_trace_json(json, trace);
    cy_json_end_object(json);
    json->text->failed = json->text->failed || words.failed || trace->failed;
    cy_text_dispose(&words);
}

static void site_json(struct cy_json *json, const struct cy_suitability *table)
{
    cy_put_object(json, "site");
    for (int suit = 0; suit < CY_SUIT_OF_CULTIVAR; suit++) {
        struct cy_trace trace = {0};
        cy_suitability_why(&trace, table, 0, (enum cy_suit)suit);
        cy_json_key(json, cy_suit_word((enum cy_suit)suit));
        verdict_json(json, table, NULL, &table->site[suit], &trace);
        cy_trace_dispose(&trace);
    }
    cy_json_end_object(json);
    cy_put_array(json, "rows");
    for (size_t i = 0; i < table->sun.row_count; i++) {
        struct cy_trace trace = {0};
        cy_sunlight_why_row(&trace, &table->sun, i);
        cy_json_object(json);
        cy_put_text(json, "key", table->sun.rows[i].key);
        cy_json_key(json, "sun");
        verdict_json(json, table, NULL, &table->rows[i], &trace);
        cy_json_end_object(json);
        cy_trace_dispose(&trace);
    }
    cy_json_end_array(json);
}

static void cultivar_json(struct cy_json *json, const struct cy_suitability *table, size_t index)
{
    const struct cy_suit_cultivar *cultivar = &table->cultivars[index];
    cy_json_object(json);
    cy_put_text(json, "key", cultivar->key);
    cy_put_text(json, "name", cultivar->name);
    cy_put_bool(json, "grown", cultivar->grown);
    cy_put_number(json, "rank", cultivar->rank > 0 ? cultivar->rank : NAN);
    cy_put_number(json, "ranked_by_share", cultivar->rank_share);
    cy_put_object(json, "marks");
    for (int suit = CY_SUIT_OF_CULTIVAR; suit < CY_SUIT_COUNT; suit++) {
        struct cy_trace trace = {0};
        cy_suitability_why(&trace, table, index, (enum cy_suit)suit);
        cy_json_key(json, cy_suit_word((enum cy_suit)suit));
        verdict_json(json, table, cultivar, &cultivar->verdicts[suit], &trace);
        cy_trace_dispose(&trace);
    }
    cy_json_end_object(json);
    cy_json_end_object(json);
}

void cy_suitability_json(struct cy_text *out, const struct cy_suitability *table)
{
    struct cy_json json;
    cy_json_begin(&json, out);
    cy_json_object(&json);
    cy_put_text(&json, "farm", cy_string(cy_farm_one(&table->farm, CY_KIND_FARM), CY_FARM_NAME));
    cy_put_number(&json, "season", table->season);
    cy_put_number(&json, "weathers", table->years);
    cy_put_text(&json, "weather_basis", cy_basis_word(table->weather));
    site_json(&json, table);
    cy_put_array(&json, "cultivars");
    for (size_t i = 0; i < table->cultivar_count; i++)
        cultivar_json(&json, table, i);
    cy_json_end_array(&json);
    cy_json_end_object(&json);
    cy_text_add_char(out, '\n');
}
