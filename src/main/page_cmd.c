/* SPDX-License-Identifier: MIT
 * caneyear page: one page of the planner as text, for whoever has no full screen. */
#include <stdio.h>

#include "main/commands.h"
#include "main/load.h"
#include "main/options.h"
#include "words/sheet.h"
#include "words/words.h"

#define PAGE_WIDTH 80

static const char help[] =
    "usage: caneyear page FARM PAGE [--row KEY] [--season Y] [--today D] [--why]\n"
    "One page of the planner as text, of the whole farm or of a row.\n"
    "  --row KEY   of this row\n"
    "  --season Y  the season that ends in year Y; else the one that holds today\n"
    "  --today D   plan as of this day, YYYY-MM-DD\n"
    "  --why       what stands behind each figure, below it\n"
    "Pages:\n";

static void print_help(void)
{
    fputs(help, stdout);
    for (int id = 0; id < CY_SHEET_COUNT; id++) {
        const struct cy_sheet_info *info = cy_sheet_info((enum cy_sheet_id)id);
        printf("  %-10s  %s\n", info->word, info->title);
    }
}

struct wanted {
    enum cy_sheet_id page;
    const char *row; /* or NULL */
    bool why;
};

static bool find_row(struct cy_sheet_request *request, const char *key)
{
    request->whole_farm = !key;
    for (size_t i = 0; key && i < request->plan->row_count; i++)
        if (cy_streq(request->plan->rows[i].key, key)) {
            request->row = i;
            return true;
        }
    if (key)
        cy_usage("page", "there is no row of this key:", key);
    return !key;
}

static int print_page(const struct cy_plan *plan, struct cy_planner *planner,
                      const struct cy_plan_request *made_by, const struct wanted *wanted)
{
    struct cy_sheet_request request = {.plan = plan,
                                       .day = plan->today,
                                       .width = PAGE_WIDTH,
                                       .ascii = cy_locale_is_ascii(),
                                       .planner = planner,
                                       .plan_request = made_by};
    struct cy_sheet sheet;
    struct cy_text out = {0};
    if (!find_row(&request, wanted->row))
        return EXIT_USAGE;
    if (cy_sheet_make(&sheet, wanted->page, &request) != CY_OK)
        return EXIT_INPUT;
    cy_sheet_print(&out, &sheet, wanted->why);
    fputs(cy_text_get(&out), stdout);
    bool failed = out.failed;
    cy_text_dispose(&out);
    cy_sheet_dispose(&sheet);
    return failed ? EXIT_INPUT : 0;
}

static int plan_and_print(const struct cy_loaded *loaded, cy_day today, int season,
                          const struct wanted *wanted)
{
    struct cy_issues issues = {0};
    struct cy_plan *plan = NULL;
    struct cy_planner *planner = cy_planner_new();
    struct cy_plan_request request = cy_plan_asked(loaded, today, season);
    int status = planner ? cy_planner_plan(&plan, planner, &request, &issues) : CY_NO_MEMORY;
    int answer = EXIT_INPUT;
    if (status == CY_OK)
        answer = print_page(plan, planner, &request, wanted);
    else
        cy_print_issues(&issues);
    cy_plan_free(plan);
    cy_planner_free(planner);
    return answer;
}

int cy_main_page(int argc, char **argv)
{
    const char *season_text = NULL, *today_text = NULL;
    struct wanted wanted = {0};
    bool wants_help = false;
    const struct cy_option options[] = {
        {"--row", NULL, &wanted.row, NULL},       {"--season", NULL, &season_text, NULL},
        {"--today", NULL, &today_text, NULL},     {"--why", NULL, NULL, &wanted.why},
        {"--help", "-h", NULL, &wants_help},      {NULL, NULL, NULL, NULL},
    };
    int count = cy_options_read("page", argc, argv, options);
    if (count < 0)
        return EXIT_USAGE;
    if (wants_help) {
        print_help();
        return 0;
    }
    cy_day today;
    int season;
    if (count != 2)
        return cy_usage("page", "name one farm, a .cane or .yaml file, and one page", NULL);
    wanted.page = cy_sheet_named(argv[1]);
    if (wanted.page == CY_SHEET_COUNT)
        return cy_usage("page", "there is no page called", argv[1]);
    if (!cy_day_wanted(&today, "page", today_text) ||
        !cy_season_wanted(&season, "page", season_text))
        return EXIT_USAGE;
    struct cy_loaded loaded;
    if (!cy_load_farm(&loaded, argv[0]))
        return EXIT_INPUT;
    int status = plan_and_print(&loaded, today, season, &wanted);
    cy_loaded_dispose(&loaded);
    return status;
}
