/* SPDX-License-Identifier: MIT
 * caneyear suit: what suits the farm's site, as a table or JSON. */
#include <stdio.h>

#include <caneyear/season/suitability.h>

#include "main/commands.h"
#include "main/load.h"
#include "main/options.h"
#include "words/words.h"

static const char help[] =
    "usage: caneyear suit FARM [--today D] [--json]\n"
    "What suits the site of a farm file or a YAML file: marks for the site and for every\n"
    "cultivar of the catalogue and the farm, each with its reason.\n"
    "  --today D  over the weathers that a plan of this day has, YYYY-MM-DD\n"
    "  --json     for programs, with the trace of each mark\n";

static int print_suitability(const struct cy_loaded *loaded, cy_day today, bool json)
{
    struct cy_issues issues = {0};
    struct cy_text out = {0};
    struct cy_suitability table = {0};
    struct cy_planner *planner = cy_planner_new();
    struct cy_plan_request request = cy_plan_asked(loaded, today, 0);
    int status =
        planner ? cy_planner_suitability(&table, planner, &request, &issues) : CY_NO_MEMORY;
    if (status == CY_OK) {
        if (json)
            cy_suitability_json(&out, &table);
        else
            cy_say_suitability(&out, &table, cy_locale_is_ascii());
        fputs(cy_text_get(&out), stdout);
    } else {
        cy_print_issues(&issues);
    }
    cy_suitability_dispose(&table);
    cy_planner_free(planner);
    bool failed = out.failed;
    cy_text_dispose(&out);
    return status == CY_OK && !failed ? 0 : EXIT_INPUT;
}

int cy_main_suit(int argc, char **argv)
{
    const char *today_text = NULL;
    bool json = false, wants_help = false;
    const struct cy_option options[] = {
        {"--today", NULL, &today_text, NULL},
        {"--json", NULL, NULL, &json},
        {"--help", "-h", NULL, &wants_help},
        {NULL, NULL, NULL, NULL},
    };
    int count = cy_options_read("suit", argc, argv, options);
    if (count < 0)
        return EXIT_USAGE;
    if (wants_help) {
        fputs(help, stdout);
        return 0;
    }
    cy_day today;
    if (count != 1)
        return cy_usage("suit", "name one farm: a .cane or .yaml file", NULL);
    if (!cy_day_wanted(&today, "suit", today_text))
        return EXIT_USAGE;
    struct cy_loaded loaded;
    if (!cy_load_farm(&loaded, argv[0]))
        return EXIT_INPUT;
    int status = print_suitability(&loaded, today, json);
    cy_loaded_dispose(&loaded);
    return status;
}
