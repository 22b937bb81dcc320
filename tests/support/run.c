/* SPDX-License-Identifier: MIT
 * Running a program to its end, and all it wrote. */
#include "support/run.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <setjmp.h>
#include <signal.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include <cmocka.h>

enum { PATIENCE_S = 60, CANNOT_START = 127 };

struct pipes {
    int in[2], out[2], err[2];
};

static void open_pipes(struct pipes *pipes)
{
    assert_int_equal(pipe(pipes->in), 0);
    assert_int_equal(pipe(pipes->out), 0);
    assert_int_equal(pipe(pipes->err), 0);
}

/* In the child: nothing here returns. */
static void start(const struct run *run, const struct pipes *pipes)
{
    dup2(pipes->in[0], STDIN_FILENO);
    dup2(pipes->out[1], STDOUT_FILENO);
    dup2(pipes->err[1], STDERR_FILENO);
    for (int fd = STDERR_FILENO + 1; fd < 256; fd++)
        close(fd);
    if (run->folder && chdir(run->folder) != 0)
        _exit(CANNOT_START);
    for (size_t i = 0; run->environment && run->environment[i]; i++)
        putenv((char *)run->environment[i]);
    execv(run->argv[0], (char *const *)run->argv);
    _exit(CANNOT_START);
}

static time_t now(void)
{
    struct timespec at;
    clock_gettime(CLOCK_MONOTONIC, &at);
    return at.tv_sec;
}

/* False at the end of the pipe. */
static bool drain(int fd, char **text, size_t *length)
{
    char block[4096];
    ssize_t got = read(fd, block, sizeof block);
    if (got <= 0)
        return got < 0 && errno == EINTR;
    char *longer = realloc(*text, *length + (size_t)got + 1);
    assert_non_null(longer);
    memcpy(longer + *length, block, (size_t)got);
    *text = longer;
    *length += (size_t)got;
    longer[*length] = '\0';
    return true;
}

/* Writes the input and takes in both outputs, so that no pipe is ever full for long. */
static void talk(struct ran *ran, const struct pipes *pipes, const char *input, pid_t child)
{
    size_t left = input ? strlen(input) : 0;
    time_t deadline = now() + PATIENCE_S;
    struct pollfd ends[] = {
        {pipes->out[0], POLLIN, 0}, {pipes->err[0], POLLIN, 0}, {pipes->in[1], POLLOUT, 0}};
    while (ends[0].fd >= 0 || ends[1].fd >= 0) {
        if (left == 0 && ends[2].fd >= 0) {
            close(ends[2].fd);
            ends[2].fd = -1;
        }
        poll(ends, 3, 1000);
        if (ends[0].fd >= 0 && ends[0].revents && !drain(ends[0].fd, &ran->out, &ran->out_length))
            ends[0].fd = -1;
        if (ends[1].fd >= 0 && ends[1].revents && !drain(ends[1].fd, &ran->err, &ran->err_length))
            ends[1].fd = -1;
        if (ends[2].fd >= 0 && ends[2].revents) {
            ssize_t put = write(ends[2].fd, input, left);
            left = put < 0 ? 0 : left - (size_t)put;
            input += put < 0 ? 0 : put;
        }
        if (now() > deadline) {
            kill(child, SIGKILL);
            waitpid(child, NULL, 0);
            fail_msg("the program has not ended after %d s", PATIENCE_S);
        }
    }
    if (ends[2].fd >= 0)
        close(ends[2].fd);
}

struct ran run_program(const struct run *run)
{
    struct ran ran = {.out = calloc(1, 1), .err = calloc(1, 1)};
    struct pipes pipes;
    int status;
    assert_true(ran.out && ran.err);
    open_pipes(&pipes);
    fflush(NULL);
    signal(SIGPIPE, SIG_IGN); /* it may end before it has read all */
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        signal(SIGPIPE, SIG_DFL);
        start(run, &pipes);
    }
    close(pipes.in[0]);
    close(pipes.out[1]);
    close(pipes.err[1]);
    talk(&ran, &pipes, run->input, child);
    close(pipes.out[0]);
    close(pipes.err[0]);
    while (waitpid(child, &status, 0) < 0)
        assert_int_equal(errno, EINTR);
    ran.status = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
    if (ran.status == CANNOT_START)
        fail_msg("%s cannot be run", run->argv[0]);
    return ran;
}

void ran_dispose(struct ran *ran)
{
    free(ran->out);
    free(ran->err);
    *ran = (struct ran){0};
}

const char *run_caneyear(void)
{
    static char path[4096];
    const char *build = getenv("B");
    snprintf(path, sizeof path, "%s/check/caneyear", build ? build : "build");
    return path;
}
