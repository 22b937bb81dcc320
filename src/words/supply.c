/* SPDX-License-Identifier: MIT
 * The whole farm's supply through the season, in words. */
#include "words/words.h"

static void say_kg(struct cy_text *out, double kg, enum cy_system system)
{
    cy_quantity_show(out, kg, CY_Q_MASS, NULL, system, 0);
}

static void say_day_range(struct cy_text *out, const struct cy_figure *day)
{
    cy_say_day(out, day->p50, false);
    cy_text_add(out, " (");
    cy_say_day(out, day->p10, false);
    cy_text_add(out, " to ");
    cy_say_day(out, day->p90, false);
    cy_text_add(out, ")");
}

static void say_week(struct cy_text *out, const struct cy_supply_week *week, enum cy_system system)
{
    size_t start = out->length;
    cy_text_add(out, "  week of ");
    cy_say_day(out, week->monday, true);
    cy_text_pad(out, start, 24);
    cy_say_kg_range(out, &week->kg, system);
    if (week->gap != CY_SUPPLY_ENOUGH) {
        cy_text_pad(out, start, 55);
        cy_text_add(out, week->gap == CY_SUPPLY_IS_THIN ? "THIN" : "NOTHING to sell");
    }
    cy_text_add_char(out, '\n');
}

static void say_gaps(struct cy_text *out, const struct cy_supply *supply, enum cy_system system)
{
    int gaps = supply->empty_weeks + supply->thin_weeks;
    cy_text_add_int(out, supply->empty_weeks);
    cy_text_add(out, supply->empty_weeks == 1 ? " week has" : " weeks have");
    cy_text_add(out, " nothing to sell, ");
    cy_text_add_int(out, supply->thin_weeks);
    cy_text_add(out, supply->thin_weeks == 1 ? " is thin" : " are thin");
    cy_text_add(out, gaps == 0 ? ": none has less than " : ": less than ");
    cy_text_add_fixed(out, 100 * CY_SUPPLY_THIN, 0);
    cy_text_add(out, " % of the mean\nweek, ");
    say_kg(out, supply->mean_week_kg, system);
    cy_text_add(out, " [placeholder].\n");
}

void cy_say_loss(struct cy_text *out, const struct cy_supply_row *row, const char *comma,
                 enum cy_system system, bool ascii)
{
    cy_say_clean(out, row->name, ascii);
    cy_text_add(out, row->every_d == 1 ? ", picked daily" : ", picked every ");
    if (row->every_d != 1) {
        cy_text_add_int(out, row->every_d);
        cy_text_add(out, " days");
    }
    cy_text_add(out, ", loses ");
    say_kg(out, row->picking.lost_kg, system);
    cy_text_add(out, " of ");
    say_kg(out, row->picking.ripened_kg, system);
    cy_text_add(out, comma);
    say_kg(out, row->mild_lost_kg, system);
    cy_text_add(out, " were no day hot or wet; every ");
    cy_text_add_int(out, row->longest_d);
    cy_text_add(out, row->longest_d == 1 ? " day" : " days");
    cy_text_add(out, " it would lose next to none [placeholder]");
}

/* Rows that lose something by waiting too long between pickings. */
static void say_losses(struct cy_text *out, const struct cy_supply *supply, enum cy_system system,
                       bool ascii)
{
    for (size_t i = 0; i < supply->row_count; i++) {
        const struct cy_supply_row *row = &supply->rows[i];
        if (row->picking.lost_kg < 0.01 * row->picking.ripened_kg)
            continue;
        cy_text_add(out, "  ");
        cy_say_loss(out, row, ",\n      ", system, ascii);
        cy_text_add_char(out, '\n');
    }
}

static void say_unknown(struct cy_text *out, const struct cy_supply *supply)
{
    if (supply->unknown_rows == 0)
        return;
    cy_text_add_int(out, (long long)supply->unknown_rows);
    cy_text_add(out, supply->unknown_rows == 1
                         ? " row is left out: no yield of its cultivar is known.\n"
                         : " rows are left out: no yield of their cultivars is known.\n");
}

void cy_say_supply(struct cy_text *out, const struct cy_plan *plan, bool ascii)
{
    struct cy_supply supply;
    enum cy_system system = cy_farm_system(&plan->farm);
    if (cy_supply_of(&supply, plan) != CY_OK) {
        out->failed = true;
        return;
    }
    cy_text_add(out, "\nSUPPLY");
    if (supply.week_count > 0) {
        cy_say_behind(out, supply.total_kg.basis);
    }
    cy_text_add(out, "\n\n");
    if (supply.week_count == 0) {
        cy_text_add(out, "Nothing is known to ripen this season.\n");
    } else {
        cy_text_add(out, "All rows together: ");
        cy_say_kg_range(out, &supply.total_kg, system);
        cy_text_add(out, ", most on ");
        cy_say_day(out, supply.peak, false);
        cy_text_add(out, " with ");
        say_kg(out, supply.days[supply.peak - supply.monday].mean_kg, system);
        cy_text_add(out, ".\nFirst pick ");
        say_day_range(out, &supply.first);
        cy_text_add(out, ", last pick ");
        say_day_range(out, &supply.last);
        cy_text_add(out, ".\n");
        say_gaps(out, &supply, system);
        for (size_t i = 0; i < supply.week_count; i++)
            if (supply.weeks[i].selling)
                say_week(out, &supply.weeks[i], system);
        say_losses(out, &supply, system, ascii);
    }
    say_unknown(out, &supply);
    cy_supply_dispose(&supply);
}
