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
#include <caneyear/climate/chill.h>
#include <caneyear/season/plan.h>
#include <caneyear/season/trellis.h>

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

static struct cy_plan *plan_of(struct cy_planner *planner, const struct cy_farm *farm, int members)
{
    struct cy_issues issues = {0};
    struct cy_plan_request request = {
        .farm = farm, .today = cy_day_of(2027, 6, 1), .members = members};
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
        cy_plan_free(plan_of(planner, farm, CY_PLAN_MEMBERS));
        cy_planner_free(planner);
        times[i] = now_ms() - start;
    }
    return median(times);
}

/* Each run sets another bloom heat on the first so many cultivars that rows have: their lives are
 * worked out anew. */
static double time_edit(struct cy_farm *farm, int cultivars, int members)
{
    double times[RUNS];
    struct cy_planner *planner = cy_planner_new();
    cy_plan_free(plan_of(planner, farm, members));
    for (int i = 0; i < RUNS; i++) {
        struct cy_value value = {.set = true, .number = 15000 + i, .basis = CY_BASIS_GROWER};
        double start = now_ms();
        const struct cy_thing *row = NULL;
        for (int k = 0; k < cultivars && (row = cy_farm_next(farm, CY_KIND_ROW, 0, row)); k++)
            cy_farm_set(farm, cy_referred(farm, row, CY_ROW_CULTIVAR)->id, CY_CULTIVAR_BLOOM_HEAT,
                        &value);
        cy_plan_free(plan_of(planner, farm, members));
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
    cy_plan_free(plan_of(planner, farm, CY_PLAN_MEMBERS));
    for (int i = 0; i < RUNS; i++) {
        struct cy_value value = {.set = true, .number = 0.1 + i / 1e3, .basis = CY_BASIS_GROWER};
        double start = now_ms();
        cy_farm_set(farm, site, CY_SITE_SOIL_WATER, &value);
        cy_plan_free(plan_of(planner, farm, CY_PLAN_MEMBERS));
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
    cy_plan_free(plan_of(planner, farm, CY_PLAN_MEMBERS));
    for (int i = 0; i < RUNS; i++) {
        double start = now_ms();
        cy_plan_free(plan_of(planner, farm, CY_PLAN_MEMBERS));
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

/* ---- trellises ------------------------------------------------------------------------------ */

/* Two hundred rows, each of its own length, on four trellises of four wires. */
static void make_trellises(struct cy_farm *farm, const struct cy_farm *catalogue)
{
    static const char *const heights[] = {"2 ft", "3 ft", "4 ft", "5 ft"};
    make_farm(farm, catalogue, 200);
    set_text(farm, cy_farm_one(farm, CY_KIND_SITE)->id, CY_SITE_GUST, "75 mph");
    set_text(farm, cy_farm_one(farm, CY_KIND_SITE)->id, CY_SITE_ICE, "0.25 in");
    for (int i = 0; i < 4; i++) {
        char key[3] = {'t', (char)('0' + i), 0};
        struct cy_thing *trellis = cy_farm_add(farm, CY_KIND_TRELLIS, 0, key, NULL, 0);
        set_text(farm, trellis->id, CY_TRELLIS_END, i % 2 ? "h" : "slant");
        for (int wire = 0; wire < 4; wire++) {
            struct cy_thing *one = cy_farm_add(farm, CY_KIND_WIRE, trellis->id, NULL, NULL, 0);
            set_text(farm, one->id, CY_WIRE_HEIGHT, heights[wire]);
            set_text(farm, one->id, CY_WIRE_TENSION, "225 lbf");
            set_text(farm, one->id, CY_WIRE_SET_AT, "55 F");
        }
    }
    int index = 0;
    for (const struct cy_thing *row = NULL; (row = cy_farm_next(farm, CY_KIND_ROW, 0, row));
         index++) {
        char key[3] = {'t', (char)('0' + index % 4), 0};
        struct cy_value length = {
            .set = true, .number = 40 + 0.37 * index, .basis = CY_BASIS_GROWER};
        set_text(farm, row->id, CY_ROW_TRELLIS, key);
        cy_farm_set(farm, row->id, CY_ROW_LENGTH, &length);
    }
}

/* A station of thirty years, to its last day. */
static void make_station(struct cy_weather *out)
{
    cy_day first = cy_day_of(1997, 1, 1), last = cy_day_of(2026, 12, 31);
    struct cy_random random;
    cy_random_seed(&random, 2, 0);
    if (cy_weather_init(out, first, last - first + 1) != CY_OK)
        die("no memory");
    for (int i = 0; i < out->days; i++) {
        double mean = 15 - 12 * cos(6.28 * (cy_day_of_year(first + i) - 20) / 365) +
                      4 * cy_random_normal(&random);
        out->tmin_c[i] = mean - 6;
        out->tmax_c[i] = mean + 6;
    }
}

static struct cy_plan *plan_on(struct cy_planner *planner, const struct cy_farm *farm,
                               const struct cy_weather *station)
{
    struct cy_issues issues = {0};
    struct cy_plan *plan;
    struct cy_plan_request request = {
        .farm = farm, .station = station, .today = cy_day_of(2027, 1, 1), .members = 30};
    if (cy_planner_plan(&plan, planner, &request, &issues) != CY_OK || plan->past_years != 30)
        die("no plan on thirty years");
    return plan;
}

/* Planned again after an edit of so many trellises (0: of a row's name), with what that costs. */
static double time_trellises(struct cy_farm *farm, const struct cy_weather *station, int edited,
                             size_t expected)
{
    double times[RUNS];
    struct cy_planner *planner = cy_planner_new();
    cy_plan_free(plan_on(planner, farm, station));
    for (int i = 0; i < RUNS; i++) {
        double start = now_ms();
        int64_t row = cy_farm_next(farm, CY_KIND_ROW, 0, NULL)->id;
        if (edited == 0)
            set_text(farm, row, CY_ROW_NAME, i % 2 ? "One" : "Other");
        const struct cy_thing *trellis = NULL;
        for (int k = 0; k < edited; k++) {
            struct cy_value depth = {
                .set = true, .number = 0.6 + 0.01 * i, .basis = CY_BASIS_GROWER};
            trellis = cy_farm_next(farm, CY_KIND_TRELLIS, 0, trellis);
            cy_farm_set(farm, trellis->id, CY_TRELLIS_DEPTH, &depth);
        }
        struct cy_plan *plan = plan_on(planner, farm, station);
        times[i] = now_ms() - start;
        if (i > 0 && plan->trellises_worked_out != expected)
            die("other trellises were judged than those that changed");
        cy_plan_free(plan);
    }
    cy_planner_free(planner);
    return median(times);
}

/* A row's verdict by itself after its trellis changed, with what would put it right. */
static double time_verdict(struct cy_farm *farm, const struct cy_weather *station)
{
    double times[RUNS];
    struct cy_planner *planner = cy_planner_new();
    struct cy_plan *plan = plan_on(planner, farm, station);
    struct cy_trellis_frame frame;
    if (!cy_trellis_frame_of(&frame, plan, 0))
        die("no trellis");
    for (int i = 0; i < RUNS; i++) {
        struct cy_trellis_verdict verdict;
        struct cy_trellis_fixes fixes;
        double start = now_ms();
        frame.post_depth_m.value = 0.6 + 0.01 * i;
        if (cy_trellis_judge(&verdict, &frame) != CY_OK ||
            cy_trellis_fixes_of(&fixes, plan, 0) != CY_OK)
            die("no verdict");
        times[i] = now_ms() - start;
        cy_trellis_verdict_dispose(&verdict);
    }
    cy_plan_free(plan);
    cy_planner_free(planner);
    return median(times);
}

static void bench_trellises(const struct cy_farm *catalogue)
{
    struct cy_farm farm;
    struct cy_weather station;
    make_trellises(&farm, catalogue);
    make_station(&station);
    double none = time_trellises(&farm, &station, 0, 0);
    double all = time_trellises(&farm, &station, 4, 200);
    say("200 rows of 200 lengths, 30 years: every trellis judged", all - none);
    say("  and the plan around it, when no trellis changed", none);
    say_ratio("  against that plan", (all - none) / none);
    cy_farm_dispose(&farm);
    make_trellises(&farm, catalogue);
    say("  one trellis of fifty rows changed", time_trellises(&farm, &station, 1, 50) - none);
    say("one row's verdict, and what would put it right", time_verdict(&farm, &station));
    cy_weather_dispose(&station);
    cy_farm_dispose(&farm);
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
static double load_century(const char *path, const char *csv, const struct cy_farm *catalogue)
{
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
    double took = now_ms() - start;
    cy_weather_dispose(&days);
    cy_file_close(file);
    return took;
}

/* The same file by SQLite's own shell into a bare table in memory; 0 where there is no shell. */
static double import_century(const char *csv)
{
    char import[4200];
    snprintf(import, sizeof import, ".import \"%s\" t", csv);
    char *const arguments[] = {"sqlite3", ":memory:", ".mode csv", import, NULL};
    pid_t child;
    int result;
    double start = now_ms();
    if (posix_spawnp(&child, "sqlite3", NULL, NULL, arguments, environ) != 0 ||
        waitpid(child, &result, 0) != child || result != 0)
        return 0;
    return now_ms() - start;
}

static void bench_weather(const char *folder, const char *path, const struct cy_farm *catalogue)
{
    char csv[4096];
    snprintf(csv, sizeof csv, "%s/bench-century.csv", folder);
    write_century(csv);
    /* By turns, so that whatever else the machine does falls on both. */
    double ours[RUNS], shell[RUNS];
    for (int i = 0; i < RUNS; i++) {
        ours[i] = load_century(path, csv, catalogue);
        shell[i] = import_century(csv);
    }
    double load = median(ours), import = median(shell);
    say("a century of days read and stored", load);
    if (import > 0)
        say_ratio("  against sqlite3's .import into a bare table", load / import);
    say("opening a farm that rests on it", time_open(path, catalogue));
    remove(csv);
}

/* ---- chill ----------------------------------------------------------------------------------- */

/* Portions over a winter's hours, against a plain loop of two exponentials an hour over the same.
 */
static void bench_portions(void)
{
    enum { HOURS = 200 * 24, REPEATS = 20 };
    static double temps[HOURS];
    double model[RUNS], plain[RUNS];
    volatile double sink = 0;
    for (int i = 0; i < HOURS; i++)
        temps[i] = 6 + 7 * sin(i * 0.2618) + 5 * sin(i * 0.0131);
    for (int run = 0; run < RUNS; run++) {
        double start = now_ms(), sum = 0;
        for (int i = 0; i < REPEATS; i++)
            sum += cy_chill_portions(temps, HOURS);
        double middle = now_ms();
        for (int i = 0; i < REPEATS; i++)
            for (int k = 0; k < HOURS; k++)
                sum += exp(-temps[k] / (temps[k] + 273)) + exp(-0.01 * temps[k]);
        model[run] = middle - start;
        plain[run] = now_ms() - middle;
        sink += sum;
    }
    say("chill portions of 20 winters", median(model));
    say_ratio("  against two exponentials an hour", median(model) / median(plain));
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
    say("demo farm, replanned after an edit of a cultivar", time_edit(&demo, 1, CY_PLAN_MEMBERS));
    make_farm(&farm, &catalogue, 200);
    double edit = time_edit(&farm, 1, 100), all = time_edit(&farm, 12, 100);
    say("200 rows of 12 cultivars, 100 weathers, after such an edit", edit);
    say("  the same with every life worked out anew", all);
    say_ratio("  against making 60 weathers and planning the demo", all / cold);
    say("demo farm, replanned with another soil", time_water(&demo));
    double water = time_water(&farm), again = time_again(&farm);
    say("200 rows, all their water over 60 weathers worked out anew", water);
    say_ratio("  against a plan of them with all of it remembered", water / again);
    cy_farm_dispose(&farm);

    puts("trellis");
    bench_trellises(&catalogue);

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
    bench_portions();
    remove(path);
    cy_farm_dispose(&demo);
    cy_farm_dispose(&catalogue);
    return 0;
}
