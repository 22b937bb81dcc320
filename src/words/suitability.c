/* SPDX-License-Identifier: MIT
 * What suits the site, in words: the table, and the reason for each mark. */
#include "words/words.h"

#include <string.h>

/* ---- reasons -------------------------------------------------------------------------------- */

static void say_figure(struct cy_text *out, const struct cy_suitability *table, double value,
                       enum cy_quantity quantity, int decimals)
{
    cy_quantity_show(out, value, quantity, NULL, cy_farm_system(&table->farm), decimals);
}

static void say_years(struct cy_text *out, double share)
{
    cy_text_add(out, "in ");
    cy_quantity_show(out, share, CY_Q_SHARE, "%", CY_US, 0);
    cy_text_add(out, " of the years");
}

static const char *choice_word(const struct cy_thing *thing, enum cy_field field)
{
    int choice = cy_choice(thing, field);
    return choice < 0 ? "" : cy_field_info(field)->choices[choice];
}

/* "hours below 45 F" behind its number: the rule's own word, which begins with what it counts. */
static void say_chill_need(struct cy_text *out, const struct cy_suit_cultivar *cultivar,
                           const struct cy_suitability *table, const struct cy_verdict *verdict)
{
    const struct cy_thing *thing = cy_farm_by_id(&table->farm, cultivar->thing);
    cy_text_add_number(out, verdict->limit);
    cy_text_add_char(out, ' ');
    cy_text_add(out, choice_word(thing, CY_CULTIVAR_CHILL_RULE));
    cy_text_add(out, " are met ");
    say_years(out, verdict->figure);
}

static void say_cold(struct cy_text *out, const struct cy_suitability *table,
                     const struct cy_verdict *verdict)
{
    cy_text_add(out, "winter nights as cold as ");
    say_figure(out, table, verdict->limit, CY_Q_TEMPERATURE, 0);
    if (verdict->reason == CY_SUIT_SAYS_BUDS_KILLED)
        cy_text_add(out, ", which kills half of the buds in mid-November, come ");
    else if (verdict->reason == CY_SUIT_SAYS_CANES_KILLED)
        cy_text_add(out, ", which kills its canes, come ");
    else
        cy_text_add(out, ", which injures canes of its type, come ");
    say_years(out, verdict->figure);
}

static void say_sun(struct cy_text *out, const struct cy_suitability *table,
                    const struct cy_verdict *verdict)
{
    cy_text_add_fixed(out, verdict->figure, 1);
    cy_text_add(out, " hours of direct sun a day, the season's mean; asked for: ");
    cy_text_add_fixed(out, CY_SUNLIGHT_ENOUGH_H, 0);
    cy_text_add(out, " to ");
    cy_text_add_fixed(out, CY_SUNLIGHT_FULL_H, 0);
    const struct cy_thing *site = cy_farm_one(&table->farm, CY_KIND_SITE);
    if (cy_farm_count(&table->farm, CY_KIND_OBSTACLE, site->id) == 0)
        cy_text_add(out, "; no obstacle is described, so an open sky is taken");
}

static void say_held_to(struct cy_text *out, const struct cy_suitability *table,
                        const struct cy_verdict *verdict, int decimals, const char *words)
{
    say_figure(out, table, verdict->figure, verdict->quantity, decimals);
    cy_text_add(out, words);
    say_figure(out, table, verdict->limit, verdict->quantity, decimals);
}

static void say_firmness(struct cy_text *out, const struct cy_suitability *table,
                         const struct cy_suit_cultivar *cultivar, const struct cy_verdict *verdict)
{
    const struct cy_thing *thing = cy_farm_by_id(&table->farm, cultivar->thing);
    cy_text_add(out, choice_word(thing, CY_CULTIVAR_FIRMNESS));
    if (verdict->reason == CY_SUIT_SAYS_FIRM)
        cy_text_add(out, " fruit, which ships and which visitors carry home");
    else if (verdict->reason == CY_SUIT_SAYS_HOLDS_ON_SPOT)
        cy_text_add(out, " fruit, for picking on the spot, as all of it is sold");
    else if (verdict->reason == CY_SUIT_SAYS_HOLDS_SHIPPED)
        cy_text_add(out, " fruit, and some of the crop is sold to be carried away");
    else
        cy_text_add(out, " fruit: better picked on the spot than shipped; the farm does not say "
                         "how it sells");
}

static const char *fixed_words(enum cy_suit_reason reason)
{
    static const char *const words[CY_SUIT_REASON_COUNT] = {
        [CY_SUIT_SAYS_NOT_SAID] = "the farm or the catalogue does not say",
        [CY_SUIT_SAYS_DRAINS_WELL] = "water leaves well",
        [CY_SUIT_SAYS_DRAINS_SLOWLY] = "water leaves slowly: plant on a raised bed of 8 in or more",
        [CY_SUIT_SAYS_DRAINS_POORLY] =
            "water stands: drain it, or plant on a raised bed of 8 in or more",
        [CY_SUIT_SAYS_LEVEL] = "so level that it faces nowhere",
        [CY_SUIT_SAYS_FACES_COOL] = "faces between east and the pole, as is asked for",
        [CY_SUIT_SAYS_FACES_SUN] =
            "faces the noon sun: fruit comes earlier, winter and frost injure more",
        [CY_SUIT_SAYS_FACES_WEST] = "faces west: leaves dry later in the day than on an east slope",
        [CY_SUIT_SAYS_GREW_CLEAN] = "what grew here is no host to the plants' troubles",
        [CY_SUIT_SAYS_GREW_HOST] =
            "what grew here in the last three years shares diseases with blackberries",
        [CY_SUIT_SAYS_GREW_OTHER] = "no advice is known on what grew here",
        [CY_SUIT_SAYS_CHILL_NO_NEED] = "no chill need is published or typed: no verdict",
        [CY_SUIT_SAYS_CHILL_NO_RULE] = "nobody says how its chill need was counted: no verdict",
        [CY_SUIT_SAYS_CHILL_NO_COUNT] =
            "its chill is counted from the first freeze on, and none comes here",
        [CY_SUIT_SAYS_NO_LIMIT] =
            "no cold limit is published or typed for it or its type: no verdict",
        [CY_SUIT_SAYS_NO_BLOOM_HEAT] =
            "nothing better than a guess says when it blooms: no verdict",
        [CY_SUIT_SAYS_NEVER_BLOOMS] = "it blooms in no year here: too little chill or heat",
        [CY_SUIT_SAYS_NO_AUTUMN_CROP] = "fruits on last year's canes only",
        [CY_SUIT_SAYS_FRUITING_UNKNOWN] =
            "nobody knows whether its canes fruit in their first year: no verdict",
        [CY_SUIT_SAYS_THORNLESS] = "thornless",
        [CY_SUIT_SAYS_THORNY_VISITORS] = "thorny, where visitors pick and children with them",
        [CY_SUIT_SAYS_THORNY] = "thorny: gloves and slower picking",
    };
    return words[reason];
}

void cy_say_verdict(struct cy_text *out, const struct cy_suitability *table,
                    const struct cy_suit_cultivar *cultivar, const struct cy_verdict *verdict)
{
    switch (verdict->reason) {
    case CY_SUIT_SAYS_SUN_HOURS:
        say_sun(out, table, verdict);
        break;
    case CY_SUIT_SAYS_SLOPE:
        say_held_to(out, table, verdict, 0,
                    verdict->mark == CY_MARK_GOOD ? ", gentle: not over " : ", steeper than ");
        break;
    case CY_SUIT_SAYS_WILD_AWAY:
        cy_text_add(out, "the nearest stand ");
        say_held_to(out, table, verdict, 0,
                    verdict->mark == CY_MARK_GOOD ? " away, not nearer than "
                                                  : " away, nearer than ");
        break;
    case CY_SUIT_SAYS_CHILL_MET:
        say_chill_need(out, cultivar, table, verdict);
        break;
    case CY_SUIT_SAYS_BUDS_KILLED:
    case CY_SUIT_SAYS_CANES_KILLED:
    case CY_SUIT_SAYS_TYPE_INJURED:
        say_cold(out, table, verdict);
        break;
    case CY_SUIT_SAYS_FLOWERS_FROZEN:
        cy_text_add(out, "a frost takes half of the summer crop's flowers or more ");
        say_years(out, verdict->figure);
        break;
    case CY_SUIT_SAYS_HOT_BLOOM:
        cy_text_add(out, "a week above ");
        say_figure(out, table, verdict->limit, CY_Q_TEMPERATURE, 0);
        cy_text_add(out, " falls into the autumn crop's bloom and drops flowers ");
        say_years(out, verdict->figure);
        break;
    case CY_SUIT_SAYS_RIPE_IN_TIME:
        cy_quantity_show(out, verdict->figure, CY_Q_SHARE, "%", CY_US, 0);
        cy_text_add(out, " of the autumn crop ripens before the killing freeze");
        break;
    case CY_SUIT_SAYS_FIRM:
    case CY_SUIT_SAYS_HOLDS_ON_SPOT:
    case CY_SUIT_SAYS_HOLDS_SHIPPED:
    case CY_SUIT_SAYS_HOLDS_UNSAID:
        say_firmness(out, table, cultivar, verdict);
        break;
    default:
        cy_text_add(out, fixed_words(verdict->reason));
        break;
    }
}

/* ---- the table ------------------------------------------------------------------------------ */

enum { COLUMNS = 80, LEAST_COLUMNS = 40 };

/* Breaks a line at blanks so that it stands within the columns, indented from the second on. */
static void add_wrapped(struct cy_text *out, size_t start, int indent, int columns,
                        const char *words)
{
    while (*words) {
        size_t length = strcspn(words, " ");
        if ((int)(out->length - start) + 1 + (int)length > columns) {
            cy_text_add_char(out, '\n');
            start = out->length;
            cy_text_pad(out, start, indent);
        } else if ((int)(out->length - start) > indent) {
            cy_text_add_char(out, ' ');
        }
        cy_text_add_n(out, words, length);
        words += length;
        words += strspn(words, " ");
    }
}

/* What stands behind a mark where it cannot be ranked on: "fitted here", "from memory". */
static void say_behind(struct cy_text *words, const struct cy_verdict *verdict)
{
    if (!verdict->basis)
        return;
    cy_say_behind(words, verdict->basis);
}

static void say_reason_line(struct cy_text *out, const struct cy_suitability *table,
                            const struct cy_suit_cultivar *cultivar,
                            const struct cy_verdict *verdict, const char *label, int columns)
{
    struct cy_text words = {0};
    size_t start = out->length;
    cy_text_add(out, "  ");
    cy_text_add_fit(out, label, 16, "~");
    cy_text_pad(out, start, 19);
    cy_text_add(out, verdict->mark == CY_MARK_DOES_NOT_APPLY ? "-" : cy_mark_word(verdict->mark));
    cy_text_pad(out, start, 28);
    cy_say_verdict(&words, table, cultivar, verdict);
    say_behind(&words, verdict);
    add_wrapped(out, start, 28, columns, cy_text_get(&words));
    cy_text_add_char(out, '\n');
    out->failed = out->failed || words.failed;
    cy_text_dispose(&words);
}

/* The cultivars' columns. */
static const struct {
    enum cy_suit suit;
    const char *head, *label;
} cells[] = {
    {CY_SUIT_CHILL, "chill", "chill"},
    {CY_SUIT_WINTER, "winter", "winter"},
    {CY_SUIT_FLOWERS, "flowers", "frost, flowers"},
    {CY_SUIT_HEAT, "hot", "heat at bloom"},
    {CY_SUIT_AUTUMN, "autumn", "autumn crop"},
    {CY_SUIT_THORNS, "thorns", "thorns"},
    {CY_SUIT_FIRMNESS, "firm", "firmness"},
};
enum { COLUMN_COUNT = sizeof cells / sizeof *cells, NAME_WIDTH = 19, LEAST_NAME = 8, CELL = 8 };

/* "good*": a figure that is fitted here, or of the type, and so not ranked on. */
static void say_cell(struct cy_text *out, enum cy_suit suit, const struct cy_verdict *verdict)
{
    bool figures = suit < CY_SUIT_THORNS;
    if (verdict->mark == CY_MARK_DOES_NOT_APPLY) {
        cy_text_add(out, "-");
        return;
    }
    cy_text_add(out, cy_mark_word(verdict->mark));
    if (figures && verdict->mark != CY_MARK_NO_DATA && !verdict->ranked)
        cy_text_add(out, "*");
}

static int name_width(int columns)
{
    int narrower = columns < COLUMNS ? COLUMNS - columns : 0;
    return narrower < NAME_WIDTH - LEAST_NAME ? NAME_WIDTH - narrower : LEAST_NAME;
}

static void say_cultivar_row(struct cy_text *out, const struct cy_suit_cultivar *cultivar,
                             int columns, bool ascii)
{
    int width = name_width(columns);
    struct cy_text name = {0};
    size_t start = out->length;
    cy_text_add(out, cultivar->grown ? "+" : " ");
    if (cultivar->rank > 0)
        cy_text_add_int(out, cultivar->rank);
    cy_text_pad(out, start, 4);
    cy_text_add_clean(&name, cultivar->name, strlen(cultivar->name), ascii);
    cy_text_add_fit(out, cy_text_get(&name), width, "~");
    for (int i = 0; i < COLUMN_COUNT; i++) {
        cy_text_pad(out, start, 4 + width + 1 + CELL * i);
        say_cell(out, cells[i].suit, &cultivar->verdicts[cells[i].suit]);
    }
    cy_text_add_char(out, '\n');
    out->failed = out->failed || name.failed;
    cy_text_dispose(&name);
}

void cy_say_suit_table(struct cy_text *out, const struct cy_suitability *table, int columns,
                       bool ascii)
{
    size_t start = out->length;
    cy_text_pad(out, start, 4);
    cy_text_add(out, "cultivar");
    for (int i = 0; i < COLUMN_COUNT; i++) {
        cy_text_pad(out, start, 4 + name_width(columns) + 1 + CELL * i);
        cy_text_add(out, cells[i].head);
    }
    cy_text_add_char(out, '\n');
    for (size_t i = 0; i < table->cultivar_count; i++)
        say_cultivar_row(out, &table->cultivars[i], columns, ascii);
    cy_text_add(out, "\n  + grown here.  * fitted here, or of its type: not ranked on.\n");
    add_wrapped(out, out->length, 0, columns,
                "The number ranks the cultivars that have chill and winter figures of their own, "
                "by the share of years in which the worse of the two does no harm. The others are "
                "not ranked: no data is neither good nor poor.");
    cy_text_add_char(out, '\n');
}

void cy_say_suit_mark(struct cy_text *out, const struct cy_suitability *table,
                      const struct cy_suit_cultivar *cultivar, enum cy_suit suit, int columns)
{
    const char *label = cy_suit_word(suit);
    for (int i = 0; i < COLUMN_COUNT; i++)
        label = cells[i].suit == suit ? cells[i].label : label;
    say_reason_line(out, table, cultivar, cultivar ? &cultivar->verdicts[suit] : &table->site[suit],
                    label, columns < LEAST_COLUMNS ? LEAST_COLUMNS : columns);
}

void cy_say_suit_row_sun(struct cy_text *out, const struct cy_suitability *table, size_t index,
                         int columns, bool ascii)
{
    const struct cy_sunlight_row *row = &table->sun.rows[index];
    struct cy_text words = {0};
    size_t start = out->length;
    for (size_t k = 0; k < index; k++)
        if (table->rows[k].figure == row->mean_h)
            return;
    cy_text_add(out, "  sun at rows");
    cy_text_pad(out, start, 19);
    cy_text_add(out, cy_mark_word(table->rows[index].mark));
    cy_text_pad(out, start, 28);
    cy_text_add_fixed(&words, row->mean_h, 1);
    cy_text_add(&words, " h half way up a row ");
    say_figure(&words, table, row->hedge_m, CY_Q_LENGTH, 1);
    cy_text_add(&words, " high:");
    const char *comma = " ";
    for (size_t k = index; k < table->sun.row_count; k++) {
        if (table->rows[k].figure != row->mean_h)
            continue;
        cy_text_add(&words, comma);
        cy_say_clean(&words, table->sun.rows[k].name, ascii);
        comma = ", ";
    }
    say_behind(&words, &table->rows[index]);
    add_wrapped(out, start, 28, columns < LEAST_COLUMNS ? LEAST_COLUMNS : columns,
                cy_text_get(&words));
    cy_text_add_char(out, '\n');
    out->failed = out->failed || words.failed;
    cy_text_dispose(&words);
}

void cy_say_suit_head(struct cy_text *out, const struct cy_suitability *table, int columns,
                      bool ascii)
{
    const char *name = cy_string(cy_farm_one(&table->farm, CY_KIND_FARM), CY_FARM_NAME);
    const char *place = cy_thing_name(cy_farm_place(&table->farm));
    struct cy_text words = {0};
    name = *name ? name : "This farm";
    cy_text_add_clean(&words, name, strlen(name), ascii);
    cy_text_add(&words, ": what suits its site, judged on season ");
    cy_text_add_int(&words, table->season);
    cy_text_add(&words, " in ");
    cy_text_add_int(&words, table->years);
    cy_text_add(&words, " weathers at ");
    cy_text_add_clean(&words, place, strlen(place), ascii);
    cy_say_behind(&words, table->weather);
    cy_text_add(&words, ".");
    add_wrapped(out, out->length, 0, columns, cy_text_get(&words));
    cy_text_add_char(out, '\n');
    add_wrapped(out, out->length, 0, columns,
                "Good is 9 years of 10 without harm, fair 7 [placeholder]. In brackets: the least "
                "trusted thing behind a mark.");
    cy_text_add_char(out, '\n');
    out->failed = out->failed || words.failed;
    cy_text_dispose(&words);
}

void cy_say_suitability(struct cy_text *out, const struct cy_suitability *table, bool ascii)
{
    cy_say_suit_head(out, table, COLUMNS, ascii);
    cy_text_add(out, "\nSITE\n\n");
    for (int suit = 0; suit < CY_SUIT_OF_CULTIVAR; suit++)
        cy_say_suit_mark(out, table, NULL, (enum cy_suit)suit, COLUMNS);
    for (size_t i = 0; i < table->sun.row_count; i++)
        cy_say_suit_row_sun(out, table, i, COLUMNS, ascii);
    cy_text_add(out, "\nCULTIVARS\n\n");
    cy_say_suit_table(out, table, COLUMNS, ascii);
    cy_text_add(out, "\nREASONS\n");
    for (size_t i = 0; i < table->cultivar_count; i++) {
        const struct cy_suit_cultivar *cultivar = &table->cultivars[i];
        cy_text_add_char(out, '\n');
        cy_text_add_clean(out, cultivar->name, strlen(cultivar->name), ascii);
        cy_text_add_char(out, '\n');
        for (int k = 0; k < COLUMN_COUNT; k++)
            cy_say_suit_mark(out, table, cultivar, cells[k].suit, COLUMNS);
    }
}
