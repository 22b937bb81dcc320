/* SPDX-License-Identifier: MIT
 * caneyear import, export, check, backup, and the planner: whole farms and their files. */
#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <caneyear/season/plan.h>

#include "main/commands.h"
#include "main/load.h"
#include "main/options.h"
#include "screen/screen.h"
#include "store/yaml.h"
#include "words/words.h"

static const char import_help[] =
    "usage: caneyear import FARM.cane FILE.yaml [--replace]\n"
    "Makes a farm file from YAML, all or nothing. share/blank.yaml shows all that can be said.\n"
    "  --replace  into a farm file that is there: compared by key, as one step that undo takes\n"
    "             back; notes and work done stay\n";

static const char export_help[] =
    "usage: caneyear export FARM --as yaml|json|text [--today D] [-o FILE]\n"
    "Writes the farm as YAML, which imports to the same farm, or its season's plan as JSON or\n"
    "text.\n"
    "  -o FILE  into a new file; else to standard output\n";

static const char check_help[] =
    "usage: caneyear check FARM [--today D]\n"
    "Checks a farm file to the last page and step, or a YAML file, and then says what is risky in\n"
    "the season's plan. Exit 1 where the file is wrong.\n";

static const char backup_help[] =
    "usage: caneyear backup FARM.cane COPY.cane\n"
    "A consistent copy, also while the farm is in use. COPY.cane must not be there yet.\n";

/* ---- import --------------------------------------------------------------------------------- */

static int import_into(struct cy_loaded *loaded, const char *path, bool replace,
                       struct cy_issues *issues)
{
    char author[CY_AUTHOR_TEXT];
    cy_file_author(author);
    if (!replace)
        return cy_file_create(&loaded->file, path, &loaded->yaml, author, &loaded->catalogue,
                              issues);
    int status = cy_file_open(&loaded->file, path, &loaded->catalogue, issues);
    return status == CY_OK ? cy_file_replace(loaded->file, &loaded->yaml, author, issues) : status;
}

int cy_main_import(int argc, char **argv)
{
    bool replace = false, wants_help = false;
    const struct cy_option options[] = {
        {"--replace", NULL, NULL, &replace},
        {"--help", "-h", NULL, &wants_help},
        {NULL, NULL, NULL, NULL},
    };
    int count = cy_options_read("import", argc, argv, options);
    if (count < 0)
        return EXIT_USAGE;
    if (wants_help) {
        fputs(import_help, stdout);
        return 0;
    }
    if (count != 2)
        return cy_usage("import", "give a farm file and a YAML file", NULL);
    struct cy_loaded loaded;
    struct cy_issues issues = {0};
    if (!cy_load_catalogue(&loaded))
        return EXIT_INPUT;
    int status = cy_yaml_read(&loaded.yaml, argv[1], &loaded.catalogue, &issues);
    if (status == CY_OK)
        status = import_into(&loaded, argv[0], replace, &issues);
    if (status == CY_OK)
        printf("%d rows in %s\n", cy_farm_count(&loaded.yaml, CY_KIND_ROW, 0), argv[0]);
    else
        cy_print_issues(&issues);
    cy_loaded_dispose(&loaded);
    return status == CY_OK ? 0 : EXIT_INPUT;
}

/* ---- export --------------------------------------------------------------------------------- */

static int plan_of(struct cy_plan **plan, const struct cy_loaded *loaded, cy_day today)
{
    struct cy_issues issues = {0};
    struct cy_planner *planner = cy_planner_new();
    struct cy_plan_request request = cy_plan_asked(loaded, today, 0);
    int status = planner ? cy_planner_plan(plan, planner, &request, &issues) : CY_NO_MEMORY;
    if (status != CY_OK)
        cy_print_issues(&issues);
    cy_planner_free(planner);
    return status;
}

static int write_out(const struct cy_text *text, const char *path)
{
    /* "x": an export never overwrites what is there. */
    FILE *file = path ? fopen(path, "wx") : stdout;
    bool good = file && !text->failed &&
                fwrite(cy_text_get(text), 1, text->length, file) == text->length &&
                fflush(file) == 0 && (!path || fsync(fileno(file)) == 0);
    int error = errno;
    if (path && file && fclose(file) != 0)
        good = false;
    if (!good && path) {
        if (file)
            remove(path);
        struct cy_issues issues = {0};
        cy_issue_say(&issues, error == EEXIST ? CY_ISSUE_EXISTS : CY_ISSUE_DISK, "", "",
                     strerror(error), "");
        cy_copy(issues.items[0].file, sizeof issues.items[0].file, path);
        cy_print_issues(&issues);
    }
    return good ? 0 : EXIT_INPUT;
}

int cy_main_export(int argc, char **argv)
{
    const char *as = NULL, *path = NULL, *today_text = NULL;
    bool wants_help = false;
    const struct cy_option options[] = {
        {"--as", NULL, &as, NULL},           {"--out", "-o", &path, NULL},
        {"--today", NULL, &today_text, NULL}, {"--help", "-h", NULL, &wants_help},
        {NULL, NULL, NULL, NULL},
    };
    int count = cy_options_read("export", argc, argv, options);
    if (count < 0)
        return EXIT_USAGE;
    if (wants_help) {
        fputs(export_help, stdout);
        return 0;
    }
    cy_day today;
    if (count != 1)
        return cy_usage("export", "name one farm", NULL);
    if (!as || (strcmp(as, "yaml") != 0 && strcmp(as, "json") != 0 && strcmp(as, "text") != 0))
        return cy_usage("export", "--as takes yaml, json or text, not", as ? as : "nothing");
    if (!cy_day_wanted(&today, "export", today_text))
        return EXIT_USAGE;
    struct cy_loaded loaded;
    if (!cy_load_farm(&loaded, argv[0]))
        return EXIT_INPUT;
    struct cy_text out = {0};
    struct cy_plan *plan = NULL;
    int status = CY_OK;
    if (strcmp(as, "yaml") == 0)
        cy_yaml_write(&out, loaded.farm);
    else if ((status = plan_of(&plan, &loaded, today)) == CY_OK && strcmp(as, "json") == 0)
        cy_plan_json(&out, plan);
    else if (status == CY_OK)
        cy_say_plan(&out, plan, path ? false : cy_locale_is_ascii());
    int exit_status = status == CY_OK ? write_out(&out, path) : EXIT_INPUT;
    cy_plan_free(plan);
    cy_text_dispose(&out);
    cy_loaded_dispose(&loaded);
    return exit_status;
}

/* ---- check ---------------------------------------------------------------------------------- */

/* What a grower should look at: late work, crops that fail in more than one year of ten, and
 * rows about which too little is known. */
static void print_risks(const struct cy_plan *plan, bool has_weather)
{
    struct cy_text line = {0};
    int risks = 0;
    const char *station = cy_string(cy_farm_one(&plan->farm, CY_KIND_SITE), CY_SITE_STATION);
    if (*station && !has_weather) {
        cy_text_add(&line, "site.station: this file does not hold the weather ");
        cy_text_add_clean(&line, station, strlen(station), cy_locale_is_ascii());
        cy_text_add(&line, "; `caneyear weather` takes it in\n");
        risks++;
    }
    for (size_t i = 0; i < plan->row_count; i++) {
        const struct cy_plan_row *row = &plan->rows[i];
        for (int j = 0; j < row->cohort_count; j++) {
            const struct cy_plan_cohort *cohort = &row->cohorts[j];
            enum cy_stage pick = cohort->role == CY_ROLE_FLORICANES ? CY_STAGE_PEAK_PICK
                                                                    : CY_STAGE_AUTUMN_PEAK_PICK;
            if (cohort->role == CY_ROLE_NONE || cohort->never[pick] == CY_DOES_NOT_APPLY ||
                cohort->stage[pick].never <= 0.1)
                continue;
            cy_text_add(&line, row->key);
            cy_text_add(&line, ": its crop on canes of ");
            cy_text_add_int(&line, cohort->year);
            cy_text_add(&line, " fails: ");
            cy_say_never(&line, (enum cy_never)cohort->never[pick], cohort->stage[pick].never);
            cy_text_add_char(&line, '\n');
            risks++;
        }
        if (row->notes & CY_NOTE_FRUITING_UNKNOWN) {
            cy_text_add(&line, row->key);
            cy_text_add(&line, ": ");
            cy_say_note(&line, CY_NOTE_FRUITING_UNKNOWN);
            cy_text_add_char(&line, '\n');
            risks++;
        }
    }
    for (size_t i = 0; i < plan->job_count; i++) {
        if (plan->jobs[i].done || plan->jobs[i].to >= plan->today)
            continue;
        cy_text_add(&line, plan->jobs[i].key);
        cy_text_add(&line, ": late since ");
        cy_say_day(&line, plan->jobs[i].to, true);
        cy_text_add_char(&line, '\n');
        risks++;
    }
    fputs(cy_text_get(&line), stdout);
    printf("%d to look at in season %d\n", risks, plan->season);
    cy_text_dispose(&line);
}

int cy_main_check(int argc, char **argv)
{
    const char *today_text = NULL;
    bool wants_help = false;
    const struct cy_option options[] = {
        {"--today", NULL, &today_text, NULL},
        {"--help", "-h", NULL, &wants_help},
        {NULL, NULL, NULL, NULL},
    };
    int count = cy_options_read("check", argc, argv, options);
    if (count < 0)
        return EXIT_USAGE;
    if (wants_help) {
        fputs(check_help, stdout);
        return 0;
    }
    cy_day today;
    if (count != 1)
        return cy_usage("check", "name one farm", NULL);
    if (!cy_day_wanted(&today, "check", today_text))
        return EXIT_USAGE;
    struct cy_loaded loaded;
    struct cy_issues issues = {0};
    if (!cy_load_farm(&loaded, argv[0]))
        return EXIT_INPUT;
    int status = loaded.file ? cy_file_verify(loaded.file, &issues) : CY_OK;
    struct cy_plan *plan = NULL;
    if (status != CY_OK) {
        cy_print_issues(&issues);
    } else {
        printf("%s: whole\n", argv[0]);
        status = plan_of(&plan, &loaded, today);
        if (status == CY_OK)
            print_risks(plan, cy_file_weather(loaded.file) != NULL);
    }
    cy_plan_free(plan);
    cy_loaded_dispose(&loaded);
    return status == CY_OK ? 0 : EXIT_INPUT;
}

/* ---- backup --------------------------------------------------------------------------------- */

int cy_main_backup(int argc, char **argv)
{
    bool wants_help = false;
    const struct cy_option options[] = {{"--help", "-h", NULL, &wants_help},
                                        {NULL, NULL, NULL, NULL}};
    int count = cy_options_read("backup", argc, argv, options);
    if (count < 0)
        return EXIT_USAGE;
    if (wants_help) {
        fputs(backup_help, stdout);
        return 0;
    }
    if (count != 2)
        return cy_usage("backup", "give a farm file and a name for the copy", NULL);
    struct cy_loaded loaded;
    struct cy_issues issues = {0};
    if (!cy_load_file(&loaded, argv[0]))
        return EXIT_INPUT;
    int status = cy_file_backup(loaded.file, argv[1], &issues);
    if (status != CY_OK)
        cy_print_issues(&issues);
    cy_loaded_dispose(&loaded);
    return status == CY_OK ? 0 : EXIT_INPUT;
}

/* ---- the planner ---------------------------------------------------------------------------- */

int cy_main_planner(int argc, char **argv)
{
    const char *today_text = NULL;
    bool wants_help = false;
    struct cy_screen_options screen = {0};
    const struct cy_option options[] = {
        {"--today", NULL, &today_text, NULL},
        {"--no-color", NULL, NULL, &screen.no_color},
        {"--ascii", NULL, NULL, &screen.ascii},
        {"--mouse", NULL, NULL, &screen.mouse},
        {"--help", "-h", NULL, &wants_help},
        {NULL, NULL, NULL, NULL},
    };
    int count = cy_options_read("FARM.cane", argc, argv, options);
    if (count < 0)
        return EXIT_USAGE;
    if (wants_help || count != 1)
        return cy_usage("", "name one farm file, or a verb; see caneyear --help", NULL);
    if (cy_is_yaml(argv[0]) || access(argv[0], F_OK) != 0) {
        bool verb_like = !strchr(argv[0], '.') && !strchr(argv[0], '/');
        if (verb_like)
            return cy_usage("--help", "lists the verbs; there is none called", argv[0]);
        if (cy_is_yaml(argv[0]))
            return cy_usage("import", "makes the farm file that the planner opens from",
                            argv[0]);
    }
    if (!cy_day_wanted(&screen.today, "FARM.cane", today_text))
        return EXIT_USAGE;
    struct cy_loaded loaded;
    if (!cy_load_file(&loaded, argv[0]))
        return EXIT_INPUT;
    screen.path = argv[0];
    int status = cy_screen_run(loaded.file, &screen);
    cy_loaded_dispose(&loaded);
    return status;
}
