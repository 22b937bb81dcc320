/* SPDX-License-Identifier: MIT
 * Sentences about a trellis: parts, cases, refusals, notes, changes. */
#include "words/trellis.h"

#include <math.h>

#include "words/words.h"

void cy_say_use(struct cy_text *out, double use)
{
    if (isnan(use)) {
        cy_text_add(out, "?");
        return;
    }
    cy_text_add_fixed(out, 100 * use, 0);
    cy_text_add(out, " %");
}

void cy_say_length(struct cy_text *out, const struct cy_plan *plan, double length_m)
{
    enum cy_system system = cy_farm_system(&plan->farm);
    cy_quantity_show(out, length_m, CY_Q_LENGTH, NULL, system, system == CY_US ? 1 : 2);
}

void cy_say_money(struct cy_text *out, double money)
{
    cy_text_add_char(out, '$');
    cy_text_add_fixed(out, money, 2);
}

void cy_say_part(struct cy_text *out, const struct cy_plan *plan,
                 const struct cy_trellis_verdict *verdict, const struct cy_trellis_check *check)
{
    cy_text_add(out, cy_check_part(check->kind));
    if (check->wire < 0 || check->wire >= verdict->wire_count)
        return;
    cy_text_add_char(out, ' ');
    cy_say_length(out, plan, verdict->wires[check->wire].height_m);
}

const char *cy_case_short(enum cy_trellis_case in)
{
    static const char *const words[] = {
        [CY_CASE_SET] = "as set",
        [CY_CASE_COLD] = "cold night",
        [CY_CASE_HEAT] = "heat, cold",
        [CY_CASE_ICE] = "ice",
        [CY_CASE_LEAF] = "in leaf",
        [CY_CASE_FRUIT] = "in fruit",
        [CY_CASE_BARE_WIND] = "wind, bare",
        [CY_CASE_LEAF_WIND] = "wind, leaf",
        [CY_CASE_FRUIT_WIND] = "fruit,wind",
        [CY_CASE_LIGHT_WIND] = "wind, dry",
        [CY_CASE_ALONG] = "wind along",
    };
    return words[in];
}

const char *cy_say_refusal(enum cy_trellis_refusal refusal)
{
    static const char *const words[] = {
        [CY_REFUSED_NOT] = "",
        [CY_REFUSED_TENSION] = "no verdict: a wire's tension and set_at are not known",
        [CY_REFUSED_STRENGTH] = "no figure for this kind or gauge of wire",
        [CY_REFUSED_GUST] = "no verdict: no gust is typed (site.gust)",
        [CY_REFUSED_SECTION] = "no figure for a post of this kind and size",
        [CY_REFUSED_ANCHOR] = "no figure for such an anchor here: pull one, type anchor_holds",
        [CY_REFUSED_WIRES] = "no verdict: the trellis has no wires",
    };
    return words[refusal];
}

void cy_say_trellis_note(struct cy_text *out, enum cy_trellis_note note)
{
    switch (note) {
    case CY_TRELLIS_NO_GUST:
        cy_text_add(out, "No gust is typed (site.gust), so nothing is said of wind.");
        break;
    case CY_TRELLIS_EXPOSURE_TAKEN:
        cy_text_add(out, "No exposure is typed (site.exposure): open country, C, is taken "
                         "[placeholder].");
        break;
    case CY_TRELLIS_SOIL_TAKEN:
        cy_text_add(out, "No soil is typed (site.soil): loam is taken [placeholder].");
        break;
    case CY_TRELLIS_TENSION_UNKNOWN:
        cy_text_add(out, "A wire has no tension or no set_at: no verdict on it, nor on the ends "
                         "that it pulls at. Measure it, and type both.");
        break;
    case CY_TRELLIS_NO_FIGURE:
        cy_text_add(out, "No strength is published for polymer line or for a gauge that the table "
                         "of steel wire lacks: no figure there. For polymer line type its maker's "
                         "breaks, diameter, modulus and expansion; it creeps, so its tension "
                         "falls in the first weeks whatever the weather.");
        break;
    case CY_TRELLIS_LOW_WIRE_HIGH:
        cy_text_add(out, "The lowest wire is above the height at which canes are tipped: a tipped "
                         "cane has nothing to be tied to until its laterals reach it.");
        break;
    case CY_TRELLIS_TOP_OUT_OF_REACH:
        cy_text_add(out, "The top wire is higher than canes get in a season here.");
        break;
    case CY_TRELLIS_ONE_WIRE:
        cy_text_add(out,
                    "Trailing canes are wound round two wires, at about 3 and 5 ft (0.9 and 1.5 m, "
                    "a general garden page); this trellis has one.");
        break;
    case CY_TRELLIS_FORM_UNUSUAL:
        cy_text_add(out, "Semi-erect canes usually stand on a double T: a 4 ft arm at 6 ft and a "
                         "3 ft arm 2 ft below (1.2 m at 1.8 m, 0.9 m at 1.2 m; OSU EC 1303).");
        break;
    case CY_TRELLIS_HEAVE:
        cy_text_add(out, "Winters freeze deep here [placeholder: a month whose mean is below "
                         "freezing]: frost lifts posts that end in frozen ground. Set the foot "
                         "below the frost line, and look at heights again in spring.");
        break;
    case CY_TRELLIS_SPACED:
        cy_text_add(out, "Line posts stand further apart than the 25 to 30 ft (7.6 to 9.1 m) "
                         "of practice.");
        break;
    case CY_TRELLIS_SHALLOW:
        cy_text_add(out, "Line posts are less deep than the 2 ft (0.6 m) of practice.");
        break;
    case CY_TRELLIS_END_SHALLOW:
        cy_text_add(out, "End posts are less deep than the 3 ft (0.9 m) of practice.");
        break;
    case CY_TRELLIS_MANY_WIRES:
        cy_text_add(out, "Some wires are left out here: at most ");
        cy_text_add_int(out, CY_TRELLIS_WIRES);
        cy_text_add(out, " are judged, and only those with a height.");
        break;
    case CY_TRELLIS_CROP_TAKEN:
        cy_text_add(out, "No crop is planned on this row this season: a full one is hung on it.");
        break;
    }
}

/* ---- changes ----------------------------------------------------------------------------------
 */

static void say_changed(struct cy_text *out, const struct cy_plan *plan,
                        const struct cy_trellis_fix *fix)
{
    enum cy_system system = cy_farm_system(&plan->farm);
    if (fix->kind == CY_FIX_THICKER) {
        cy_text_add(out, "gauge ");
        cy_text_add_number(out, fix->value);
        return;
    }
    if (fix->kind == CY_FIX_WIRE)
        cy_text_add(out, "at ");
    if (fix->kind == CY_FIX_LARGER)
        cy_quantity_show(out, fix->value, CY_Q_SIZE, NULL, system, system == CY_US ? 1 : 0);
    else
        cy_say_length(out, plan, fix->value);
    cy_text_add(out, fix->kind == CY_FIX_CLOSER   ? " apart"
                     : fix->kind == CY_FIX_DEEPER ? " in the ground"
                     : fix->kind == CY_FIX_LARGER ? " wide"
                                                  : "");
}

void cy_say_fix(struct cy_text *out, const struct cy_plan *plan, size_t row,
                const struct cy_trellis_fix *fix)
{
    const struct cy_trellis_verdict *verdict = cy_trellis_of(plan, row);
    if (fix->anchor && (fix->kind == CY_FIX_DEEPER || fix->kind == CY_FIX_LARGER))
        cy_text_add(out, fix->kind == CY_FIX_DEEPER ? "anchor deeper" : "larger anchor");
    else if (fix->end && (fix->kind == CY_FIX_DEEPER || fix->kind == CY_FIX_LARGER))
        cy_text_add(out, fix->kind == CY_FIX_DEEPER ? "end posts deeper" : "larger end posts");
    else
        cy_text_add(out, cy_fix_word(fix->kind));
    cy_text_add(out, ": ");
    if (!fix->enough) {
        cy_text_add(out, "none will do; ");
        say_changed(out, plan, fix);
        cy_text_add(out, " leaves it at ");
        cy_say_use(out, fix->use);
        return;
    }
    say_changed(out, plan, fix);
    cy_text_add(out, " brings it to ");
    cy_say_use(out, fix->use);
    cy_text_add(out, "; then ");
    if (fix->then.wire >= verdict->wire_count)
        cy_text_add(out, "the new wire");
    else
        cy_say_part(out, plan, verdict, &fix->then);
    cy_text_add(out, ", ");
    cy_text_add(out, cy_check_what(fix->then.kind));
    cy_text_add(out, ", governs at ");
    cy_say_use(out, fix->then.use);
    if (!isnan(fix->cost)) {
        cy_text_add(out, "; parts to buy ");
        cy_say_money(out, fix->cost);
    }
}
