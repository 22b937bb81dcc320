/* SPDX-License-Identifier: MIT
 * caneyear weather: a station's days into the farm file, shown before they are believed. */
#include <math.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include <caneyear/climate/gaps.h>

#include "main/commands.h"
#include "main/load.h"
#include "main/options.h"
#include "store/series_read.h"
#include "words/words.h"

static const char help[] =
    "usage: caneyear weather FARM.cane FILE [--units tenths|metric|us] [--station NAME]\n"
    "                [--newer-wins] [--yes]\n"
    "Takes in a station's daily weather: the daily-summaries CSV, any CSV with the columns DATE,\n"
    "TMAX, TMIN and PRCP, or the fixed-width .dly form. From then on the plan rests on it. A "
    "newer\n"
    "file of the same station adds its days; loading one twice changes nothing. It is one step\n"
    "that undo takes back. Wind, dew point or humidity, and sunshine (AWND, ADPT or RHAV, TSUN) "
    "are\n"
    "kept where they are there.\n"
    "  --units U       what the figures are in; a CSV file does not say, so it is guessed\n"
    "  --station NAME  the one to take from a file of several\n"
    "  --newer-wins    where a day is there already and differs, take this file's figures\n"
    "  --yes           take a guess of the units that the figures leave in doubt\n";

enum { PERCENT_READ = 60 }; /* of the work; storing is the rest */

/* ---- stopping ------------------------------------------------------------------------------- */

static volatile sig_atomic_t interrupted;

static void note_interrupt(int signal)
{
    (void)signal;
    interrupted = 1;
}

static void catch_interrupt(void)
{
    struct sigaction action = {.sa_handler = note_interrupt}; /* a read at the prompt ends too */
    sigemptyset(&action.sa_mask);
    sigaction(SIGINT, &action, NULL);
}

/* ---- progress ------------------------------------------------------------------------------- */

struct meter {
    const char *doing;
    int from, to; /* percent */
    int shown;    /* -1: nothing */
    bool on;      /* someone is looking */
};

static bool show_progress(double share, void *payload)
{
    struct meter *meter = payload;
    int percent = meter->from + (int)(share * (meter->to - meter->from));
    if (meter->on && percent != meter->shown) {
        fprintf(stderr, "\r%s %3d %%  (Ctrl-C stops)", meter->doing, percent);
        meter->shown = percent;
    }
    return !interrupted;
}

static void wipe_progress(struct meter *meter)
{
    if (meter->shown >= 0)
        fprintf(stderr, "\r%50s\r", "");
    meter->shown = -1;
}

/* ---- what was understood -------------------------------------------------------------------- */

static void add_figure(struct cy_text *line, const char *name, double value,
                       enum cy_quantity quantity, enum cy_system system)
{
    int decimals = quantity == CY_Q_DEPTH_OF_WATER && system == CY_US ? 2 : 1;
    cy_text_add(line, name);
    if (isnan(value))
        cy_text_add_char(line, '-');
    else
        cy_quantity_show(line, value, quantity, NULL, system, decimals);
}

static void print_day(cy_day day, double tmin_c, double tmax_c, double rain_mm,
                      enum cy_system system)
{
    struct cy_text line = {0};
    cy_text_add(&line, "  ");
    cy_text_add_day(&line, day);
    add_figure(&line, "  low ", tmin_c, CY_Q_TEMPERATURE, system);
    cy_text_pad(&line, 0, 26);
    add_figure(&line, "  high ", tmax_c, CY_Q_TEMPERATURE, system);
    cy_text_pad(&line, 0, 41);
    add_figure(&line, "  rain ", rain_mm, CY_Q_DEPTH_OF_WATER, system);
    printf("%s\n", cy_text_get(&line));
    cy_text_dispose(&line);
}

/* A day as two files have it: wind, dew point and sun only where there are any. */
static void print_figures(const struct cy_weather_day *day, enum cy_system system)
{
    static const struct {
        const char *name;
        enum cy_quantity quantity;
    } air[] = {
        {"    wind ", CY_Q_SPEED}, {"  dew point ", CY_Q_TEMPERATURE}, {"  sun ", CY_Q_HOURS}};
    const double *figure = day->figure;
    struct cy_text line = {0};
    print_day(day->day, figure[0], figure[1], figure[2], system);
    if (isnan(figure[3]) && isnan(figure[4]) && isnan(figure[5]))
        return;
    for (int i = 0; i < 3; i++)
        add_figure(&line, air[i].name, figure[3 + i], air[i].quantity, system);
    printf("%s\n", cy_text_get(&line));
    cy_text_dispose(&line);
}

static void print_clean(const char *text)
{
    struct cy_text clean = {0};
    cy_text_add_clean(&clean, text, strlen(text), cy_locale_is_ascii());
    fputs(cy_text_get(&clean), stdout);
    cy_text_dispose(&clean);
}

/* "1 day", "2 days". */
static void print_count(int count, const char *what)
{
    printf("%d %s%s", count, what, count == 1 ? "" : "s");
}

static void print_head(const struct cy_weather *days, const struct cy_station_report *report,
                       enum cy_station_scale told, enum cy_system system)
{
    char first[CY_DAY_TEXT], last[CY_DAY_TEXT];
    print_clean(*report->station ? report->station : "a station without a name");
    fputs(": ", stdout);
    print_count(days->days, "day");
    printf(", %s to %s\n", cy_day_print(first, days->first),
           cy_day_print(last, days->first + days->days - 1));
    printf("Figures in %s (%s); in the farm's units:\n", cy_station_scale_word(report->scale),
           report->is_fixed             ? "as this form always is"
           : told != CY_STATION_GUESSED ? "as told"
           : report->sure               ? "they leave no doubt"
                                        : "a guess");
    for (int i = 0; i < report->sample_count; i++)
        print_day(report->samples[i].day, report->samples[i].tmin_c, report->samples[i].tmax_c,
                  report->samples[i].rain_mm, system);
}

static void print_gaps(const struct cy_gaps *gaps)
{
    char from[CY_DAY_TEXT];
    if (gaps->filled > 0 || gaps->taken_dry > 0)
        printf("Gaps of up to %d days, filled: temperatures of %d, laid between their neighbours; "
               "rain of %d, taken as none.\n",
               CY_GAPS_FILLED, gaps->filled, gaps->taken_dry);
    if (gaps->open > 0) {
        fputs("Longer gaps: ", stdout);
        print_count(gaps->open, "day");
        printf(" missing; the longest is %d from %s.\n", gaps->longest,
               cy_day_print(from, gaps->from));
    }
    if (gaps->rain_lacks > 0) {
        print_count(gaps->rain_lacks, "day");
        puts(" with temperatures but no rain: the plan makes it up from the normals.");
    }
}

static void print_years(const struct cy_weather *weather)
{
    enum { MOST = 8 };
    int whole = 0, left_out = 0;
    int first = cy_day_year(weather->first);
    int last = cy_day_year(weather->first + weather->days - 1);
    for (int year = first; year <= last; year++)
        whole += cy_gaps_year_is_whole(weather, year);
    print_count(whole, "complete year");
    for (int year = first; year <= last; year++) {
        if (cy_gaps_year_is_whole(weather, year))
            continue;
        if (++left_out <= MOST)
            printf("%s %d", left_out == 1 ? "; not complete:" : ",", year);
    }
    if (left_out > MOST)
        printf(" and %d more", left_out - MOST);
    puts(".");
}

static int copy_days(struct cy_weather *out, const struct cy_weather *days)
{
    size_t size = (size_t)days->days * sizeof(double);
    int status = cy_weather_init(out, days->first, days->days);
    if (status != CY_OK)
        return status;
    memcpy(out->tmin_c, days->tmin_c, size);
    memcpy(out->tmax_c, days->tmax_c, size);
    memcpy(out->rain_mm, days->rain_mm, size);
    memcpy(out->origin, days->origin, (size_t)days->days);
    return CY_OK;
}

static int print_understood(const struct cy_weather *days, const struct cy_station_report *report,
                            enum cy_station_scale told, enum cy_system system)
{
    struct cy_weather filled;
    struct cy_gaps gaps;
    if (copy_days(&filled, days) != CY_OK)
        return CY_NO_MEMORY;
    cy_gaps_fill(&gaps, &filled, CY_GAPS_FILLED);
    print_head(days, report, told, system);
    print_gaps(&gaps);
    if (report->dropped > 0) {
        print_count(report->dropped, "value");
        puts(" not used: marked as having failed a check.");
    }
    if (report->traces > 0) {
        print_count(report->traces, "trace");
        puts(" of rain, counted as none.");
    }
    print_years(&filled);
    cy_weather_dispose(&filled);
    return CY_OK;
}

/* ---- asking --------------------------------------------------------------------------------- */

/* A guess is never taken silently. */
static bool may_use(const struct cy_station_report *report, enum cy_station_scale told, bool yes)
{
    char answer[16];
    if (report->sure || told != CY_STATION_GUESSED || yes)
        return true;
    fflush(stdout);
    if (!isatty(STDIN_FILENO)) {
        fputs("caneyear weather: the figures do not tell their units; say --units tenths, metric "
              "or us, or take the guess with --yes\n",
              stderr);
        return false;
    }
    printf("Is that right? [y/n] ");
    fflush(stdout);
    if (!interrupted && fgets(answer, sizeof answer, stdin) &&
        (answer[0] == 'y' || answer[0] == 'Y'))
        return true;
    fputs("Nothing was changed; --units tenths, metric or us says what they are in.\n", stderr);
    return false;
}

/* ---- the verb ------------------------------------------------------------------------------- */

static void print_conflicts(const struct cy_weather_added *added, bool newer_wins,
                            enum cy_system system)
{
    const struct cy_weather_day *older = &added->older, *newer = &added->newer;
    print_count(added->conflicts, "conflict");
    puts(" with what the farm has; the first day as it was and as in this file:");
    print_figures(older, system);
    print_figures(newer, system);
    puts(newer_wins ? "This file's figures were taken."
                    : "The older figures stay; --newer-wins takes this file's.");
}

static void print_added(const struct cy_weather_added *added, bool newer_wins,
                        enum cy_system system)
{
    if (added->conflicts > 0)
        print_conflicts(added, newer_wins, system);
    if (!added->changed) {
        puts("Nothing changed: the farm has these days.");
        return;
    }
    if (added->anew) {
        fputs("The plan rested on ", stdout);
        print_clean(*added->before ? added->before : "a station without a name");
        puts(" and now rests on this station alone.");
    }
    fputs("Added: ", stdout);
    print_count(added->new_days, "new day");
    printf(", %d changed or completed. Undo takes them back.\n", added->completed);
}

struct request {
    const char *path;
    struct cy_station_options options;
    bool newer_wins, yes;
};

static int add(struct cy_loaded *loaded, const struct request *request, struct meter *meter,
               struct cy_issues *issues)
{
    struct cy_weather days;
    struct cy_station_report report;
    struct cy_weather_added added;
    char author[CY_AUTHOR_TEXT];
    enum cy_system system = cy_farm_system(loaded->farm);
    int status = cy_station_read(&days, &report, request->path, &request->options, issues);
    wipe_progress(meter);
    if (status != CY_OK)
        return status;
    status = print_understood(&days, &report, request->options.scale, system);
    if (status == CY_OK && !may_use(&report, request->options.scale, request->yes)) {
        cy_weather_dispose(&days);
        return CY_INVALID;
    }
    *meter = (struct meter){"storing", PERCENT_READ, 100, -1, meter->on};
    struct cy_weather_source source = {.days = &days,
                                       .station = report.station,
                                       .path = request->path,
                                       .hash = report.hash,
                                       .newer_wins = request->newer_wins,
                                       .progress = show_progress,
                                       .payload = meter};
    cy_file_author(author);
    if (status == CY_OK)
        status = cy_file_weather_add(loaded->file, &source, author, &added, issues);
    wipe_progress(meter);
    if (status == CY_OK)
        print_added(&added, request->newer_wins, system);
    cy_weather_dispose(&days);
    return status;
}

static bool units_wanted(enum cy_station_scale *out, const char *text)
{
    static const char *const words[] = {
        [CY_STATION_METRIC] = "metric", [CY_STATION_US] = "us", [CY_STATION_TENTHS] = "tenths"};
    *out = CY_STATION_GUESSED;
    if (!text)
        return true;
    for (int i = CY_STATION_GUESSED + 1; i < CY_STATION_SCALE_COUNT; i++)
        if (strcmp(words[i], text) == 0)
            *out = (enum cy_station_scale)i;
    if (*out != CY_STATION_GUESSED)
        return true;
    cy_usage("weather", "--units takes tenths, metric or us, not", text);
    return false;
}

static int run(const char *farm, struct request *request)
{
    struct cy_loaded loaded;
    struct cy_issues issues = {0};
    struct meter meter = {"reading", 0, PERCENT_READ, -1, isatty(STDERR_FILENO) != 0};
    if (!cy_load_file(&loaded, farm))
        return EXIT_INPUT;
    catch_interrupt();
    request->options.as_read = true;
    request->options.progress = show_progress;
    request->options.payload = &meter;
    int status = add(&loaded, request, &meter, &issues);
    if (status == CY_CANCELLED)
        fputs("caneyear weather: stopped; nothing was changed\n", stderr);
    else if (status == CY_NO_MEMORY)
        fputs("caneyear weather: out of memory\n", stderr);
    else if (status != CY_OK)
        cy_print_issues(&issues);
    cy_loaded_dispose(&loaded);
    return status == CY_OK && fflush(stdout) == 0 ? 0 : EXIT_INPUT;
}

int cy_main_weather(int argc, char **argv)
{
    const char *units = NULL;
    struct request request = {0};
    bool wants_help = false;
    const struct cy_option options[] = {
        {"--units", NULL, &units, NULL},
        {"--station", NULL, &request.options.station, NULL},
        {"--newer-wins", NULL, NULL, &request.newer_wins},
        {"--yes", NULL, NULL, &request.yes},
        {"--help", "-h", NULL, &wants_help},
        {NULL, NULL, NULL, NULL},
    };
    int count = cy_options_read("weather", argc, argv, options);
    if (count < 0)
        return EXIT_USAGE;
    if (wants_help) {
        fputs(help, stdout);
        return 0;
    }
    if (count != 2)
        return cy_usage("weather", "give a farm file and a station's file", NULL);
    if (!units_wanted(&request.options.scale, units))
        return EXIT_USAGE;
    request.path = argv[1];
    return run(argv[0], &request);
}
