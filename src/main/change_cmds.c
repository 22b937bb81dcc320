/* SPDX-License-Identifier: MIT
 * caneyear set, note, done, undo, redo: one step or record from the shell. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <caneyear/base/array.h>
#include <caneyear/season/edit.h>

#include "main/commands.h"
#include "main/load.h"
#include "main/options.h"
#include "words/words.h"

static const char set_help[] =
    "usage: caneyear set FARM.cane ADDRESS VALUE\n"
    "       caneyear set FARM.cane ADDRESS --clear\n"
    "Changes one value: an address is kind.key.field, as in row.north-1.spacing \"4 ft\",\n"
    "site.slope 4, trellis.tall.wire.wire-1.height \"5 ft\". Units are understood.\n"
    "  --clear  empty the field, so that its default counts again\n";

static const char note_help[] =
    "usage: caneyear note FARM.cane ROW WHAT [--day D] [--height H] [--count N] [--killed S]\n"
    "                [--low T] [--text T] [--corrects KEY]\n"
    "       caneyear note FARM.cane [ROW] rain --depth D [--zone ZONE] [--day D]\n"
    "       caneyear note FARM.cane [ROW] \"water given\" [--zone ZONE] [--day D]\n"
    "                (--depth D | --volume V | --ran TIME)\n"
    "Notes what was seen of a row. WHAT is one of: emergence, \"bud break\", \"first bloom\",\n"
    "\"full bloom\", \"first ripe\", \"last ripe\", \"autumn bloom\", \"autumn first ripe\",\n"
    "\"cane height\" (with --height), \"cane count\" (with --count), \"frost kill\" (with "
    "--killed),\n"
    "\"night low\" (with --low), other (with --text), rain, \"water given\". A wrong note is\n"
    "corrected by another that names it: --corrects.\n"
    "Rain is the day's in the gauge and counts in place of the station's: on the whole farm, or\n"
    "on the ROW or ZONE named. Water given counts on its row or on all rows of its zone: its\n"
    "depth over the wetted strip, its volume in all, or how long the drip line ran.\n"
    "  --day D     the day it was seen, YYYY-MM-DD; else today\n";

static const char done_help[] =
    "usage: caneyear done FARM.cane JOB ROW [--day D] [--hours H] [--season Y] [--round N]\n"
    "                [--text T] [--corrects KEY]\n"
    "       caneyear done FARM.cane JOB.ROW.SEASON[.ROUND] [...]\n"
    "Marks a job done in a row. JOB is its key, as `plan` and `plan --json` give it.\n"
    "  --day D     the day it was done, YYYY-MM-DD; else today\n";

static const char undo_help[] =
    "usage: caneyear undo FARM.cane\n"
    "       caneyear redo FARM.cane\n"
    "Takes your own last change back, or makes it again. Notes and work done are records: they\n"
    "are corrected by a new one, never undone.\n";

/* Opens the farm file of a verb that writes; prints what is wrong. */
static bool open_to_write(struct cy_loaded *out, const char *path)
{
    struct cy_issues issues = {0};
    if (!cy_load_file(out, path))
        return false;
    if (!cy_file_read_only(out->file))
        return true;
    cy_issue_say(&issues, CY_ISSUE_READ_ONLY, "", "", "", "");
    cy_copy(issues.items[0].file, sizeof issues.items[0].file, path);
    cy_print_issues(&issues);
    cy_loaded_dispose(out);
    return false;
}

static int finish(struct cy_loaded *loaded, int status, const struct cy_issues *issues)
{
    if (status != CY_OK)
        cy_print_issues(issues);
    cy_loaded_dispose(loaded);
    return status == CY_OK ? 0 : EXIT_INPUT;
}

/* ---- set ------------------------------------------------------------------------------------ */

static void name_thing(struct cy_issue *issue, const struct cy_farm *farm, int64_t thing)
{
    struct cy_text name = {0};
    cy_thing_print(&name, farm, cy_farm_by_id(farm, thing));
    cy_copy(issue->thing, sizeof issue->thing, cy_text_get(&name));
    cy_text_dispose(&name);
}

static int set_value(struct cy_loaded *loaded, const char *address, const char *text,
                     struct cy_issues *issues)
{
    int64_t thing;
    enum cy_field field;
    struct cy_value value = {0};
    struct cy_step step = {0};
    cy_file_author(step.author);
    int status = cy_farm_address(loaded->farm, address, &thing, &field, issues);
    if (status == CY_OK && field == CY_FIELD_NONE) {
        cy_issue_say(issues, CY_ISSUE_NO_SUCH_FIELD, address, "", address,
                     "an address that ends in a field");
        status = CY_INVALID;
    }
    if (status == CY_OK && text) {
        status = cy_value_parse(&value, field, text, strlen(text), issues);
        if (status == CY_INVALID)
            name_thing(&issues->items[0], loaded->farm, thing);
    }
    if (status == CY_OK)
        status = cy_step_set(&step, loaded->farm, thing, field, &value);
    if (status == CY_OK)
        status = cy_file_step(loaded->file, &step, issues);
    cy_value_dispose(&value);
    cy_step_dispose(&step);
    return status;
}

int cy_main_set(int argc, char **argv)
{
    bool wants_help = false, clear = false;
    const struct cy_option options[] = {
        {"--clear", NULL, NULL, &clear},
        {"--help", "-h", NULL, &wants_help},
        {NULL, NULL, NULL, NULL},
    };
    /* A value may begin with a minus: what follows the address is never an option but --clear. */
    int count = argc;
    if (argc != 3 || strcmp(argv[2], "--clear") == 0)
        count = cy_options_read("set", argc, argv, options);
    if (count < 0)
        return EXIT_USAGE;
    if (wants_help) {
        fputs(set_help, stdout);
        return 0;
    }
    if (count != (clear ? 2 : 3))
        return cy_usage("set", "give a farm file, an address and a value; see --help", NULL);
    struct cy_loaded loaded;
    struct cy_issues issues = {0};
    if (!open_to_write(&loaded, argv[0]))
        return EXIT_INPUT;
    return finish(&loaded, set_value(&loaded, argv[1], clear ? NULL : argv[2], &issues), &issues);
}

/* ---- records -------------------------------------------------------------------------------- */

struct given_field {
    enum cy_field field;
    const char *text; /* NULL: left out */
};

static int parse_fields(struct cy_value *values, int first_field, const struct given_field *given,
                        size_t count, struct cy_issues *issues)
{
    int status = CY_OK;
    for (size_t i = 0; i < count; i++) {
        if (!given[i].text)
            continue;
        int one = cy_value_parse(&values[given[i].field - first_field], given[i].field,
                                 given[i].text, strlen(given[i].text), issues);
        status = one != CY_OK ? one : status;
    }
    return status;
}

static int add_record(struct cy_loaded *loaded, enum cy_kind kind, const struct given_field *given,
                      size_t count, struct cy_issues *issues)
{
    const struct cy_kind_info *info = cy_kind_info(kind);
    char author[CY_AUTHOR_TEXT];
    struct cy_value *values = cy_zeroed((size_t)info->field_count, sizeof *values);
    if (!values)
        return CY_NO_MEMORY;
    cy_file_author(author);
    int status = parse_fields(values, info->first_field, given, count, issues);
    if (status == CY_OK)
        status = cy_file_record(loaded->file, kind, author, values, issues);
    for (int i = 0; i < info->field_count; i++)
        cy_value_dispose(&values[i]);
    free(values);
    return status;
}

static bool is_sight_of_water(const char *word)
{
    const struct cy_field_info *info = cy_field_info(CY_SEEN_WHAT);
    return cy_word_is(word, strlen(word), info->choices[CY_SIGHT_RAIN]) ||
           cy_word_is(word, strlen(word), info->choices[CY_SIGHT_GIVEN]);
}

int cy_main_note(int argc, char **argv)
{
    const char *day = NULL, *height = NULL, *canes = NULL, *killed = NULL, *low = NULL;
    const char *text = NULL, *corrects = NULL;
    const char *zone = NULL, *depth = NULL, *volume = NULL, *ran = NULL;
    bool wants_help = false;
    const struct cy_option options[] = {
        {"--day", NULL, &day, NULL},
        {"--height", NULL, &height, NULL},
        {"--zone", NULL, &zone, NULL},
        {"--depth", NULL, &depth, NULL},
        {"--volume", NULL, &volume, NULL},
        {"--ran", NULL, &ran, NULL},
        {"--count", NULL, &canes, NULL},
        {"--killed", NULL, &killed, NULL},
        {"--low", NULL, &low, NULL},
        {"--text", NULL, &text, NULL},
        {"--corrects", NULL, &corrects, NULL},
        {"--help", "-h", NULL, &wants_help},
        {NULL, NULL, NULL, NULL},
    };
    int count = cy_options_read("note", argc, argv, options);
    if (count < 0)
        return EXIT_USAGE;
    if (wants_help) {
        fputs(note_help, stdout);
        return 0;
    }
    cy_day seen;
    char day_text[CY_DAY_TEXT];
    /* Rain and water given need name no row. */
    bool of_water = count == 2 && is_sight_of_water(argv[1]);
    if (count != 3 && !of_water)
        return cy_usage("note", "give a farm file, a row and what was seen; see --help", NULL);
    if (!cy_day_wanted(&seen, "note", day))
        return EXIT_USAGE;
    const struct given_field given[] = {
        {CY_SEEN_DAY, cy_day_print(day_text, seen)},
        {CY_SEEN_ROW, of_water ? NULL : argv[1]},
        {CY_SEEN_WHAT, argv[count - 1]},
        {CY_SEEN_ZONE, zone},
        {CY_SEEN_DEPTH, depth},
        {CY_SEEN_VOLUME, volume},
        {CY_SEEN_RAN, ran},
        {CY_SEEN_HEIGHT, height},
        {CY_SEEN_COUNT, canes},
        {CY_SEEN_KILL, killed},
        {CY_SEEN_LOW, low},
        {CY_SEEN_TEXT, text},
        {CY_SEEN_CORRECTS, corrects},
    };
    struct cy_loaded loaded;
    struct cy_issues issues = {0};
    if (!open_to_write(&loaded, argv[0]))
        return EXIT_INPUT;
    int status = add_record(&loaded, CY_KIND_SEEN, given, sizeof given / sizeof *given, &issues);
    if (status == CY_OK)
        cy_warn_ahead("note", seen);
    return finish(&loaded, status, &issues);
}

/* Splits "JOB.ROW.SEASON[.ROUND]" in place. Keys hold no dots. */
static bool split_job(char *key, char *parts[4])
{
    int count = 0;
    memset(parts, 0, 4 * sizeof *parts);
    for (char *part = key; part && count < 4; count++) {
        parts[count] = part;
        part = strchr(part, '.');
        if (part)
            *part++ = '\0';
        if (count == 3 && part)
            return false;
    }
    return count >= 3;
}

int cy_main_done(int argc, char **argv)
{
    const char *day = NULL, *hours = NULL, *season = NULL, *round = NULL, *text = NULL;
    const char *corrects = NULL;
    bool wants_help = false;
    const struct cy_option options[] = {
        {"--day", NULL, &day, NULL},         {"--hours", NULL, &hours, NULL},
        {"--season", NULL, &season, NULL},   {"--round", NULL, &round, NULL},
        {"--text", NULL, &text, NULL},       {"--corrects", NULL, &corrects, NULL},
        {"--help", "-h", NULL, &wants_help}, {NULL, NULL, NULL, NULL},
    };
    int count = cy_options_read("done", argc, argv, options);
    if (count < 0)
        return EXIT_USAGE;
    if (wants_help) {
        fputs(done_help, stdout);
        return 0;
    }
    cy_day done_on;
    char day_text[CY_DAY_TEXT];
    char *parts[4] = {0};
    if (count == 2 && !split_job(argv[1], parts))
        return cy_usage("done", "a job is JOB.ROW.SEASON, as plan --json gives it, not", argv[1]);
    if (count != 2 && count != 3)
        return cy_usage("done", "give a farm file, a job and a row; see --help", NULL);
    if (!cy_day_wanted(&done_on, "done", day))
        return EXIT_USAGE;
    const struct given_field given[] = {
        {CY_DONE_DAY, cy_day_print(day_text, done_on)},
        {CY_DONE_ROW, count == 2 ? parts[1] : argv[2]},
        {CY_DONE_JOB, count == 2 ? parts[0] : argv[1]},
        {CY_DONE_SEASON, count == 2 ? parts[2] : season},
        {CY_DONE_ROUND, count == 2 ? parts[3] : round},
        {CY_DONE_HOURS, hours},
        {CY_DONE_TEXT, text},
        {CY_DONE_CORRECTS, corrects},
    };
    struct cy_loaded loaded;
    struct cy_issues issues = {0};
    if (!open_to_write(&loaded, argv[0]))
        return EXIT_INPUT;
    int status = add_record(&loaded, CY_KIND_DONE, given, sizeof given / sizeof *given, &issues);
    if (status == CY_OK)
        cy_warn_ahead("done", done_on);
    return finish(&loaded, status, &issues);
}

/* ---- undo and redo -------------------------------------------------------------------------- */

static int turn_back(const char *verb, int argc, char **argv,
                     int (*turn)(struct cy_file *, const char *, struct cy_text *,
                                 struct cy_issues *))
{
    bool wants_help = false;
    const struct cy_option options[] = {{"--help", "-h", NULL, &wants_help},
                                        {NULL, NULL, NULL, NULL}};
    int count = cy_options_read(verb, argc, argv, options);
    if (count < 0)
        return EXIT_USAGE;
    if (wants_help) {
        fputs(undo_help, stdout);
        return 0;
    }
    if (count != 1)
        return cy_usage(verb, "name one farm file", NULL);
    struct cy_loaded loaded;
    struct cy_issues issues = {0};
    struct cy_text what = {0};
    char author[CY_AUTHOR_TEXT];
    if (!open_to_write(&loaded, argv[0]))
        return EXIT_INPUT;
    cy_file_author(author);
    int status = turn(loaded.file, author, &what, &issues);
    if (status == CY_OK)
        printf("%s: %s\n", verb, cy_text_get(&what));
    cy_text_dispose(&what);
    return finish(&loaded, status, &issues);
}

int cy_main_undo(int argc, char **argv)
{
    return turn_back("undo", argc, argv, cy_file_undo);
}

int cy_main_redo(int argc, char **argv)
{
    return turn_back("redo", argc, argv, cy_file_redo);
}
