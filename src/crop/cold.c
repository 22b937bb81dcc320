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

/* From January to late February T50 rose "up to 2.2 C in most", and 2.8 to 6.8 C in Osage, Ponca
 * and Natchez: the same paper. */
#define MOST_LOSE CY_COLD_LOSS_K
#define THREE_LOSE 4.8

/* clang-format off */
static const struct cy_cold_cultivar cultivars[] = {
    {"Ouachita", {{11, 18, -19.1, NOVEMBER_2023}, {1, 15, -21.7, JANUARY_2022}}, 2, MOST_LOSE},
    {"Von", {{11, 18, -17.7, NOVEMBER_2023}}, 1, MOST_LOSE},
    {"Apache", {{11, 18, -17.3, NOVEMBER_2023}}, 1, MOST_LOSE},
    {"Navaho", {{11, 18, -17.1, NOVEMBER_2023}}, 1, MOST_LOSE},
    {"Arapaho", {{11, 18, -16.7, NOVEMBER_2023}}, 1, MOST_LOSE},
    {"Caddo", {{11, 18, -16.1, NOVEMBER_2023}}, 1, MOST_LOSE},
    {"Osage", {{11, 18, -15.9, NOVEMBER_2023}}, 1, THREE_LOSE},
    {"Ponca", {{11, 18, -15.7, NOVEMBER_2023}}, 1, THREE_LOSE},
    {"Natchez", {{11, 18, -12.7, NOVEMBER_2023}, {1, 15, -14.5, JANUARY_2022}}, 2, THREE_LOSE},
    {"Illini Hardy", {{11, 15, -15.0, ILLINI}, {1, 15, -18.4, ILLINI}, {3, 15, -13.8, ILLINI}}, 3, 0},
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

/* ---- a whole winter ------------------------------------------------------------------------- */

double cy_cold_buds_killed(double temp_c, double t50_c)
{
    return killed(temp_c, t50_c, dormant_scale_k);
}

/* "Late February" and "January" as days. */
enum { MID_JANUARY = 14, LATE_FEBRUARY = 55 };

static void turn(struct cy_cold_course *course, int day, double t50_c)
{
    course->turns[course->count++] = (struct cy_cold_turn){day, t50_c};
}

void cy_cold_course_of(struct cy_cold_course *out, const char *name, double november_c,
                       cy_basis november_basis)
{
    const struct cy_cold_cultivar *published = cy_cold_find(name);
    *out = (struct cy_cold_course){0};
    if (!published && isnan(november_c))
        return;
    out->basis = CY_BASIS_FITTED; /* the width, and what follows the published days */
    double moved_k = 0, lost_k = CY_COLD_LOSS_K;
    if (!isnan(november_c))
        out->basis |= november_basis;
    if (published) {
        lost_k = published->lost_k;
        out->basis |= CY_BASIS_PUBLISHED;
        if (!isnan(november_c))
            moved_k = november_c - published->points[0].t50_c;
        for (size_t i = 0; i < published->count; i++)
            /* Any winter that ends in a year of 365 days. */
            turn(out, day_of(&published->points[i], 2000) - cy_day_of(2001, 1, 1),
                 published->points[i].t50_c + moved_k);
    } else {
        turn(out, cy_day_of(2000, 11, 18) - cy_day_of(2001, 1, 1), november_c);
    }
    double last_c = out->turns[out->count - 1].t50_c;
    if (out->turns[out->count - 1].day < 0)
        turn(out, MID_JANUARY, last_c -= CY_COLD_GAIN_K);
    if (lost_k > 0)
        turn(out, LATE_FEBRUARY, last_c + lost_k);
}

double cy_cold_course_t50(const struct cy_cold_course *course, int day)
{
    const struct cy_cold_turn *turns = course->turns;
    size_t next = 0;
    while (next < course->count && turns[next].day < day)
        next++;
    if (course->count == 0)
        return NAN;
    if (next == 0)
        return turns[0].t50_c;
    if (next == course->count)
        return turns[next - 1].t50_c;
    double part = (double)(day - turns[next - 1].day) / (turns[next].day - turns[next - 1].day);
    return turns[next - 1].t50_c + part * (turns[next].t50_c - turns[next - 1].t50_c);
}
