/* SPDX-License-Identifier: MIT
 * caneyear pencil: one calculation from the command line. */
#include "main/commands.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <caneyear/base/json.h>
#include <caneyear/base/text.h>
#include <caneyear/pencil/pencil.h>
#include <caneyear/season/traits.h>

#include "main/load.h"
#include "store/series_read.h"
#include "words/words.h"

enum { COLUMNS = 78, LABEL = 18, FIGURES = 6 };

enum form { FORM_TEXT, FORM_JSON };

struct request {
    const char *name;
    const char *words[CY_PENCIL_WORDS];
    size_t count;
    enum form form;
    enum cy_system system;
    bool help;
};

/* ---- numbers for the eye -------------------------------------------------------------------- */

static double convert(double value, enum cy_pencil_unit unit, enum cy_system system)
{
    struct cy_text text = {0};
    double inside = value;
    enum cy_quantity quantity = cy_pencil_quantity(unit);
    if (system == CY_METRIC || !isfinite(value))
        return value;
    cy_text_add_number(&text, value);
    cy_quantity_parse(&inside, cy_text_get(&text), text.length, quantity,
                      cy_pencil_unit_bare(unit));
    cy_text_dispose(&text);
    return cy_quantity_in(inside, quantity, cy_pencil_unit_us(unit));
}

/* Six figures that count, without zeros behind the last. */
static void add_figures(struct cy_text *text, double value)
{
    double size = fabs(value);
    int decimals = size > 0 ? FIGURES - 1 - (int)floor(log10(size)) : 0;
    if (decimals > 9 || !isfinite(value)) {
        cy_text_add_number(text, value);
        return;
    }
    struct cy_text figures = {0};
    cy_text_add_fixed(&figures, value, decimals < 0 ? 0 : decimals);
    size_t length = figures.length;
    while (decimals > 0 && figures.data && figures.data[length - 1] == '0')
        length--;
    if (decimals > 0 && figures.data && figures.data[length - 1] == '.')
        length--;
    cy_text_add_n(text, cy_text_get(&figures), length);
    cy_text_dispose(&figures);
}

static const char *unit_word(enum cy_pencil_unit unit, enum cy_system system)
{
    if (cy_pencil_quantity(unit) == CY_Q_NUMBER)
        return "";
    return system == CY_US ? cy_pencil_unit_us(unit) : cy_pencil_unit_shown(unit);
}

static void add_value(struct cy_text *text, double value, enum cy_pencil_unit unit,
                      enum cy_system system)
{
    const char *word = unit_word(unit, system);
    add_figures(text, convert(value, unit, system));
    if (word[0] && !cy_streq(word, "share")) {
        cy_text_add_char(text, ' ');
        cy_text_add(text, word);
    }
}

/* ---- lines ---------------------------------------------------------------------------------- */

static void add_label(struct cy_text *text, const char *label, int column)
{
    size_t start = text->length;
    cy_text_add(text, label);
    cy_text_pad(text, start, column - 1);
    cy_text_add_char(text, ' ');
}

/* A label and words behind it, folded at blanks. */
static void add_folded(struct cy_text *text, const char *label, int column, const char *words)
{
    int used = column;
    add_label(text, label, column);
    while (*words) {
        int length = (int)strcspn(words, " ");
        if (used > column && used + 1 + length > COLUMNS) {
            cy_text_add_char(text, '\n');
            add_label(text, "", column);
            used = column;
        } else if (used > column) {
            cy_text_add_char(text, ' ');
            used++;
        }
        cy_text_add_n(text, words, (size_t)length);
        used += length;
        words += length;
        words += strspn(words, " ");
    }
    cy_text_add_char(text, '\n');
}

static void add_basis(struct cy_text *text, const struct cy_pencil_calculation *calculation)
{
    add_folded(text, "formula", 9, calculation->formula);
    add_folded(text, "source", 9, calculation->source);
    add_folded(text, "range", 9, calculation->range);
    if (calculation->caution)
        add_folded(text, "caution", 9, calculation->caution);
}

/* ---- what a calculation takes --------------------------------------------------------------- */

static void add_bounds(struct cy_text *text, const struct cy_pencil_argument *argument,
                       enum cy_system system)
{
    const char *word = unit_word(argument->unit, system);
    add_figures(text, convert(argument->low, argument->unit, system));
    cy_text_add(text, " to ");
    add_figures(text, convert(argument->high, argument->unit, system));
    if (word[0] && !cy_streq(word, "share")) {
        cy_text_add_char(text, ' ');
        cy_text_add(text, word);
    }
}

static void add_argument(struct cy_text *text, const struct cy_pencil_argument *argument,
                         enum cy_system system)
{
    struct cy_text label = {0}, words = {0};
    cy_text_add(&label, "  ");
    cy_text_add(&label, argument->name);
    cy_text_add(&label, "=");
    cy_text_add(&words, argument->help);
    cy_text_add(&words, "; ");
    if (argument->kind == CY_PENCIL_REAL || argument->kind == CY_PENCIL_WHOLE ||
        argument->kind == CY_PENCIL_LIST)
        add_bounds(&words, argument, system);
    else
        cy_text_add(&words,
                    argument->choices ? argument->choices : cy_pencil_kind_form(argument->kind));
    if (argument->repeats)
        cy_text_add(&words, "; may be repeated");
    if (argument->required) {
        cy_text_add(&words, "; must be given");
    } else if (argument->fallback) {
        const char *unit = unit_word(argument->unit, CY_METRIC);
        cy_text_add(&words, "; otherwise ");
        cy_text_add(&words, argument->fallback);
        cy_text_add(&words, unit[0] ? " " : "");
        cy_text_add(&words, cy_streq(unit, "share") ? "" : unit);
    }
    add_folded(text, cy_text_get(&label), LABEL, cy_text_get(&words));
    cy_text_dispose(&label);
    cy_text_dispose(&words);
}

static void add_help(struct cy_text *text, const struct cy_pencil_calculation *calculation,
                     enum cy_system system)
{
    cy_text_add(text, "caneyear pencil ");
    cy_text_add(text, calculation->name);
    cy_text_add(text, " key=value... [--units us|metric] [--json]\n");
    add_folded(text, "", 1, calculation->what);
    cy_text_add_char(text, '\n');
    for (size_t i = 0; i < calculation->count; i++)
        add_argument(text, &calculation->arguments[i], system);
    cy_text_add(text, "\nA value may carry a unit (10ft, 250lbf, 40F, 40dF); a bare number is in "
                      "the\nunit shown with --units metric.\n\n");
    add_basis(text, calculation);
}

static void add_list(struct cy_text *text)
{
    const struct cy_pencil_calculation *calculation;
    const char *subject = "";
    cy_text_add(text, "usage: caneyear pencil NAME key=value... [--units us|metric] [--json]\n"
                      "       caneyear pencil NAME --help\n");
    for (size_t i = 0; (calculation = cy_pencil_at(i)); i++) {
        if (!cy_streq(subject, calculation->subject)) {
            subject = calculation->subject;
            cy_text_add_char(text, '\n');
            cy_text_add(text, subject);
            cy_text_add_char(text, '\n');
        }
        size_t start = text->length;
        cy_text_add(text, "  ");
        cy_text_add(text, calculation->name);
        cy_text_pad(text, start, LABEL);
        cy_text_add_char(text, ' ');
        cy_text_add(text, calculation->what);
        cy_text_add_char(text, '\n');
    }
}

/* ---- the answer as text --------------------------------------------------------------------- */

static void add_input(struct cy_text *text, const struct cy_pencil_argument *argument,
                      const struct cy_pencil_value *value, const char *word, enum cy_system system)
{
    struct cy_text label = {0};
    cy_text_add(&label, "  ");
    cy_text_add(&label, argument->name);
    add_label(text, cy_text_get(&label), LABEL);
    cy_text_dispose(&label);
    if (argument->kind == CY_PENCIL_REAL || argument->kind == CY_PENCIL_WHOLE) {
        add_value(text, value->number, argument->unit, system);
    } else if (argument->kind == CY_PENCIL_LIST) {
        cy_text_add_int(text, (long long)value->count);
        cy_text_add(text, " figures");
    } else {
        cy_text_add_clean(text, word, strlen(word), cy_locale_is_ascii());
    }
    cy_text_add(text, value->is_fallback ? "  (default)\n" : "\n");
}

static void add_inputs(struct cy_text *text, const struct cy_pencil_inputs *in,
                       enum cy_system system)
{
    for (size_t i = 0; i < in->calculation->count; i++) {
        const struct cy_pencil_argument *argument = &in->calculation->arguments[i];
        if (!in->values[i].given)
            continue;
        if (!argument->repeats)
            add_input(text, argument, &in->values[i], in->values[i].text, system);
        for (size_t k = 0; k < in->word_count && argument->repeats; k++)
            if (in->words[k].argument == i)
                add_input(text, argument, &in->values[i], in->words[k].text, system);
    }
}

static void add_answer(struct cy_text *text, const struct cy_pencil_inputs *in,
                       const struct cy_pencil_result *result, enum cy_system system)
{
    const struct cy_pencil_calculation *calculation = in->calculation;
    cy_text_add(text, calculation->name);
    cy_text_add(text, ": ");
    cy_text_add(text, calculation->what);
    cy_text_add(text, "\n\n");
    add_inputs(text, in, system);
    cy_text_add_char(text, '\n');
    add_label(text, "result", LABEL);
    add_value(text, result->value, result->unit, system);
    cy_text_add(text, calculation->counted ? " " : "");
    cy_text_add(text, calculation->counted ? calculation->counted : "");
    cy_text_add_char(text, '\n');
    for (size_t i = 0; i < result->count; i++) {
        const struct cy_pencil_also *also = &result->also[i];
        struct cy_text label = {0};
        cy_text_add(&label, "  ");
        cy_text_add(&label, also->name);
        add_label(text, cy_text_get(&label), LABEL);
        cy_text_dispose(&label);
        add_value(text, also->value, also->unit, system);
        if (also->day != CY_DAY_NONE) {
            cy_text_add(text, "  ");
            cy_text_add_day(text, also->day);
        }
        cy_text_add_char(text, '\n');
    }
    cy_text_add_char(text, '\n');
    add_basis(text, calculation);
    if (result->note[0])
        add_folded(text, "note", 9, result->note);
}

/* ---- the answer as JSON --------------------------------------------------------------------- */

static void put_value(struct cy_json *json, const struct cy_pencil_argument *argument,
                      const struct cy_pencil_value *value)
{
    switch (argument->kind) {
    case CY_PENCIL_REAL:
    case CY_PENCIL_WHOLE:
        cy_json_number(json, value->number);
        break;
    case CY_PENCIL_LIST:
        cy_json_array(json);
        for (size_t i = 0; i < value->count; i++)
            cy_json_number(json, value->list[i]);
        cy_json_end_array(json);
        break;
    default:
        cy_json_string(json, value->text);
        break;
    }
}

static void put_inputs(struct cy_json *json, const struct cy_pencil_inputs *in)
{
    cy_json_object(json);
    for (size_t i = 0; i < in->calculation->count; i++) {
        const struct cy_pencil_argument *argument = &in->calculation->arguments[i];
        if (!in->values[i].given)
            continue;
        cy_json_key(json, argument->name);
        if (!argument->repeats) {
            put_value(json, argument, &in->values[i]);
            continue;
        }
        cy_json_array(json);
        for (size_t k = 0; k < in->word_count; k++)
            if (in->words[k].argument == i)
                cy_json_string(json, in->words[k].text);
        cy_json_end_array(json);
    }
    cy_json_end_object(json);
}

static void add_json(struct cy_text *text, const struct cy_pencil_inputs *in,
                     const struct cy_pencil_result *result)
{
    const struct cy_pencil_calculation *calculation = in->calculation;
    struct cy_json json;
    cy_json_begin(&json, text);
    cy_json_object(&json);
    cy_json_key(&json, "name");
    cy_json_string(&json, calculation->name);
    cy_json_key(&json, "inputs");
    put_inputs(&json, in);
    cy_json_key(&json, "result");
    cy_json_number(&json, result->value);
    cy_json_key(&json, "unit");
    cy_json_string(&json, calculation->counted ? calculation->counted
                                               : cy_pencil_unit_shown(result->unit));
    cy_json_key(&json, "also");
    cy_json_object(&json);
    for (size_t i = 0; i < result->count; i++) {
        cy_json_key(&json, result->also[i].name);
        cy_json_number(&json, result->also[i].value);
    }
    cy_json_end_object(&json);
    cy_json_key(&json, "formula");
    cy_json_string(&json, calculation->formula);
    cy_json_key(&json, "source");
    cy_json_string(&json, calculation->source);
    cy_json_key(&json, "range");
    cy_json_string(&json, calculation->range);
    cy_json_end_object(&json);
    cy_text_add_char(text, '\n');
}

/* ---- complaints ------------------------------------------------------------------------------ */

static int usage(const char *found, const char *allowed)
{
    struct cy_text text = {0};
    cy_text_add(&text, "caneyear pencil: ");
    cy_text_add_clean(&text, found, strlen(found), cy_locale_is_ascii());
    cy_text_add(&text, "; allowed: ");
    cy_text_add(&text, allowed);
    fprintf(stderr, "%s\n", cy_text_get(&text));
    cy_text_dispose(&text);
    return EXIT_USAGE;
}

/* ---- running -------------------------------------------------------------------------------- */

static int print(struct cy_text *text)
{
    bool good = !text->failed;
    if (good)
        fputs(cy_text_get(text), stdout);
    else
        fputs("caneyear pencil: out of memory\n", stderr);
    cy_text_dispose(text);
    return good ? 0 : EXIT_INPUT;
}

/* Usage gets one line, a file one for each thing that is wrong with it. */
static int complain(const struct cy_issues *issues, int status)
{
    size_t lines = status == CY_INVALID ? 1 : issues->count;
    for (size_t i = 0; i < lines && i < issues->count; i++) {
        struct cy_text text = {0};
        cy_say_issue(&text, &issues->items[i], cy_locale_is_ascii());
        fprintf(stderr, "caneyear pencil: %s\n", cy_text_get(&text));
        cy_text_dispose(&text);
    }
    if (issues->dropped > 0 && lines > 1)
        fprintf(stderr, "caneyear pencil: and %zu more\n", issues->dropped);
    if (issues->count == 0)
        fputs("caneyear pencil: out of memory\n", stderr);
    return status == CY_INVALID ? EXIT_USAGE : EXIT_INPUT;
}

/* CY_OK without a file too; whatever is wrong with one is CY_FAILED. */
static int read_series(struct cy_series *out, const struct cy_pencil_inputs *in,
                       struct cy_issues *issues)
{
    const char *path = cy_pencil_named(in, CY_PENCIL_FILE);
    *out = (struct cy_series){0};
    if (path && cy_series_read(out, path, NULL, issues) != CY_OK)
        return CY_FAILED;
    return CY_OK;
}

/* ---- what the catalogue says ---------------------------------------------------------------- */

struct looked_up {
    struct cy_loaded loaded; /* lends the cultivar its sources */
    struct cy_traits cultivar;
    struct cy_pencil_place place;
    bool has_cultivar, has_place;
};

/* By key, or by the name that is sold or printed, letter case ignored. */
static const struct cy_thing *find_thing(const struct cy_farm *catalogue, enum cy_kind kind,
                                         const char *word)
{
    const struct cy_thing *thing = NULL;
    while ((thing = cy_farm_next(catalogue, kind, 0, thing)))
        if (cy_word_is(word, strlen(word), thing->key) ||
            cy_word_is(word, strlen(word), cy_thing_name(thing)))
            return thing;
    return NULL;
}

static int no_such(const struct cy_pencil_inputs *in, const struct cy_farm *catalogue,
                   enum cy_kind kind, const char *word)
{
    struct cy_text found = {0}, keys = {0};
    const struct cy_thing *thing = NULL;
    cy_text_add(&found, in->calculation->name);
    cy_text_add(&found,
                kind == CY_KIND_PLACE ? ": no place is called " : ": no cultivar is called ");
    cy_text_add(&found, word);
    while ((thing = cy_farm_next(catalogue, kind, 0, thing))) {
        cy_text_add(&keys, keys.length > 0 ? ", " : "");
        cy_text_add(&keys, thing->key);
    }
    int status = usage(cy_text_get(&found), cy_text_get(&keys));
    cy_text_dispose(&found);
    cy_text_dispose(&keys);
    return status;
}

/* An exit status after a line on standard error, or 0. */
static int look_up(struct looked_up *out, const struct cy_pencil_inputs *in)
{
    const char *cultivar = cy_pencil_named(in, CY_PENCIL_CULTIVAR);
    const char *place = cy_pencil_named(in, CY_PENCIL_PLACE);
    const struct cy_thing *thing;
    cy_basis basis;
    *out = (struct looked_up){0};
    if (!cultivar && !place)
        return 0;
    if (!cy_load_catalogue(&out->loaded))
        return EXIT_INPUT;
    const struct cy_farm *catalogue = &out->loaded.catalogue;
    if (cultivar) {
        if (!(thing = find_thing(catalogue, CY_KIND_CULTIVAR, cultivar)))
            return no_such(in, catalogue, CY_KIND_CULTIVAR, cultivar);
        cy_cultivar_traits(&out->cultivar, thing);
        out->has_cultivar = true;
    }
    if (place) {
        thing = find_thing(catalogue, CY_KIND_PLACE, place);
        if (!thing || cy_place_normals(&out->place.normals, &basis, catalogue, thing) != CY_OK)
            return no_such(in, catalogue, CY_KIND_PLACE, place);
        out->place.latitude_deg = cy_number(thing, CY_PLACE_LATITUDE);
        out->has_place = true;
    }
    return 0;
}

/* CY_OK with the answer in `text`, or a status with its issues. */
static int work_out(struct cy_text *text, const struct request *request,
                    const struct cy_pencil_inputs *in, const struct looked_up *looked_up,
                    struct cy_issues *issues)
{
    struct cy_pencil_result result;
    struct cy_series series;
    int status = read_series(&series, in, issues);
    struct cy_pencil_hours hours = {series.first, series.days, series.temp_c};
    struct cy_pencil_series given = {
        .daily = series.daily.days > 0 ? &series.daily : NULL,
        .hourly = series.is_hourly ? &hours : NULL,
        .cultivar = looked_up->has_cultivar ? &looked_up->cultivar : NULL,
        .place = looked_up->has_place ? &looked_up->place : NULL,
    };
    if (status == CY_OK)
        status = cy_pencil_run(&result, in, &given, issues);
    if (status == CY_OK && request->form == FORM_JSON)
        add_json(text, in, &result);
    else if (status == CY_OK)
        add_answer(text, in, &result, request->system);
    cy_series_dispose(&series);
    return status;
}

static int run(const struct request *request, const struct cy_pencil_calculation *calculation)
{
    struct cy_issues issues = {0};
    struct cy_pencil_inputs in;
    struct looked_up looked_up;
    struct cy_text text = {0};
    int status = cy_pencil_read(&in, calculation, request->words, request->count, &issues);
    if (status != CY_OK)
        return complain(&issues, status);
    int ended = look_up(&looked_up, &in);
    if (ended == 0)
        status = work_out(&text, request, &in, &looked_up, &issues);
    cy_pencil_inputs_dispose(&in);
    cy_loaded_dispose(&looked_up.loaded);
    if (ended != 0)
        return ended;
    return status == CY_OK ? print(&text) : complain(&issues, status);
}

/* ---- the command line ----------------------------------------------------------------------- */

static int unknown(const char *name)
{
    const struct cy_pencil_calculation *calculation;
    struct cy_text names = {0}, found = {0};
    cy_text_add(&found, "no calculation is called ");
    cy_text_add(&found, name);
    for (size_t i = 0; (calculation = cy_pencil_at(i)); i++) {
        cy_text_add(&names, i ? ", " : "");
        cy_text_add(&names, calculation->name);
    }
    int status = usage(cy_text_get(&found), cy_text_get(&names));
    cy_text_dispose(&names);
    cy_text_dispose(&found);
    return status;
}

static bool take_units(struct request *request, const char *word)
{
    if (!word || !(cy_streq(word, "us") || cy_streq(word, "metric")))
        return false;
    request->system = cy_streq(word, "us") ? CY_US : CY_METRIC;
    return true;
}

static int read_request(struct request *out, int argc, char **argv)
{
    *out = (struct request){.system = CY_METRIC};
    for (int i = 0; i < argc; i++) {
        const char *word = argv[i];
        if (cy_streq(word, "--json")) {
            out->form = FORM_JSON;
        } else if (cy_streq(word, "--help") || cy_streq(word, "-h")) {
            out->help = true;
        } else if (cy_streq(word, "--units") || strncmp(word, "--units=", 8) == 0) {
            if (!take_units(out, word[7] ? word + 8 : ++i < argc ? argv[i] : NULL))
                return usage("--units needs a word", "us, metric");
        } else if (word[0] == '-') {
            return usage(word, "--units us, --units metric, --json, --help");
        } else if (!out->name) {
            out->name = word;
        } else if (out->count == CY_PENCIL_WORDS) {
            return usage("too many arguments", "64");
        } else {
            out->words[out->count++] = word;
        }
    }
    return 0;
}

int cy_main_pencil(int argc, char **argv)
{
    struct request request;
    struct cy_text text = {0};
    int status = read_request(&request, argc, argv);
    if (status)
        return status;
    if (!request.name) {
        add_list(&text);
        return print(&text);
    }
    const struct cy_pencil_calculation *calculation = cy_pencil_find(request.name);
    if (!calculation)
        return unknown(request.name);
    if (request.help) {
        add_help(&text, calculation, request.system);
        return print(&text);
    }
    return run(&request, calculation);
}
