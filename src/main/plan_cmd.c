/* SPDX-License-Identifier: MIT
 * caneyear plan: the season's plan as text or JSON. */
#include <stdio.h>

#include <caneyear/season/plan.h>

#include "main/commands.h"
#include "main/load.h"
#include "main/options.h"
#include "words/words.h"

static const char help[] =
    "usage: caneyear plan FARM [--season Y] [--today D] [--json]\n"
    "The season's plan of a farm file or a YAML file: each row's canes with the spread of each\n"
    "date, and the jobs with their reasons.\n"
    "  --season Y  the season that ends in year Y; else the one that holds today\n"
    "  --today D   plan as of this day, YYYY-MM-DD\n"
    "  --json      for programs\n";

static int print_plan(const struct cy_loaded *loaded, cy_day today, int season, bool json)
{
    struct cy_issues issues = {0};
    struct cy_text out = {0};
    struct cy_plan *plan = NULL;
    struct cy_planner *planner = cy_planner_new();
    struct cy_plan_request request = cy_plan_asked(loaded, today, season);
    int status =
        planner ? cy_planner_plan(&plan, planner, &request, &issues) : CY_NO_MEMORY;
    if (status == CY_OK) {
        if (json)
            cy_plan_json(&out, plan);
        else
            cy_say_plan(&out, plan, cy_locale_is_ascii());
        fputs(cy_text_get(&out), stdout);
    } else {
        cy_print_issues(&issues);
    }
    cy_plan_free(plan);
    cy_planner_free(planner);
    bool failed = out.failed;
    cy_text_dispose(&out);
    return status == CY_OK && !failed ? 0 : EXIT_INPUT;
}

int cy_main_plan(int argc, char **argv)
{
    const char *season_text = NULL, *today_text = NULL;
    bool json = false, wants_help = false;
    const struct cy_option options[] = {
        {"--season", NULL, &season_text, NULL},
        {"--today", NULL, &today_text, NULL},
        {"--json", NULL, NULL, &json},
        {"--help", "-h", NULL, &wants_help},
        {NULL, NULL, NULL, NULL},
    };
    int count = cy_options_read("plan", argc, argv, options);
    if (count < 0)
        return EXIT_USAGE;
    if (wants_help) {
        fputs(help, stdout);
        return 0;
    }
    cy_day today;
    int season;
    if (count != 1)
        return cy_usage("plan", "name one farm: a .cane or .yaml file", NULL);
    if (!cy_day_wanted(&today, "plan", today_text) || !cy_season_wanted(&season, "plan", season_text))
        return EXIT_USAGE;
    struct cy_loaded loaded;
    if (!cy_load_farm(&loaded, argv[0]))
        return EXIT_INPUT;
    int status = print_plan(&loaded, today, season, json);
    cy_loaded_dispose(&loaded);
    return status;
}
