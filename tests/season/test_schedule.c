/* SPDX-License-Identifier: MIT
 * The earliest deadline first: instances with proven optima, and every small one tried out. */
#include <limits.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include <caneyear/base/issue.h>
#include <caneyear/base/random.h>
#include <caneyear/season/schedule.h>

#define COUNT_OF(array) (sizeof(array) / sizeof *(array))
#define MOST_DAYS 200

static void check_near(double actual, double expected, double within, int line)
{
    if (fabs(actual - expected) <= within)
        return;
    print_error("%s:%d: %.12g is not %.12g within %g\n", __FILE__, line, actual, expected, within);
    _fail(__FILE__, line);
}
#define assert_near(actual, expected, within) check_near(actual, expected, within, __LINE__)

static const double one_a_day[MOST_DAYS] = {
    1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1,
    1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1};
/* A time unit as a day with one hour: [t, t + 1) is day t, and an end at t is the end of day
 * t - 1. So lateness in days is lateness in units. */
static const struct cy_schedule_hours units = {0, one_a_day, 60};

static struct cy_schedule made(const struct cy_schedule_task *tasks, size_t count,
                               const struct cy_schedule_hours *crew)
{
    struct cy_schedule schedule;
    assert_int_equal(cy_schedule_make(&schedule, tasks, count, crew), CY_OK);
    return schedule;
}

static int greatest_lateness(const struct cy_schedule_task *tasks, size_t count,
                             const struct cy_schedule_hours *crew)
{
    struct cy_schedule schedule = made(tasks, count, crew);
    const int greatest = schedule.classes[tasks[0].urgent].max_lateness;
    assert_int_equal(schedule.classes[tasks[0].urgent].tasks, count);
    assert_int_equal(schedule.classes[!tasks[0].urgent].max_lateness, INT_MIN);
    cy_schedule_dispose(&schedule);
    return greatest;
}

/* ---- published instances -------------------------------------------------------------------- */

/* The next order of a permutation; false after the last. */
static bool next_order(int *order, int count)
{
    int i = count - 2, j = count - 1;
    while (i >= 0 && order[i] > order[i + 1])
        i--;
    if (i < 0)
        return false;
    while (order[j] < order[i])
        j--;
    int swap = order[i];
    order[i] = order[j];
    order[j] = swap;
    for (int a = i + 1, b = count - 1; a < b; a++, b--) {
        swap = order[a];
        order[a] = order[b];
        order[b] = swap;
    }
    return true;
}

static int lateness_of_order(const int *order, const int *hours, const int *due)
{
    int end = 0, worst = INT_MIN;
    for (int i = 0; i < 6; i++) {
        end += hours[order[i]];
        if (worst < end - due[order[i]])
            worst = end - due[order[i]];
    }
    return worst;
}

static void six_tasks(const int due[6], int expected)
{
    static const int hours[6] = {3, 2, 1, 4, 3, 2};
    struct cy_schedule_task tasks[6];
    for (int i = 0; i < 6; i++)
        tasks[i] = (struct cy_schedule_task){0, due[i] - 1, hours[i], false, CY_SCHEDULE_FREE};
    assert_int_equal(greatest_lateness(tasks, 6, &units), expected);

    int order[6] = {0, 1, 2, 3, 4, 5}, best = INT_MAX;
    do {
        const int worst = lateness_of_order(order, hours, due);
        if (worst < best)
            best = worst;
    } while (next_order(order, 6));
    assert_int_equal(best, expected);
}

/* Lecture notes "Minimizing Maximum Lateness": hours 3 2 1 4 3 2, due 6 8 9 9 10 11; the order
 * that they show, 3 2 5 4 1 6, comes to 7. All 720 orders: 4 is the least. */
static void six_tasks_of_the_lecture(void **state)
{
    (void)state;
    static const int due[6] = {6, 8, 9, 9, 10, 11}, hours[6] = {3, 2, 1, 4, 3, 2};
    static const int shown[6] = {2, 1, 4, 3, 0, 5};
    six_tasks(due, 4);
    assert_int_equal(lateness_of_order(shown, hours, due), 7);

    /* by earliest due day: 0 0 0 1 3 4 */
    static const int lateness[6] = {-3, -3, -3, 1, 3, 4};
    struct cy_schedule_task tasks[6];
    for (int i = 0; i < 6; i++)
        tasks[i] = (struct cy_schedule_task){0, due[i] - 1, hours[i], true, CY_SCHEDULE_FREE};
    struct cy_schedule schedule = made(tasks, 6, &units);
    for (int i = 0; i < 6; i++)
        assert_int_equal(schedule.outcomes[i].lateness, lateness[i]);
    assert_int_equal(schedule.classes[CY_SCHEDULE_CANNOT_WAIT].late, 3);
    cy_schedule_dispose(&schedule);
}

/* The textbook's variant, due 6 8 9 9 14 15 (from memory): 1, all 720 orders checked. */
static void six_tasks_of_the_textbook(void **state)
{
    (void)state;
    static const int due[6] = {6, 8, 9, 9, 14, 15};
    six_tasks(due, 1);
}

/* European Journal of Operational Research 11:42-47, 1982 (from memory): release, work, tail. */
static const int released[7] = {10, 13, 11, 20, 30, 0, 30}, work[7] = {5, 6, 7, 4, 3, 6, 2},
                 tail[7] = {7, 26, 24, 21, 8, 17, 0};

static void seven_tasks(struct cy_schedule_task tasks[7])
{
    for (int i = 0; i < 7; i++)
        tasks[i] = (struct cy_schedule_task){released[i], 100 - tail[i] - 1, work[i], false,
                                             CY_SCHEDULE_FREE};
}

/* Due at 100 less the tail, the least greatest lateness is -51: all is done with its tail by 49. */
static void seven_tasks_with_release_days(void **state)
{
    (void)state;
    struct cy_schedule_task tasks[7];
    seven_tasks(tasks);
    assert_int_equal(greatest_lateness(tasks, 7, &units), -51);

    /* No plan beats first release + work + shortest tail of any set of tasks: 49 again. */
    int bound = 0;
    for (int set = 1; set < 128; set++) {
        int first = INT_MAX, total = 0, least = INT_MAX;
        for (int i = 0; i < 7; i++) {
            if (!(set >> i & 1))
                continue;
            first = released[i] < first ? released[i] : first;
            least = tail[i] < least ? tail[i] : least;
            total += work[i];
        }
        bound = first + total + least > bound ? first + total + least : bound;
    }
    assert_int_equal(bound, 49);
}

static int span_of_order(const int *order)
{
    int now = 0, span = 0;
    for (int i = 0; i < 7; i++) {
        const int task = order[i];
        now = (now > released[task] ? now : released[task]) + work[task];
        span = now + tail[task] > span ? now + tail[task] : span;
    }
    return span;
}

/* The same source: 53 for the longest tail first, 50 for the best plan that lays nothing aside. */
static void laying_aside_pays(void **state)
{
    (void)state;
    static const int listed[7] = {5, 0, 1, 2, 3, 4, 6};
    int order[7] = {0, 1, 2, 3, 4, 5, 6}, best = INT_MAX;
    do {
        const int span = span_of_order(order);
        best = span < best ? span : best;
    } while (next_order(order, 7));
    assert_int_equal(best, 50);
    assert_int_equal(span_of_order(listed), 53);
}

/* The whole plan of the seven, unit by unit: [0,6) 6, idle, [10,11) 1, [11,13) 3, [13,19) 2,
 * [19,24) 3, [24,28) 4, [28,30) 1, [30,33) 5, [33,35) 1, [35,37) 7. */
static void seven_tasks_step_by_step(void **state)
{
    (void)state;
    static const char expected[] = "666666----1332222223333344441155511"
                                   "77-----------------------";
    static const int ends[7] = {35, 19, 24, 28, 33, 6, 37};
    struct cy_schedule_task tasks[7];
    char plan[61] = {0};
    seven_tasks(tasks);
    struct cy_schedule schedule = made(tasks, 7, &units);
    memset(plan, '-', 60);
    for (int i = 0; i < 7; i++) {
        const struct cy_schedule_outcome *outcome = &schedule.outcomes[i];
        assert_int_equal(outcome->piece_count, work[i]);
        for (size_t p = 0; p < outcome->piece_count; p++) {
            const struct cy_schedule_piece *piece = &schedule.pieces[outcome->first_piece + p];
            assert_near(piece->hours, 1, 0);
            assert_int_equal(plan[piece->day], '-');
            plan[piece->day] = (char)('1' + i);
        }
        assert_int_equal(outcome->finish + 1, ends[i]);
    }
    assert_string_equal(plan, expected);
    cy_schedule_dispose(&schedule);
}

/* Two workers hour by hour, each on a task of his own: the first two unfinished of the order. */
static int worst_of_two_workers(const int order[3])
{
    static const int due[3] = {2, 2, 3};
    int left[3] = {1, 1, 3}, worst = INT_MIN;
    for (int hour = 1; hour <= 5; hour++)
        for (int busy = 0, i = 0; busy < 2 && i < 3; i++) {
            const int task = order[i];
            if (left[task] == 0)
                continue;
            busy++;
            if (--left[task] == 0 && worst < hour - due[task])
                worst = hour - due[task];
        }
    return worst;
}

/* Two workers; tasks of 1, 1 and 3 hours due at 2, 2 and 3 (standard theory, from memory). Where
 * each task takes one worker, the rule ends at 4 and another plan at 3. A crew whose hours may be
 * split has no such trouble: it is one worker of two hours. */
static void two_workers_are_not_one_crew(void **state)
{
    (void)state;
    static const double two_a_day[4] = {2, 2, 2, 2};
    static const struct cy_schedule_hours pair = {0, two_a_day, 4};
    static const struct cy_schedule_task tasks[3] = {{0, 1, 1, false, CY_SCHEDULE_FREE},
                                                     {0, 1, 1, false, CY_SCHEDULE_FREE},
                                                     {0, 2, 3, false, CY_SCHEDULE_FREE}};
    assert_int_equal(greatest_lateness(tasks, 3, &pair), 0);

    static const int by_due[3] = {0, 1, 2}, longest_first[3] = {2, 0, 1};
    assert_int_equal(worst_of_two_workers(by_due), 1);
    assert_int_equal(worst_of_two_workers(longest_first), 0);
}

/* ---- every small instance ------------------------------------------------------------------- */

enum { SMALL_TASKS = 4, SMALL_HOURS = 3, SMALL_STATES = 256, SMALL_DAYS = 16 };

struct small {
    struct cy_schedule_task tasks[SMALL_TASKS];
    double hours[SMALL_DAYS];
    struct cy_schedule_hours crew;
};

static int below(struct cy_random *random, int limit)
{
    return (int)(cy_random_uniform(random) * limit);
}

/* Little in the first ten days, enough afterwards. */
static void draw_small(struct small *out, struct cy_random *random, bool waits, bool classes)
{
    for (int i = 0; i < SMALL_DAYS; i++)
        out->hours[i] = i < 10 ? below(random, 3) : 2;
    for (size_t i = 0; i < SMALL_TASKS; i++) {
        struct cy_schedule_task *task = &out->tasks[i];
        task->release = below(random, 8);
        task->due = task->release + below(random, 5);
        task->hours = 1 + below(random, SMALL_HOURS);
        task->urgent = classes && below(random, 2);
        task->after = CY_SCHEDULE_FREE;
        if (waits && i > 0 && below(random, 2))
            task->after = (size_t)below(random, (int)i);
    }
    out->crew = (struct cy_schedule_hours){0, out->hours, SMALL_DAYS};
}

static int left_of(int hours_left, size_t task)
{
    return hours_left >> (2 * task) & 3;
}

/* The least greatest lateness of the tasks that count, by trying every task in every hour: from
 * the last hour back, for every state of the hours left. Independent of the rule. */
static int least_lateness(const struct small *small, const double *hours, unsigned counts)
{
    int best[SMALL_STATES];
    for (int s = 0; s < SMALL_STATES; s++) {
        best[s] = INT_MIN;
        for (size_t i = 0; i < SMALL_TASKS; i++)
            if (left_of(s, i) && counts >> i & 1)
                best[s] = 1000;
    }
    for (int day = SMALL_DAYS - 1; day >= 0; day--)
        for (int hour = 0; hour < (int)hours[day]; hour++) {
            int now[SMALL_STATES];
            for (int s = 0; s < SMALL_STATES; s++) {
                now[s] = best[s];
                for (size_t i = 0; i < SMALL_TASKS; i++) {
                    const struct cy_schedule_task *task = &small->tasks[i];
                    if (!left_of(s, i) || task->release > day ||
                        (task->after != CY_SCHEDULE_FREE && left_of(s, task->after)))
                        continue;
                    int value = best[s - (1 << (2 * i))];
                    if (left_of(s, i) == 1 && counts >> i & 1 && value < day - task->due)
                        value = day - task->due;
                    now[s] = value < now[s] ? value : now[s];
                }
            }
            memcpy(best, now, sizeof best);
        }
    int start = 0;
    for (size_t i = 0; i < SMALL_TASKS; i++)
        start += (int)small->tasks[i].hours << (2 * i);
    return best[start];
}

static void no_plan_is_better(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 11, 0);
    int late = 0;
    for (int run = 0; run < 400; run++) {
        struct small small;
        draw_small(&small, &random, run % 2, false);
        const int greatest = greatest_lateness(small.tasks, SMALL_TASKS, &small.crew);
        assert_int_equal(greatest, least_lateness(&small, small.hours, 15));
        late += greatest > 0;
    }
    assert_true(late > 40 && late < 360); /* both kinds were tried */
}

/* Urgent work fares as if there were no other, even where it waits for other work; the other is
 * the best that the hours left allow. */
static void no_plan_is_better_within_a_class(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 12, 0);
    for (int run = 0; run < 400; run++) {
        struct small small;
        draw_small(&small, &random, true, true);
        unsigned urgent = 0, first = 0; /* those that cannot wait; and those that hold them up */
        for (int i = SMALL_TASKS - 1; i >= 0; i--) {
            urgent |= (unsigned)small.tasks[i].urgent << i;
            first |= urgent & 1u << i;
            if (first >> i & 1 && small.tasks[i].after != CY_SCHEDULE_FREE)
                first |= 1u << small.tasks[i].after;
        }
        struct cy_schedule schedule = made(small.tasks, SMALL_TASKS, &small.crew);
        assert_int_equal(schedule.classes[CY_SCHEDULE_CANNOT_WAIT].max_lateness,
                         least_lateness(&small, small.hours, urgent));

        double left[SMALL_DAYS];
        memcpy(left, small.hours, sizeof left);
        int greatest = INT_MIN;
        for (size_t i = 0; i < SMALL_TASKS; i++) {
            const struct cy_schedule_outcome *outcome = &schedule.outcomes[i];
            if (!(first >> i & 1)) {
                greatest = greatest < outcome->lateness ? outcome->lateness : greatest;
                continue;
            }
            for (size_t p = 0; p < outcome->piece_count; p++) {
                const struct cy_schedule_piece *piece = &schedule.pieces[outcome->first_piece + p];
                left[piece->day] -= piece->hours;
            }
        }
        struct small rest = small;
        for (size_t i = 0; i < SMALL_TASKS; i++) {
            if (first >> i & 1)
                rest.tasks[i].hours = 0;
            for (size_t a = small.tasks[i].after; a != CY_SCHEDULE_FREE; a = small.tasks[a].after)
                if (rest.tasks[i].release < small.tasks[a].release)
                    rest.tasks[i].release = small.tasks[a].release;
        }
        assert_int_equal(greatest, least_lateness(&rest, left, ~first & 15));
        cy_schedule_dispose(&schedule);
    }
}

/* ---- properties ----------------------------------------------------------------------------- */

enum { MANY = 40, MANY_DAYS = 60 };

static void draw_many(struct cy_schedule_task tasks[MANY], double hours[MANY_DAYS],
                      struct cy_random *random, bool waits)
{
    for (int i = 0; i < MANY_DAYS; i++)
        hours[i] = i % 7 == 6 ? 0 : 4 + 8 * cy_random_uniform(random);
    for (size_t i = 0; i < MANY; i++) {
        const cy_day release = below(random, 50) - 3;
        tasks[i] = (struct cy_schedule_task){release, release + below(random, 14),
                                             20 * cy_random_uniform(random), below(random, 3) == 0,
                                             CY_SCHEDULE_FREE};
        if (waits && i > 0 && below(random, 3) == 0)
            tasks[i].after = (size_t)below(random, (int)i);
    }
}

/* Hours are neither lost nor made up, no day is overfull, nothing begins too early. */
static void hours_are_conserved(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 13, 0);
    for (int run = 0; run < 100; run++) {
        struct cy_schedule_task tasks[MANY];
        double hours[MANY_DAYS], given[MANY_DAYS] = {0}, total = 0, in_weeks = 0, capacity = 0;
        draw_many(tasks, hours, &random, true);
        const cy_day first = 20000 + run;
        for (int i = 0; i < MANY; i++) {
            tasks[i].release += first;
            tasks[i].due += first;
        }
        const struct cy_schedule_hours crew = {first, hours, MANY_DAYS};
        struct cy_schedule schedule = made(tasks, MANY, &crew);
        for (int i = 0; i < MANY; i++) {
            const struct cy_schedule_outcome *outcome = &schedule.outcomes[i];
            double sum = outcome->left_hours;
            cy_day last = CY_DAY_NONE;
            for (size_t p = 0; p < outcome->piece_count; p++) {
                const struct cy_schedule_piece *piece = &schedule.pieces[outcome->first_piece + p];
                assert_true(piece->day >= tasks[i].release && piece->day > last);
                assert_true(piece->hours > 0);
                last = piece->day;
                sum += piece->hours;
                given[piece->day - first] += piece->hours;
                total += piece->hours;
            }
            assert_near(sum, tasks[i].hours, 1e-9);
            assert_int_equal(outcome->finish, outcome->left_hours > 0 ? CY_DAY_NONE : last);
            if (tasks[i].after != CY_SCHEDULE_FREE && outcome->piece_count) {
                const cy_day before = schedule.outcomes[tasks[i].after].finish;
                assert_true(before != CY_DAY_NONE);
                assert_true(schedule.pieces[outcome->first_piece].day >= before);
            }
        }
        for (int i = 0; i < MANY_DAYS; i++) {
            assert_true(given[i] <= hours[i] + 1e-8);
            capacity -= hours[i];
        }
        for (size_t w = 0; w < schedule.week_count; w++) {
            in_weeks += schedule.weeks[w].hours;
            capacity += schedule.weeks[w].capacity;
            assert_int_equal(cy_day_weekday(schedule.weeks[w].monday), 0);
        }
        assert_near(in_weeks, total, 1e-8);
        assert_near(capacity, 0, 1e-8);
        cy_schedule_dispose(&schedule);
    }
}

/* More hours on any day never make any task end later, in either class, waiting or not. */
static void more_crew_is_never_later(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 14, 0);
    for (int run = 0; run < 150; run++) {
        struct cy_schedule_task tasks[MANY];
        double hours[MANY_DAYS], more[MANY_DAYS];
        draw_many(tasks, hours, &random, true);
        for (int i = 0; i < MANY_DAYS; i++)
            more[i] = hours[i] + (below(&random, 4) ? 0 : 6 * cy_random_uniform(&random));
        const struct cy_schedule_hours few = {0, hours, MANY_DAYS}, many = {0, more, MANY_DAYS};
        struct cy_schedule a = made(tasks, MANY, &few), b = made(tasks, MANY, &many);
        for (int i = 0; i < MANY; i++) {
            assert_true(b.outcomes[i].lateness <= a.outcomes[i].lateness);
            assert_true(b.outcomes[i].left_hours <= a.outcomes[i].left_hours + 1e-9);
        }
        for (int c = 0; c < CY_SCHEDULE_CLASSES; c++)
            assert_true(b.classes[c].late <= a.classes[c].late);
        cy_schedule_dispose(&a);
        cy_schedule_dispose(&b);
    }
}

/* ---- the smallest crew ---------------------------------------------------------------------- */

static struct cy_schedule_crew smallest(const struct cy_schedule_task *tasks, size_t count,
                                        const struct cy_schedule_hours *crew)
{
    struct cy_schedule_crew found;
    assert_int_equal(cy_schedule_smallest_crew(&found, tasks, count, crew), CY_OK);
    return found;
}

/* The demand bound (standard theory, from memory): all is in time if and only if in every window
 * from a release to a due day the work that lies within is no more than the hours. So the
 * smallest crew is the greatest of those ratios. */
static void the_smallest_crew_meets_the_demand_bound(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 15, 0);
    for (int run = 0; run < 40; run++) {
        struct cy_schedule_task tasks[MANY];
        double hours[MANY_DAYS], bound = 0;
        draw_many(tasks, hours, &random, false);
        for (int i = 0; i < MANY; i++) {
            tasks[i].urgent = run % 2;
            tasks[i].release = tasks[i].release < 0 ? 0 : tasks[i].release;
            /* a Saturday at least, or no crew would do: the seventh day has no hours */
            tasks[i].due = tasks[i].release + 1 + below(&random, 9);
        }
        for (int from = 0; from < MANY; from++)
            for (int to = 0; to < MANY; to++) {
                double demand = 0, offered = 0;
                for (int i = 0; i < MANY; i++)
                    if (tasks[i].release >= tasks[from].release && tasks[i].due <= tasks[to].due)
                        demand += tasks[i].hours;
                for (cy_day day = tasks[from].release; day <= tasks[to].due; day++)
                    offered += hours[day];
                if (demand > 0)
                    bound = fmax(bound, demand / offered);
            }
        const struct cy_schedule_hours crew = {0, hours, MANY_DAYS};
        const struct cy_schedule_crew found = smallest(tasks, MANY, &crew);
        assert_int_equal(found.hopeless, 0);
        assert_near(found.scale, bound, 1e-8 * bound);
    }
}

static size_t late_at(const struct cy_schedule_task *tasks, size_t count,
                      const struct cy_schedule_hours *crew, double scale)
{
    double hours[MOST_DAYS];
    for (size_t i = 0; i < crew->days; i++)
        hours[i] = crew->hours[i] * scale;
    const struct cy_schedule_hours scaled = {crew->first, hours, crew->days};
    struct cy_schedule schedule = made(tasks, count, &scaled);
    const size_t late = schedule.classes[0].late + schedule.classes[1].late;
    cy_schedule_dispose(&schedule);
    return late;
}

/* With both classes, and tasks that wait, and tasks that nobody can save. */
static void the_smallest_crew_is_an_edge(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 16, 0);
    size_t hopeless = 0;
    for (int run = 0; run < 40; run++) {
        struct cy_schedule_task tasks[MANY];
        double hours[MANY_DAYS];
        draw_many(tasks, hours, &random, true);
        const struct cy_schedule_hours crew = {0, hours, MANY_DAYS};
        const struct cy_schedule_crew found = smallest(tasks, MANY, &crew);
        assert_int_equal(late_at(tasks, MANY, &crew, found.scale), found.hopeless);
        assert_true(late_at(tasks, MANY, &crew, found.scale * (1 - 1e-6)) > found.hopeless);
        assert_int_equal(late_at(tasks, MANY, &crew, 1e6), found.hopeless);
        hopeless += found.hopeless;
    }
    assert_true(hopeless > 0);
}

static void crews_by_hand(void **state)
{
    (void)state;
    static const double week[7] = {8, 8, 8, 8, 8, 8, 0};
    static const struct cy_schedule_hours crew = {4, week, 7}; /* 5 January 1970, a Monday */
    /* 30 hours by Wednesday on 24: 1.25 crews */
    const struct cy_schedule_task tight = {4, 6, 30, true, CY_SCHEDULE_FREE};
    assert_near(smallest(&tight, 1, &crew).scale, 1.25, 2e-9);
    /* on a Sunday nobody works; nor did anybody before the first day */
    const struct cy_schedule_task lost[2] = {{10, 10, 1, true, CY_SCHEDULE_FREE},
                                             {0, 3, 5, true, CY_SCHEDULE_FREE}};
    assert_int_equal(smallest(lost, 2, &crew).hopeless, 2);
    assert_near(smallest(lost, 2, &crew).scale, 0, 0);
    assert_near(smallest(NULL, 0, &crew).scale, 0, 0);
    /* work that can wait gets what urgent work leaves: 8 + 10 hours on Monday */
    const struct cy_schedule_task both[2] = {{4, 4, 10, false, CY_SCHEDULE_FREE},
                                             {4, 20, 8, true, CY_SCHEDULE_FREE}};
    assert_near(smallest(both, 2, &crew).scale, 18.0 / 8, 4e-9);
}

/* ---- cases by hand -------------------------------------------------------------------------- */

static void urgent_work_goes_first_whatever_is_due(void **state)
{
    (void)state;
    static const double hours[3] = {4, 4, 4};
    static const struct cy_schedule_hours crew = {4, hours, 3};
    static const struct cy_schedule_task tasks[2] = {{4, 4, 3, false, CY_SCHEDULE_FREE},
                                                     {5, 9, 4, true, CY_SCHEDULE_FREE}};
    struct cy_schedule schedule = made(tasks, 2, &crew);
    assert_int_equal(schedule.outcomes[0].finish, 4);
    cy_schedule_dispose(&schedule);

    static const struct cy_schedule_task sooner[2] = {{4, 4, 3, false, CY_SCHEDULE_FREE},
                                                      {4, 9, 6, true, CY_SCHEDULE_FREE}};
    schedule = made(sooner, 2, &crew);
    assert_int_equal(schedule.outcomes[1].finish, 5);
    assert_int_equal(schedule.outcomes[0].finish, 6); /* 2 hours on the 5th, 1 on the 6th */
    assert_int_equal(schedule.outcomes[0].lateness, 2);
    assert_near(schedule.pieces[schedule.outcomes[0].first_piece].hours, 2, 0);
    assert_int_equal(schedule.week_count, 1);
    assert_near(schedule.weeks[0].capacity, 12, 0);
    assert_near(schedule.weeks[0].hours, 9, 0);
    assert_near(schedule.weeks[0].urgent_hours, 6, 0);
    assert_near(schedule.weeks[0].late_hours, 3, 0);
    assert_int_equal(schedule.weeks[0].monday, 4);
    cy_schedule_dispose(&schedule);
}

/* Posts, wire, plants: the wire is due soon, so the posts are too; and both may end on one day. */
static void a_task_waits_for_another(void **state)
{
    (void)state;
    static const double hours[4] = {8, 8, 8, 8};
    static const struct cy_schedule_hours crew = {0, hours, 4};
    static const struct cy_schedule_task tasks[3] = {{0, 0, 6, false, 1},
                                                     {0, 30, 2, false, CY_SCHEDULE_FREE},
                                                     {0, 3, 8, false, CY_SCHEDULE_FREE}};
    struct cy_schedule schedule = made(tasks, 3, &crew);
    assert_int_equal(schedule.outcomes[1].finish, 0);
    assert_int_equal(schedule.outcomes[0].finish, 0);
    assert_int_equal(schedule.outcomes[0].lateness, 0);
    assert_int_equal(schedule.outcomes[2].finish, 1);
    cy_schedule_dispose(&schedule);
}

/* A task of no hours still waits for its first day and for the task before it. */
static void no_hours_are_no_work(void **state)
{
    (void)state;
    static const double hours[3] = {2, 0, 2};
    static const struct cy_schedule_hours crew = {0, hours, 3};
    static const struct cy_schedule_task tasks[4] = {{1, 1, 0, true, CY_SCHEDULE_FREE},
                                                     {0, 5, 3, true, CY_SCHEDULE_FREE},
                                                     {0, 5, 0, true, 1},
                                                     {7, 9, 0, true, CY_SCHEDULE_FREE}};
    struct cy_schedule schedule = made(tasks, 4, &crew);
    assert_int_equal(schedule.outcomes[0].finish, 1);
    assert_int_equal(schedule.outcomes[1].finish, 2);
    assert_int_equal(schedule.outcomes[2].finish, 2);
    assert_int_equal(schedule.outcomes[3].finish, CY_DAY_NONE); /* past the crew's days */
    assert_int_equal(schedule.outcomes[3].lateness, 1);
    assert_int_equal(schedule.piece_count, 2);
    cy_schedule_dispose(&schedule);
}

static void what_does_not_fit_is_said(void **state)
{
    (void)state;
    static const double hours[2] = {3, 3};
    static const struct cy_schedule_hours crew = {10, hours, 2}, none = {10, NULL, 0};
    static const struct cy_schedule_task tasks[2] = {{10, 10, 8, true, CY_SCHEDULE_FREE},
                                                     {0, 90, 1, true, 0}};
    struct cy_schedule schedule = made(tasks, 2, &crew);
    assert_near(schedule.outcomes[0].left_hours, 2, 1e-12);
    assert_int_equal(schedule.outcomes[0].finish, CY_DAY_NONE);
    assert_int_equal(schedule.outcomes[0].lateness, 2); /* the 12th at the earliest */
    assert_int_equal(schedule.outcomes[1].finish, CY_DAY_NONE);
    assert_int_equal(schedule.outcomes[1].lateness, 1);
    assert_int_equal(schedule.classes[CY_SCHEDULE_CANNOT_WAIT].late, 2);
    cy_schedule_dispose(&schedule);

    schedule = made(tasks, 2, &none);
    assert_int_equal(schedule.week_count, 0);
    assert_near(schedule.outcomes[0].left_hours, 8, 0);
    cy_schedule_dispose(&schedule);
    schedule = made(NULL, 0, &crew);
    assert_int_equal(schedule.piece_count, 0);
    assert_int_equal(schedule.week_count, 2); /* a Sunday and a Monday */
    cy_schedule_dispose(&schedule);
}

/* Tenths that do not add up in binary still fill a day and finish a task. */
static void rounding_makes_no_work(void **state)
{
    (void)state;
    static const double hours[2] = {0.3, 0.3};
    static const struct cy_schedule_hours crew = {0, hours, 2};
    static const struct cy_schedule_task tasks[4] = {{0, 0, 0.1, true, CY_SCHEDULE_FREE},
                                                     {0, 0, 0.1, true, CY_SCHEDULE_FREE},
                                                     {0, 0, 0.1, true, CY_SCHEDULE_FREE},
                                                     {0, 0, 0.3, true, CY_SCHEDULE_FREE}};
    struct cy_schedule schedule = made(tasks, 4, &crew);
    assert_int_equal(schedule.piece_count, 4);
    assert_int_equal(schedule.outcomes[2].finish, 0);
    assert_int_equal(schedule.outcomes[3].finish, 1);
    cy_schedule_dispose(&schedule);
}

static void wrong_tasks_are_refused(void **state)
{
    (void)state;
    static const double hours[2] = {3, 3}, negative[2] = {3, -1};
    static const struct cy_schedule_hours crew = {10, hours, 2}, bad = {10, negative, 2};
    static const struct cy_schedule_task good = {10, 10, 8, true, CY_SCHEDULE_FREE};
    static const struct cy_schedule_task ring[3] = {
        {0, 1, 1, true, 1}, {0, 1, 1, true, 2}, {0, 1, 1, true, 0}};
    const struct cy_schedule_task wrong[] = {
        {10, 10, -1, true, CY_SCHEDULE_FREE},
        {10, 10, NAN, true, CY_SCHEDULE_FREE},
        {10, 10, INFINITY, true, CY_SCHEDULE_FREE},
        {CY_DAY_NONE, 10, 1, true, CY_SCHEDULE_FREE},
        {10, CY_DAY_NONE, 1, true, CY_SCHEDULE_FREE},
        {10, 10, 1, true, 1},
        {10, 10, 1, true, 0}, /* waits for itself */
    };
    struct cy_schedule schedule;
    struct cy_schedule_crew found;
    for (size_t i = 0; i < COUNT_OF(wrong); i++) {
        assert_int_equal(cy_schedule_make(&schedule, &wrong[i], 1, &crew), CY_INVALID);
        assert_null(schedule.outcomes);
        assert_int_equal(cy_schedule_smallest_crew(&found, &wrong[i], 1, &crew), CY_INVALID);
    }
    assert_int_equal(cy_schedule_make(&schedule, ring, 3, &crew), CY_INVALID);
    assert_int_equal(cy_schedule_make(&schedule, &good, 1, &bad), CY_INVALID);
    cy_schedule_dispose(&schedule);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(six_tasks_of_the_lecture),
        cmocka_unit_test(six_tasks_of_the_textbook),
        cmocka_unit_test(seven_tasks_with_release_days),
        cmocka_unit_test(laying_aside_pays),
        cmocka_unit_test(seven_tasks_step_by_step),
        cmocka_unit_test(two_workers_are_not_one_crew),
        cmocka_unit_test(no_plan_is_better),
        cmocka_unit_test(no_plan_is_better_within_a_class),
        cmocka_unit_test(hours_are_conserved),
        cmocka_unit_test(more_crew_is_never_later),
        cmocka_unit_test(the_smallest_crew_meets_the_demand_bound),
        cmocka_unit_test(the_smallest_crew_is_an_edge),
        cmocka_unit_test(crews_by_hand),
        cmocka_unit_test(urgent_work_goes_first_whatever_is_due),
        cmocka_unit_test(a_task_waits_for_another),
        cmocka_unit_test(no_hours_are_no_work),
        cmocka_unit_test(what_does_not_fit_is_said),
        cmocka_unit_test(rounding_makes_no_work),
        cmocka_unit_test(wrong_tasks_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
