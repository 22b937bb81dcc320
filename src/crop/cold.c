/* SPDX-License-Identifier: MIT
 * Cold injury of flowers and of dormant buds, where figures are published. */
#include <caneyear/crop/cold.h>

#include <math.h>
#include <string.h>

#include <caneyear/base/text.h>

/* How wide the kill of dormant buds is was not to be read. Two cultivars have a T50 of January
 * 2022 and a survival after -22 C in December 2022, both in the Journal of the American
 * Pomological Society, January 2024 (Ouachita -21.7 C and 46.0 %, Natchez -14.5 C and 4.7 %): a
 * logistic through both points has a scale of 1.87 and 2.49 K. Their mean: fitted here. */
static const double dormant_scale_k = 2.18;

#define JANUARY_2022 "Warmund, Journal of the American Pomological Society, January 2024, pp. 36-43"
#define NOVEMBER_2023                                                                              \
    "Warmund, Journal of the American Pomological Society, January 2024, table 3 (18 November)"
#define ILLINI                                                                                     \
    "Warmund and others, Fruit Varieties Journal 47(3):146-152, 1993 (freezing point of primary "  \
    "buds)"

/* clang-format off */
static const struct cy_cold_cultivar cultivars[] = {
    {"Ouachita", {{11, 18, -19.1, NOVEMBER_2023}, {1, 15, -21.7, JANUARY_2022}}, 2},
    {"Von", {{11, 18, -17.7, NOVEMBER_2023}}, 1},
    {"Apache", {{11, 18, -17.3, NOVEMBER_2023}}, 1},
    {"Navaho", {{11, 18, -17.1, NOVEMBER_2023}}, 1},
    {"Arapaho", {{11, 18, -16.7, NOVEMBER_2023}}, 1},
    {"Caddo", {{11, 18, -16.1, NOVEMBER_2023}}, 1},
    {"Osage", {{11, 18, -15.9, NOVEMBER_2023}}, 1},
    {"Ponca", {{11, 18, -15.7, NOVEMBER_2023}}, 1},
    {"Natchez", {{11, 18, -12.7, NOVEMBER_2023}, {1, 15, -14.5, JANUARY_2022}}, 2},
    {"Illini Hardy", {{11, 15, -15.0, ILLINI}, {1, 15, -18.4, ILLINI}, {3, 15, -13.8, ILLINI}}, 3},
};
/* clang-format on */

static const char *const stage_words[] = {
#define STAGE(name, word) word,
    CY_COLD_STAGES(STAGE)
#undef STAGE
};

const char *cy_cold_stage_word(enum cy_cold_stage stage)
{
    return stage_words[stage];
}

const struct cy_cold_cultivar *cy_cold_at(size_t index)
{
    return index < sizeof cultivars / sizeof *cultivars ? &cultivars[index] : NULL;
}

const struct cy_cold_cultivar *cy_cold_find(const char *name)
{
    const struct cy_cold_cultivar *cultivar;
    for (size_t i = 0; (cultivar = cy_cold_at(i)); i++)
        if (cy_word_is(name, strlen(name), cultivar->name))
            return cultivar;
    return NULL;
}

static double killed(double temp_c, double t50_c, double scale_k)
{
    return 1 / (1 + exp((temp_c - t50_c) / scale_k));
}

struct cy_cold_kill cy_cold_flowers(enum cy_cold_stage stage, double temp_c)
{
    double span_k = stage == CY_COLD_TIGHT ? CY_COLD_TIGHT_SPAN_K : CY_COLD_BLOOM_SPAN_K;
    return (struct cy_cold_kill){killed(temp_c, CY_COLD_FLOWER_C, span_k / (2 * log(99))),
                                 CY_COLD_FLOWER_C};
}

/* A published day laid into the winter that begins in `year`. */
static cy_day day_of(const struct cy_cold_point *point, int year)
{
    return cy_day_of(point->month > 6 ? year : year + 1, point->month, point->day);
}

bool cy_cold_dormant(struct cy_cold_kill *out, const struct cy_cold_cultivar *cultivar, cy_day day,
                     double temp_c)
{
    struct cy_date date = cy_day_date(day);
    int winter = date.month > 6 ? date.year : date.year - 1;
    for (size_t i = 0; i < cultivar->count; i++) {
        const struct cy_cold_point *point = &cultivar->points[i];
        const struct cy_cold_point *next = i + 1 < cultivar->count ? point + 1 : point;
        cy_day from = day_of(point, winter), to = day_of(next, winter);
        if (from == CY_DAY_NONE || to == CY_DAY_NONE || day < from || day > to)
            continue;
        double part = to > from ? (double)(day - from) / (to - from) : 0;
        out->t50_c = point->t50_c + part * (next->t50_c - point->t50_c);
        out->share = killed(temp_c, out->t50_c, dormant_scale_k);
        return true;
    }
    return false;
}
