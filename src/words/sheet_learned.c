/* SPDX-License-Identifier: MIT
 * What this farm's own seasons say: the value before and after, and the seasons behind it. */
#include <math.h>

#include <caneyear/climate/heat.h>
#include <caneyear/season/learn.h>

#include "words/sheet.h"
#include "words/json_words.h"
#include "words/words.h"

enum { MOST_SEASONS = 3 }; /* that a line names */

static void say_value(struct cy_text *out, double value, const struct cy_learned *learned,
                      enum cy_system system)
{
    enum cy_quantity quantity = cy_learn_quantity(learned->what);
    int decimals = quantity == CY_Q_DEGREE_HOURS ? 0 : 1;
    if (isnan(value))
        cy_text_add(out, "not known");
    else
        cy_quantity_show(out, value, quantity, NULL, system,
                         quantity == CY_Q_GROWTH ? 2 : decimals);
}

static bool why(struct cy_trace *trace, const struct cy_sheet *sheet,
                const struct cy_sheet_line *line)
{
    return cy_plan_why_learned(trace, sheet->plan, (size_t)line->item);
}

/* Whose the value was that the seasons moved. */
static const char *word_before(const struct cy_learned *learned)
{
    if (learned->before.basis & CY_BASIS_GROWER)
        return "as given";
    return learned->before.basis & CY_BASIS_PLACEHOLDER || learned->what == CY_LEARN_COLDER
               ? "default"
               : "catalogue";
}

static void add_moved(struct cy_sheet *out, const struct cy_learned *learned, size_t index,
                      enum cy_system system)
{
    struct cy_text text = {0};
    cy_text_add(&text, "  ");
    cy_text_add(&text, cy_learn_word(learned->what));
    cy_text_add(&text, ": ");
    say_value(&text, learned->value.value, learned, system);
    cy_say_behind(&text, learned->value.basis);
    cy_sheet_add_figure(out, CY_SHEET_TEXT, cy_text_get(&text), why, 0, (int)index);
    cy_text_clear(&text);
    cy_text_add(&text, "    ");
    cy_text_add(&text, word_before(learned));
    cy_text_add(&text, ": ");
    say_value(&text, learned->before.value, learned, system);
    cy_say_behind(&text, learned->before.basis);
    cy_sheet_add(out, CY_SHEET_TEXT, cy_text_get(&text));
    cy_text_dispose(&text);
}

static void say_counts(struct cy_text *out, const struct cy_learned *learned)
{
    bool nights = learned->what == CY_LEARN_COLDER;
    cy_text_add(out, "    ");
    if (nights) {
        cy_text_add_fixed(out, learned->weight, 0);
        cy_text_add(out, learned->weight < 1.5 ? " night in " : " nights in ");
    }
    cy_text_add_int(out, learned->season_count);
    cy_text_add(out, learned->season_count == 1 ? " season" : " seasons");
    if (nights) {
        cy_text_add(out, " compared; what was given counts as three nights [placeholder]");
        return;
    }
    cy_text_add(out, " behind it, counting as ");
    cy_text_add_fixed(out, learned->weight, 1);
    cy_text_add(out, "; the ");
    cy_text_add(out, learned->before.basis & CY_BASIS_GROWER ? "value given" : word_before(learned));
    cy_text_add(out, " as ");
    cy_text_add_number(out, learned->before_weight);
    cy_text_add(out, " [placeholder]");
}

static void say_seasons(struct cy_text *out, const struct cy_learned *learned,
                        enum cy_system system)
{
    int first = learned->season_count > MOST_SEASONS ? learned->season_count - MOST_SEASONS : 0;
    cy_text_add(out, first > 0 ? "    the latest: " : "    ");
    for (int i = first; i < learned->season_count; i++) {
        cy_text_add(out, i > first ? "; " : "");
        cy_text_add_int(out, learned->seasons[i].year);
        cy_text_add(out, ": ");
        say_value(out, learned->seasons[i].value, learned, system);
    }
}

/* How wide the dates are, and by whose word; nothing for a value without a date of its own. */
static void say_spread(struct cy_text *out, const struct cy_learned *learned)
{
    bool bloom = learned->what == CY_LEARN_BLOOM_HEAT || learned->what == CY_LEARN_AUTUMN_HEAT;
    const struct cy_life_constant *published =
        cy_life_constant(bloom ? CY_LIFE_BLOOM_ERROR : CY_LIFE_RIPEN_ERROR);
    if (!bloom && learned->what != CY_LEARN_BLOOM_TO_PEAK)
        return;
    cy_text_add(out, "    its dates stray by ");
    if (!isnan(learned->error_d.value)) {
        cy_text_add_fixed(out, learned->error_d.value, 1);
        cy_text_add(out, " days, by this farm's own seasons; published: ");
        cy_text_add_number(out, published->value);
        return;
    }
    cy_text_add_number(out, published->value);
    cy_text_add(out, " days, as published\n    this farm's own spread counts from ");
    cy_text_add_int(out, CY_LEARN_OWN_SPREAD);
    cy_text_add(out, " seasons with their weather on: ");
    cy_text_add_int(out, learned->full_seasons);
    cy_text_add(out, " so far");
}

static void add_learned(struct cy_sheet *out, const struct cy_sheet_request *request, size_t index)
{
    const struct cy_learned *learned = &request->plan->learned[index];
    enum cy_system system = cy_farm_system(&request->plan->farm);
    struct cy_text text = {0};
    bool first = index == 0 || learned[-1].thing != learned->thing;
    if (first) {
        cy_say_clean(&text, cy_thing_name(cy_farm_by_id(&request->plan->farm, learned->thing)),
                     request->ascii);
        cy_sheet_add(out, CY_SHEET_HEADING, cy_text_get(&text));
        cy_text_clear(&text);
    }
    add_moved(out, learned, index, system);
    say_counts(&text, learned);
    cy_sheet_add_text(out, CY_SHEET_TEXT, &text);
    say_seasons(&text, learned, system);
    cy_sheet_add_text(out, CY_SHEET_TEXT, &text);
    say_spread(&text, learned);
    cy_sheet_add_text(out, CY_SHEET_TEXT, &text);
    cy_text_dispose(&text);
}

static bool is_about(const struct cy_sheet_request *request, const struct cy_learned *learned)
{
    const struct cy_plan *plan = request->plan;
    if (request->whole_farm || request->row >= plan->row_count)
        return true;
    const struct cy_thing *row = cy_farm_by_id(&plan->farm, plan->rows[request->row].thing);
    const struct cy_thing *cultivar = cy_referred(&plan->farm, row, CY_ROW_CULTIVAR);
    return learned->thing == row->id || (cultivar && learned->thing == cultivar->id);
}

/* What the unit of a heat sum is, where the sheet shows one. */
static void say_unit(struct cy_text *out, enum cy_system system)
{
    cy_text_add(out, "Heat is in degree hours (K.h): an hour at ");
    cy_quantity_show(out, CY_HEAT_BASE_C, CY_Q_TEMPERATURE, NULL, system, 0);
    cy_text_add(out, " or colder counts nothing, one at ");
    cy_quantity_show(out, CY_HEAT_OPTIMUM_C, CY_Q_TEMPERATURE, NULL, system, 0);
    cy_text_add(out, " or warmer counts ");
    cy_text_add_fixed(out, CY_HEAT_OPTIMUM_C - CY_HEAT_BASE_C, 0);
    cy_text_add(out, ", straight between.\n");
}

int cy_sheet_learned(struct cy_sheet *out, const struct cy_sheet_request *request)
{
    struct cy_text notes = {0};
    bool heat = false;
    cy_text_add(&out->title, "What this farm's own seasons say");
    for (size_t i = 0; i < request->plan->learned_count; i++)
        if (is_about(request, &request->plan->learned[i])) {
            add_learned(out, request, i);
            heat = heat || cy_learn_quantity(request->plan->learned[i].what) == CY_Q_DEGREE_HOURS;
        }
    if (out->count == 0)
        cy_sheet_add(out, CY_SHEET_TEXT, "Nothing yet: the catalogue's values stand.");
    cy_sheet_add(out, CY_SHEET_TEXT, "");
    if (heat)
        say_unit(&notes, cy_farm_system(&request->plan->farm));
    cy_text_add(&notes, "Notes of emergence, bud break, bloom, ripe fruit and cane height move "
                        "the values of their cultivar, season by season; a night low moves how "
                        "much colder its row's nights are than the station's. A season whose "
                        "station weather is in the farm file counts in full.");
    cy_sheet_add_text(out, CY_SHEET_TEXT, &notes);
    cy_text_dispose(&notes);
    return CY_OK;
}
