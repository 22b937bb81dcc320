/* SPDX-License-Identifier: MIT
 * make bench: how long the planner and the farm file take, and how those times compare in one run.
 * Absolute times are this machine's; the ratios are what to hold on to. */
#include <math.h>
#include <spawn.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>

#include <caneyear/base/random.h>
#include <caneyear/season/plan.h>

#include "store/farmfile.h"
#include "store/series_read.h"
#include "store/yaml.h"

enum { RUNS = 9 };

static double now_ms(void)
{
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec * 1e3 + (double)time.tv_nsec / 1e6;
}

static int by_size(const void *a, const void *b)
{
    double left = *(const double *)a, right = *(const double *)b;
    return left < right ? -1 : left > right;
}

static double median(double times[RUNS])
{
    qsort(times, RUNS, sizeof *times, by_size);
    return times[RUNS / 2];
}

static void die(const char *what)
{
    fprintf(stderr, "bench: %s\n", what);
    exit(1);
}

static void say(const char *what, double ms)
{
    printf("%-58s %9.2f ms\n", what, ms);
}

static void say_ratio(const char *what, double ratio)
{
    printf("%-58s %9.2f x\n", what, ratio);
}

/* ---- plans ---------------------------------------------------------------------------------- */

static struct cy_plan *plan_of(struct cy_planner *planner, const struct cy_farm *farm)
{
    struct cy_issues issues = {0};
    struct cy_plan_request request = {.farm = farm, .today = cy_day_of(2027, 6, 1)};
    struct cy_plan *plan;
    if (cy_planner_plan(&plan, planner, &request, &issues) != CY_OK)
        die("no plan");
    return plan;
}

static double time_cold(const struct cy_farm *farm)
{
    double times[RUNS];
    for (int i = 0; i < RUNS; i++) {
        double start = now_ms();
        struct cy_planner *planner = cy_planner_new();
        cy_plan_free(plan_of(planner, farm));
        cy_planner_free(planner);
        times[i] = now_ms() - start;
    }
    return median(times);
}

/* Each run sets another bloom heat on one cultivar: its lives are worked out anew. */
static double time_edit(struct cy_farm *farm)
{
    double times[RUNS];
    struct cy_planner *planner = cy_planner_new();
    const struct cy_thing *row = cy_farm_next(farm, CY_KIND_ROW, 0, NULL);
    int64_t cultivar = cy_referred(farm, row, CY_ROW_CULTIVAR)->id;
    cy_plan_free(plan_of(planner, farm));
    for (int i = 0; i < RUNS; i++) {
        struct cy_value value = {.set = true, .number = 15000 + i, .basis = CY_BASIS_GROWER};
        double start = now_ms();
        cy_farm_set(farm, cultivar, CY_CULTIVAR_BLOOM_HEAT, &value);
        cy_plan_free(plan_of(planner, farm));
        times[i] = now_ms() - start;
    }
    cy_planner_free(planner);
    return median(times);
}

/* ---- farms of any size ---------------------------------------------------------------------- */

static void set_text(struct cy_farm *farm, int64_t id, enum cy_field field, const char *text)
{
    struct cy_value value = {0};
    struct cy_issues issues = {0};
    if (cy_value_parse(&value, field, text, strlen(text), &issues) != CY_OK ||
        cy_farm_set(farm, id, field, &value) != CY_OK)
        die(text);
    cy_value_dispose(&value);
}

static void make_farm(struct cy_farm *farm, const struct cy_farm *catalogue, int rows)
{
    static const char *const cultivars[] = {"natchez", "osage",     "ouachita", "caddo",
                                            "ponca",   "navaho",    "arapaho",  "apache",
                                            "kiowa",   "chickasaw", "von",      "marion"};
    if (cy_farm_init(farm) != CY_OK)
        die("no memory");
    set_text(farm, cy_farm_one(farm, CY_KIND_SITE)->id, CY_SITE_PLACE, "richmond-us-va");
    for (int i = 0; i < rows; i++) {
        char planted[CY_DAY_TEXT];
        struct cy_thing *row = cy_farm_add(farm, CY_KIND_ROW, 0, NULL, NULL, 0);
        if (!row)
            die("no memory");
        set_text(farm, row->id, CY_ROW_LENGTH, "180 ft");
        set_text(farm, row->id, CY_ROW_CULTIVAR, cultivars[i % 12]);
        set_text(farm, row->id, CY_ROW_PLANTED,
                 cy_day_print(planted, cy_day_of(2019 + i % 7, 3, 20)));
    }
    if (cy_farm_lend(farm, catalogue) != CY_OK)
        die("no memory");
}

/* Each run measures another soil: the water of all rows is worked out anew, and nothing else. */
static double time_water(struct cy_farm *farm)
{
    double times[RUNS];
    struct cy_planner *planner = cy_planner_new();
    int64_t site = cy_farm_one(farm, CY_KIND_SITE)->id;
    cy_plan_free(plan_of(planner, farm));
    for (int i = 0; i < RUNS; i++) {
        struct cy_value value = {.set = true, .number = 0.1 + i / 1e3, .basis = CY_BASIS_GROWER};
        double start = now_ms();
        cy_farm_set(farm, site, CY_SITE_SOIL_WATER, &value);
        cy_plan_free(plan_of(planner, farm));
        times[i] = now_ms() - start;
    }
    cy_planner_free(planner);
    return median(times);
}

/* Nothing is changed: what a plan costs that finds all of it remembered. */
static double time_again(const struct cy_farm *farm)
{
    double times[RUNS];
    struct cy_planner *planner = cy_planner_new();
    cy_plan_free(plan_of(planner, farm));
    for (int i = 0; i < RUNS; i++) {
        double start = now_ms();
        cy_plan_free(plan_of(planner, farm));
        times[i] = now_ms() - start;
    }
    cy_planner_free(planner);
    return median(times);
}

static double time_open(const char *path, const struct cy_farm *catalogue)
{
    double times[RUNS];
    for (int i = 0; i < RUNS; i++) {
        struct cy_file *file;
        struct cy_issues issues = {0};
        double start = now_ms();
        if (cy_file_open(&file, path, catalogue, &issues) != CY_OK)
            die("cannot open");
        times[i] = now_ms() - start;
        cy_file_close(file);
    }
    return median(times);
}

static double time_step(const char *path, const struct cy_farm *catalogue)
{
    enum { STEPS = 50 };
    struct cy_file *file;
    struct cy_issues issues = {0};
    if (cy_file_open(&file, path, catalogue, &issues) != CY_OK)
        die("cannot open");
    double start = now_ms();
    for (int i = 0; i < STEPS; i++) {
        struct cy_step step = {.author = "bench"};
        const struct cy_farm *farm = cy_file_farm(file);
        const struct cy_thing *row = cy_farm_next(farm, CY_KIND_ROW, 0, NULL);
        struct cy_value value = {.set = true, .number = 50 + i, .basis = CY_BASIS_GROWER};
        if (cy_step_set(&step, farm, row->id, CY_ROW_LENGTH, &value) != CY_OK ||
            cy_file_step(file, &step, &issues) != CY_OK)
            die("cannot step");
        cy_step_dispose(&step);
    }
    double each = (now_ms() - start) / STEPS;
    cy_file_close(file);
    return each;
}

static void create(const char *path, const struct cy_farm *farm, const struct cy_farm *catalogue)
{
    struct cy_file *file;
    struct cy_issues issues = {0};
    remove(path);
    if (cy_file_create(&file, path, farm, "bench", catalogue, &issues) != CY_OK)
        die("cannot create");
    cy_file_close(file);
}

/* ---- weather -------------------------------------------------------------------------------- */

extern char **environ;

/* A century of days as the daily summaries come. */
static void write_century(const char *path)
{
    FILE *file = fopen(path, "w");
    struct cy_random random;
    cy_random_seed(&random, 1, 0);
    if (!file)
        die(path);
    fputs("\"STATION\",\"NAME\",\"DATE\",\"PRCP\",\"TMAX\",\"TMIN\"\n", file);
    for (cy_day day = cy_day_of(1925, 1, 1); day < cy_day_of(2025, 1, 1); day++) {
        char date[CY_DAY_TEXT];
        double mean =
            15 - 12 * cos(6.28 * (cy_day_of_year(day) - 20) / 365) + 4 * cy_random_normal(&random);
        double rain = cy_random_uniform(&random) < 0.3 ? 9 * cy_random_gamma(&random, 0.8) : 0;
        fprintf(file,
                "\"USW00000001\",\"A MADE STATION, VA US\",\"%s\",\"%.1f\",\"%.1f\",\"%.1f\"\n",
                cy_day_print(date, day), rain, mean + 6, mean - 6);
    }
    if (fclose(file) != 0)
        die(path);
}

/* From the file to a committed batch that the plan points at. */
static double time_weather(const char *path, const char *csv, const struct cy_farm *catalogue)
{
    double times[RUNS];
    for (int i = 0; i < RUNS; i++) {
        struct cy_file *file;
        struct cy_weather days;
        struct cy_station_report report;
        struct cy_weather_added added;
        struct cy_issues issues = {0};
        struct cy_farm farm;
        struct cy_station_options options = {.as_read = true};
        make_farm(&farm, catalogue, 14);
        create(path, &farm, catalogue);
        cy_farm_dispose(&farm);
        if (cy_file_open(&file, path, catalogue, &issues) != CY_OK)
            die("cannot open");
        double start = now_ms();
        if (cy_station_read(&days, &report, csv, &options, &issues) != CY_OK)
            die("cannot read the century");
        struct cy_weather_source source = {
            .days = &days, .station = report.station, .path = csv, .hash = report.hash};
        if (cy_file_weather_add(file, &source, "bench", &added, &issues) != CY_OK)
            die("cannot add the century");
        times[i] = now_ms() - start;
        cy_weather_dispose(&days);
        cy_file_close(file);
    }
    return median(times);
}

/* The same file by SQLite's own shell into a bare table in memory; 0 where there is no shell. */
static double time_shell(const char *csv)
{
    double times[RUNS];
    char import[4200];
    snprintf(import, sizeof import, ".import \"%s\" t", csv);
    char *const arguments[] = {"sqlite3", ":memory:", ".mode csv", import, NULL};
    for (int i = 0; i < RUNS; i++) {
        pid_t child;
        int result;
        double start = now_ms();
        if (posix_spawnp(&child, "sqlite3", NULL, NULL, arguments, environ) != 0 ||
            waitpid(child, &result, 0) != child || result != 0)
            return 0;
        times[i] = now_ms() - start;
    }
    return median(times);
}

static void bench_weather(const char *folder, const char *path, const struct cy_farm *catalogue)
{
    char csv[4096];
    snprintf(csv, sizeof csv, "%s/bench-century.csv", folder);
    write_century(csv);
    double ours = time_weather(path, csv, catalogue), shell = time_shell(csv);
    say("a century of days read and stored", ours);
    if (shell > 0)
        say_ratio("  against sqlite3's .import into a bare table", ours / shell);
    say("opening a farm that rests on it", time_open(path, catalogue));
    remove(csv);
}

int main(int argc, char **argv)
{
    const char *folder = argc > 1 ? argv[1] : ".";
    char path[4096];
    struct cy_farm catalogue, demo, farm;
    struct cy_issues issues = {0};
    if (cy_catalogue_read(&catalogue, "share", &issues) != CY_OK ||
        cy_yaml_read(&demo, "share/demo.yaml", &catalogue, &issues) != CY_OK)
        die("cannot read share/");

    puts("plan");
    double cold = time_cold(&demo);
    say("demo farm, 60 weathers made and planned", cold);
    say("demo farm, replanned after an edit of a cultivar", time_edit(&demo));
    make_farm(&farm, &catalogue, 200);
    double edit = time_edit(&farm);
    say("200 rows of 12 cultivars, replanned after such an edit", edit);
    say_ratio("  against making the weathers and planning the demo", edit / cold);
    say("demo farm, replanned with another soil", time_water(&demo));
    double water = time_water(&farm), again = time_again(&farm);
    say("200 rows, all their water over 60 weathers worked out anew", water);
    say_ratio("  against a plan of them with all of it remembered", water / again);
    cy_farm_dispose(&farm);

    puts("farm file");
    snprintf(path, sizeof path, "%s/bench.cane", folder);
    create(path, &demo, &catalogue);
    double step = time_step(path, &catalogue);
    say("one committed step, demo farm", step);
    say("opening the demo farm", time_open(path, &catalogue));
    double opening[2], stepping[2];
    const int sizes[2] = {100, 10000};
    for (int i = 0; i < 2; i++) {
        make_farm(&farm, &catalogue, sizes[i]);
        create(path, &farm, &catalogue);
        opening[i] = time_open(path, &catalogue);
        stepping[i] = time_step(path, &catalogue);
        cy_farm_dispose(&farm);
    }
    say("opening 100 rows", opening[0]);
    say("opening 10,000 rows", opening[1]);
    say_ratio("  10,000 rows against 100", opening[1] / opening[0]);
    say_ratio("  a committed step, 10,000 rows against 100", stepping[1] / stepping[0]);
    puts("weather");
    bench_weather(folder, path, &catalogue);
    remove(path);
    cy_farm_dispose(&demo);
    cy_farm_dispose(&catalogue);
    return 0;
}
