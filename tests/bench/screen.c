/* SPDX-License-Identifier: MIT
 * make bench: the planner in a terminal: first screen, a key to its redraw, bytes a key, memory. */
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include <caneyear/base/day.h>

#include "support/pty.h"

enum { RUNS = 9, KEYS = 60 };

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

static double middle(double *values, int count)
{
    qsort(values, (size_t)count, sizeof *values, by_size);
    return values[count / 2];
}

static struct pty *open_planner(const char *program, const char *farm, int width, int height)
{
    const char *arguments[] = {program, farm, "--today", "2027-06-01", NULL};
    const char *environment[] = {"TERM=xterm-256color", "LC_ALL=C.UTF-8", "CANEYEAR_SHARE=share",
                                 "XDG_STATE_HOME=/nonexistent", NULL};
    return pty_open(&(struct pty_start){width, height, arguments, environment});
}

/* The most memory the program ever held, in megabytes. */
static double peak_mb(int process)
{
    char path[64], line[256];
    double kb = 0;
    snprintf(path, sizeof path, "/proc/%d/status", process);
    FILE *status = fopen(path, "r");
    while (status && fgets(line, sizeof line, status))
        if (sscanf(line, "VmHWM: %lf", &kb) == 1)
            break;
    if (status)
        fclose(status);
    return kb / 1024;
}

static void measure(const char *program, const char *farm, int width, int height)
{
    double starts[RUNS], keys[KEYS];
    for (int i = 0; i < RUNS; i++) {
        double start = now_ms();
        struct pty *pty = open_planner(program, farm, width, height);
        if (!pty_shows(pty, "? keys"))
            exit(1);
        starts[i] = now_ms() - start;
        pty_close(pty);
    }
    struct pty *pty = open_planner(program, farm, width, height);
    size_t before, after;
    pty_shows(pty, "? keys");
    pty_settle(pty, 50);
    pty_bytes(pty, &before);
    for (int i = 0; i < KEYS; i++) {
        struct cy_date date = cy_day_date(cy_day_of(2027, 6, 1) + i + 1);
        static const char *const months[] = {"Jun", "Jul", "Aug"};
        char wanted[32];
        snprintf(wanted, sizeof wanted, " %d %s 2027", date.day, months[date.month - 6]);
        double start = now_ms();
        pty_send(pty, "\033[C");
        if (!pty_shows(pty, wanted))
            exit(1);
        keys[i] = now_ms() - start;
    }
    pty_settle(pty, 50);
    pty_bytes(pty, &after);
    printf("%dx%d\n", width, height);
    printf("%-58s %9.2f ms\n", "first full screen of the demo farm", middle(starts, RUNS));
    printf("%-58s %9.2f ms\n", "a key to its redraw, the median of 60", middle(keys, KEYS));
    printf("%-58s %9.2f ms\n", "  the slowest of them", keys[KEYS - 1]);
    printf("%-58s %9.0f\n", "bytes a key on the wire", (double)(after - before) / KEYS);
    printf("%-58s %9.1f MB\n", "peak memory", peak_mb(pty_process(pty)));
    pty_close(pty);
}

int main(int argc, char **argv)
{
    if (argc != 3)
        return 2;
    measure(argv[1], argv[2], 80, 24);
    measure(argv[1], argv[2], 200, 50);
    return 0;
}
