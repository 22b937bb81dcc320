/* SPDX-License-Identifier: MIT
 * caneyear new: a farm from a few questions, or from options. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "main/commands.h"
#include "main/load.h"
#include "main/options.h"

static const char help[] =
    "usage: caneyear new FARM.cane [--place NAME] [--name NAME] [--units us|metric]\n"
    "                [--rows N] [--length L] [--cultivar KEY] [--planted D]\n"
    "Makes a farm. What no option says is asked, where standard input is a terminal; elsewhere it\n"
    "is left out. A place is one of the starter climates, by its key or a part of its name.\n"
    "  --rows N        how many rows, all alike to begin with; 0 if left out\n"
    "  --length L      of a row, with its unit: \"60 ft\"\n"
    "  --cultivar KEY  of the rows\n"
    "  --planted D     when they were or will be set, YYYY-MM-DD\n";

struct answers {
    const char *name, *units, *place, *rows, *length, *cultivar, *planted;
};

/* ---- asking --------------------------------------------------------------------------------- */

#define ANSWER_TEXT 200

/* Keeps what was answered for as long as the verb runs. */
struct asked {
    char text[7][ANSWER_TEXT];
    int count;
};

static void ask(struct asked *asked, const char **answer, const char *question, const char *usual)
{
    char *text = asked->text[asked->count];
    if (*answer)
        return;
    asked->count++;
    printf("%s%s%s%s ", question, usual ? " [" : "", usual ? usual : "", usual ? "]" : "");
    fflush(stdout);
    if (!fgets(text, ANSWER_TEXT, stdin))
        text[0] = '\0';
    text[strcspn(text, "\n")] = '\0';
    *answer = text[0] ? text : usual;
}

static void ask_all(struct asked *asked, struct answers *answers)
{
    ask(asked, &answers->name, "What is the farm called?", NULL);
    ask(asked, &answers->units, "Units, us or metric?", "us");
    ask(asked, &answers->place, "Nearest of the starter climates (a town, or part of its name)?",
        NULL);
    ask(asked, &answers->rows, "How many rows?", "3");
    ask(asked, &answers->length, "How long is a row?", "30 ft");
    ask(asked, &answers->cultivar, "Which cultivar (its key, as natchez; share/cultivars.yaml)?",
        NULL);
    ask(asked, &answers->planted, "Planted on (YYYY-MM-DD; empty if long ago)?", NULL);
}

/* ---- finding the place ---------------------------------------------------------------------- */

static bool contains(const char *text, const char *part)
{
    size_t length = strlen(part);
    for (; strlen(text) >= length; text++)
        if (cy_word_is(text, length, part))
            return true;
    return false;
}

/* The place by its key, else the only one whose name holds the text. Prints what is wrong. */
static const char *place_key(const struct cy_farm *catalogue, const char *text)
{
    const struct cy_thing *found = cy_farm_by_key(catalogue, CY_KIND_PLACE, 0, text);
    if (found)
        return found->key;
    int count = 0;
    struct cy_text list = {0};
    for (const struct cy_thing *place = NULL;
         (place = cy_farm_next(catalogue, CY_KIND_PLACE, 0, place));) {
        bool match = *text && contains(cy_thing_name(place), text);
        if (match) {
            found = place;
            count++;
        }
        cy_text_add(&list, list.length ? ", " : "");
        cy_text_add(&list, place->key);
    }
    if (count != 1) {
        cy_usage("new",
                 !*text  ? "a place must be given"
                 : count ? "more than one place is called"
                         : "no place is called",
                 *text ? text : NULL);
        fprintf(stderr, "the places: %s\n", cy_text_get(&list));
        found = NULL;
    }
    cy_text_dispose(&list);
    return found ? found->key : NULL;
}

/* ---- the farm ------------------------------------------------------------------------------- */

static int set_text(struct cy_farm *farm, int64_t thing, enum cy_field field, const char *text,
                    struct cy_issues *issues)
{
    struct cy_value value = {0};
    if (!text || !*text)
        return CY_OK;
    int status = cy_value_parse(&value, field, text, strlen(text), issues);
    if (status == CY_OK)
        status = cy_farm_set(farm, thing, field, &value);
    cy_value_dispose(&value);
    return status;
}

/* Rows side by side, a row's spacing apart, at the table's own spacing. */
static int add_row(struct cy_farm *farm, int index, const struct answers *answers,
                   struct cy_issues *issues)
{
    char name[32], x[32];
    snprintf(name, sizeof name, "Row %d", index + 1);
    snprintf(x, sizeof x, "%d ft", index * 10);
    struct cy_thing *row = cy_farm_add(farm, CY_KIND_ROW, 0, NULL, name, 0);
    if (!row)
        return CY_NO_MEMORY;
    const struct {
        enum cy_field field;
        const char *text;
    } given[] = {
        {CY_ROW_NAME, name},
        {CY_ROW_X, x},
        {CY_ROW_Y, "0 ft"},
        {CY_ROW_LENGTH, answers->length ? answers->length : "30 ft"},
        {CY_ROW_CULTIVAR, answers->cultivar},
        {CY_ROW_PLANTED, answers->planted},
    };
    int status = CY_OK;
    for (size_t i = 0; status == CY_OK && i < sizeof given / sizeof *given; i++)
        status = set_text(farm, row->id, given[i].field, given[i].text, issues);
    return status;
}

static int build(struct cy_farm *farm, const struct answers *answers, const char *place, int rows,
                 struct cy_issues *issues)
{
    int status = cy_farm_init(farm);
    if (status != CY_OK)
        return status;
    int64_t root = cy_farm_one(farm, CY_KIND_FARM)->id;
    int64_t site = cy_farm_one(farm, CY_KIND_SITE)->id;
    status = set_text(farm, root, CY_FARM_NAME, answers->name, issues);
    if (status == CY_OK)
        status = set_text(farm, root, CY_FARM_UNITS, answers->units, issues);
    if (status == CY_OK)
        status = set_text(farm, site, CY_SITE_PLACE, place, issues);
    for (int i = 0; status == CY_OK && i < rows; i++)
        status = add_row(farm, i, answers, issues);
    return status;
}

static int make(const char *path, const struct answers *answers, int rows)
{
    struct cy_loaded loaded;
    struct cy_issues issues = {0};
    char author[CY_AUTHOR_TEXT];
    if (!cy_load_catalogue(&loaded))
        return EXIT_INPUT;
    const char *place = place_key(&loaded.catalogue, answers->place ? answers->place : "");
    if (!place) {
        cy_loaded_dispose(&loaded);
        return EXIT_USAGE;
    }
    cy_file_author(author);
    int status = build(&loaded.yaml, answers, place, rows, &issues);
    if (status == CY_OK)
        status = cy_farm_lend(&loaded.yaml, &loaded.catalogue);
    if (status == CY_OK)
        status = cy_farm_check(&loaded.yaml, &issues);
    if (status == CY_OK)
        status =
            cy_file_create(&loaded.file, path, &loaded.yaml, author, &loaded.catalogue, &issues);
    if (status == CY_OK)
        printf("%d rows at %s in %s\n", rows, place, path);
    else
        cy_print_issues(&issues);
    cy_loaded_dispose(&loaded);
    return status == CY_OK ? 0 : EXIT_INPUT;
}

int cy_main_new(int argc, char **argv)
{
    struct answers answers = {0};
    struct asked asked = {0};
    bool wants_help = false;
    const struct cy_option options[] = {
        {"--name", NULL, &answers.name, NULL},
        {"--units", NULL, &answers.units, NULL},
        {"--place", NULL, &answers.place, NULL},
        {"--rows", NULL, &answers.rows, NULL},
        {"--length", NULL, &answers.length, NULL},
        {"--cultivar", NULL, &answers.cultivar, NULL},
        {"--planted", NULL, &answers.planted, NULL},
        {"--help", "-h", NULL, &wants_help},
        {NULL, NULL, NULL, NULL},
    };
    int count = cy_options_read("new", argc, argv, options);
    if (count < 0)
        return EXIT_USAGE;
    if (wants_help) {
        fputs(help, stdout);
        return 0;
    }
    if (count != 1)
        return cy_usage("new", "name one farm file to make", NULL);
    if (!answers.place && isatty(STDIN_FILENO))
        ask_all(&asked, &answers);
    char *end;
    long rows = answers.rows ? strtol(answers.rows, &end, 10) : 0;
    if (rows < 0 || rows > 10000 || (answers.rows && (end == answers.rows || *end)))
        return cy_usage("new", "a farm has 0 to 10000 rows, not", answers.rows);
    return make(argv[0], &answers, (int)rows);
}
