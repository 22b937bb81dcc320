/* SPDX-License-Identifier: MIT
 * Who works on what when: the earliest deadline first, day by day, against the crew's hours.
 *
 * Each day goes first to work that cannot wait, then to work that can; within a class to what is
 * due first among what may be begun, and a task is laid aside for one that is due sooner. On one
 * crew, whose hours may be split between tasks at will, no other plan has a smaller greatest
 * lateness: W. A. Horn, Naval Research Logistics Quarterly 21:177-185, 1974, from memory, for
 * tasks with a first day; J. R. Jackson's rule of 1955 where all may begin at once. It holds for
 * work that cannot wait over all of the crew's hours, and for work that can over the hours left.
 * It would not hold if a task took one worker at a time and no more.
 *
 * A task may wait for another. Then the other is due no later than whatever waits for it, and
 * cannot wait if that cannot; the rule stays the best. A day is as fine as time is cut: a task may
 * begin on the day on which the one before it ends, in the hours that are left. */
#ifndef CANEYEAR_SEASON_SCHEDULE_H
#define CANEYEAR_SEASON_SCHEDULE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <caneyear/base/day.h>

#define CY_SCHEDULE_FREE SIZE_MAX /* waits for no other task */

struct cy_schedule_task {
    cy_day release, due; /* the first day on which it may be worked on, the last in time */
    double hours;        /* 0 or more */
    bool urgent;         /* cannot wait */
    size_t after;        /* the task that must be finished first, or CY_SCHEDULE_FREE */
};

/* The crew's hours of work on each day from the first; none before or after. */
struct cy_schedule_hours {
    cy_day first;
    const double *hours; /* borrowed */
    size_t days;
};

struct cy_schedule_piece {
    cy_day day;
    double hours;
};

struct cy_schedule_outcome {
    size_t first_piece, piece_count; /* in the schedule's pieces, by day */
    cy_day finish;                   /* CY_DAY_NONE where the crew's days end before the work */
    int lateness;      /* finish less due, in days; unfinished: at least this, 1 or more */
    double left_hours; /* not worked on within the crew's days */
};

struct cy_schedule_week {
    cy_day monday;
    double capacity;     /* the crew's hours */
    double hours;        /* planned */
    double urgent_hours; /* of them, on what cannot wait */
    double late_hours;   /* of them, after the task was due: a week with such hours is overloaded */
};

enum { CY_SCHEDULE_CAN_WAIT, CY_SCHEDULE_CANNOT_WAIT, CY_SCHEDULE_CLASSES };

struct cy_schedule_class {
    size_t tasks, late; /* unfinished counts as late */
    int max_lateness;   /* INT_MIN without a task */
};

/* Zero-initialise, or have it filled; dispose of its insides with cy_schedule_dispose. */
struct cy_schedule {
    struct cy_schedule_outcome *outcomes; /* one a task, in the order of the tasks */
    size_t count;
    struct cy_schedule_piece *pieces;
    size_t piece_count, piece_capacity;
    struct cy_schedule_week *weeks; /* every week of the crew's days */
    size_t week_count;
    struct cy_schedule_class classes[CY_SCHEDULE_CLASSES];
};

/* CY_INVALID (tasks that wait for one another in a ring or for one that is not there; hours that
 * are negative or no number; a day missing) and CY_NO_MEMORY leave *out empty. */
int cy_schedule_make(struct cy_schedule *out, const struct cy_schedule_task *tasks, size_t count,
                     const struct cy_schedule_hours *crew);
void cy_schedule_dispose(struct cy_schedule *schedule);

struct cy_schedule_crew {
    double scale;    /* of the hours of every day; 1: the crew as it is */
    size_t hopeless; /* tasks that are late whatever the crew: overdue, or without a working day */
};

/* The smallest crew, as a multiple of the one given, with which nothing but the hopeless is late:
 * to nine digits, and rounded up. The same failures as cy_schedule_make. */
int cy_schedule_smallest_crew(struct cy_schedule_crew *out, const struct cy_schedule_task *tasks,
                              size_t count, const struct cy_schedule_hours *crew);

#endif
