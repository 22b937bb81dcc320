/* SPDX-License-Identifier: MIT
 * What most verbs begin with: the catalogue, a farm from a file of either form, the day. */
#include "main/load.h"

#include <langinfo.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

#include <caneyear/base/number.h>

#include "main/options.h"
#include "store/yaml.h"
#include "words/words.h"

bool cy_locale_is_ascii(void)
{
    return strcmp(nl_langinfo(CODESET), "UTF-8") != 0;
}

void cy_print_issues(const struct cy_issues *issues)
{
    struct cy_text line = {0};
    for (size_t i = 0; i < issues->count; i++) {
        cy_text_clear(&line);
        cy_say_issue(&line, &issues->items[i], cy_locale_is_ascii());
        fprintf(stderr, "%s\n", cy_text_get(&line));
    }
    if (issues->dropped > 0)
        fprintf(stderr, "and %zu more\n", issues->dropped);
    cy_text_dispose(&line);
}

bool cy_is_yaml(const char *path)
{
    size_t length = strlen(path);
    return (length > 5 && strcmp(path + length - 5, ".yaml") == 0) ||
           (length > 4 && strcmp(path + length - 4, ".yml") == 0);
}

bool cy_load_catalogue(struct cy_loaded *out)
{
    struct cy_issues issues = {0};
    memset(out, 0, sizeof *out);
    if (cy_catalogue_read(&out->catalogue, NULL, &issues) == CY_OK)
        return true;
    cy_print_issues(&issues);
    return false;
}

bool cy_load_file(struct cy_loaded *out, const char *path)
{
    struct cy_issues issues = {0};
    if (!cy_load_catalogue(out))
        return false;
    if (cy_file_open(&out->file, path, &out->catalogue, &issues) != CY_OK) {
        cy_print_issues(&issues);
        cy_loaded_dispose(out);
        return false;
    }
    out->farm = cy_file_farm(out->file);
    return true;
}

bool cy_load_farm(struct cy_loaded *out, const char *path)
{
    struct cy_issues issues = {0};
    if (!cy_is_yaml(path))
        return cy_load_file(out, path);
    if (!cy_load_catalogue(out))
        return false;
    if (cy_yaml_read(&out->yaml, path, &out->catalogue, &issues) != CY_OK) {
        cy_print_issues(&issues);
        cy_loaded_dispose(out);
        return false;
    }
    out->farm = &out->yaml;
    return true;
}

void cy_loaded_dispose(struct cy_loaded *loaded)
{
    cy_file_close(loaded->file);
    cy_farm_dispose(&loaded->yaml);
    cy_farm_dispose(&loaded->catalogue);
    memset(loaded, 0, sizeof *loaded);
}

struct cy_plan_request cy_plan_asked(const struct cy_loaded *loaded, cy_day today, int season)
{
    return (struct cy_plan_request){.farm = loaded->farm,
                                    .station = cy_file_weather(loaded->file),
                                    .today = today,
                                    .season = season};
}

bool cy_day_wanted(cy_day *out, const char *verb, const char *text)
{
    if (text) {
        if (cy_day_parse(out, text, strlen(text)))
            return true;
        cy_usage(verb, "a day is YYYY-MM-DD, from 1800 to 2400, not", text);
        return false;
    }
    time_t now = time(NULL);
    struct tm local;
    localtime_r(&now, &local);
    *out = cy_day_of(local.tm_year + 1900, local.tm_mon + 1, local.tm_mday);
    return true;
}

bool cy_season_wanted(int *out, const char *verb, const char *text)
{
    double year = 0;
    *out = 0;
    if (!text)
        return true;
    if (cy_number_parse(&year, text, strlen(text)) && year == (int)year &&
        year > CY_YEAR_MIN + 2 && year < CY_YEAR_MAX - 2) {
        *out = (int)year;
        return true;
    }
    cy_usage(verb, "a season is a year between 1803 and 2397, not", text);
    return false;
}

void cy_warn_ahead(const char *verb, cy_day day)
{
    cy_day today;
    char text[CY_DAY_TEXT];
    if (cy_day_wanted(&today, verb, NULL) && day > today)
        fprintf(stderr, "caneyear %s: %s lies after today; it is kept, and --corrects mends it\n",
                verb, cy_day_print(text, day));
}
