/* SPDX-License-Identifier: MIT
 * A program in a terminal of its own, parsed into a screen by libvterm.
 *
 *   test ---- pty ---- keeper (session leader) ---- program (a process group of its own)
 *
 * The keeper stands where a shell would, so that the program can be stopped and continued; it
 * tells over a pipe what became of the program. */
#include "support/pty.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <pty.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>
#include <vterm.h>

enum news_kind { NEWS_STARTED, NEWS_STOPPED, NEWS_ENDED };

struct news {
    enum news_kind kind;
    int value;
};

struct pty {
    int terminal, pipe, width, height;
    pid_t keeper, program;
    bool stopped, ended, closed;
    int status;
    VTerm *vterm;
    VTermScreen *screen;
    char *bytes, *text;
    size_t length, capacity;
};

static void die(const char *what)
{
    perror(what);
    exit(99);
}

static long now_ms(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

/* ---- the keeper ----------------------------------------------------------------------------- */

static void tell(int pipe, enum news_kind kind, int value)
{
    struct news news = {kind, value};
    if (write(pipe, &news, sizeof news) != (ssize_t)sizeof news)
        _exit(98);
}

static void run_program(const struct pty_start *start)
{
    /* What a shell ignores for its background jobs must not reach the program. */
    signal(SIGINT, SIG_DFL);
    signal(SIGQUIT, SIG_DFL);
    setpgid(0, 0);
    signal(SIGTTOU, SIG_IGN);
    tcsetpgrp(STDIN_FILENO, getpid());
    signal(SIGTTOU, SIG_DFL);
    execve(start->arguments[0], (char *const *)start->arguments, (char *const *)start->environment);
    perror(start->arguments[0]);
    _exit(97);
}

static void keep(const struct pty_start *start, int pipe)
{
    int status;
    signal(SIGHUP, SIG_IGN);
    pid_t program = fork();
    if (program == 0) {
        signal(SIGHUP, SIG_DFL);
        run_program(start);
    }
    setpgid(program, program);
    tell(pipe, NEWS_STARTED, program);
    while (waitpid(program, &status, WUNTRACED) == program) {
        if (WIFSTOPPED(status)) {
            tell(pipe, NEWS_STOPPED, WSTOPSIG(status));
            continue;
        }
        tell(pipe, NEWS_ENDED, WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status));
        break;
    }
    _exit(0);
}

/* ---- reading -------------------------------------------------------------------------------- */

static void take_news(struct pty *pty)
{
    struct news news;
    if (read(pty->pipe, &news, sizeof news) != (ssize_t)sizeof news) {
        pty->ended = true;
        return;
    }
    if (news.kind == NEWS_STARTED)
        pty->program = news.value;
    else if (news.kind == NEWS_STOPPED)
        pty->stopped = true;
    else
        pty->status = news.value;
    pty->ended = pty->ended || news.kind == NEWS_ENDED;
}

static void take_bytes(struct pty *pty)
{
    char block[8192];
    ssize_t length = read(pty->terminal, block, sizeof block);
    if (length <= 0) {
        pty->closed = true; /* nobody has the other side open any more */
        return;
    }
    if (pty->length + (size_t)length + 1 > pty->capacity) {
        pty->capacity = (pty->length + (size_t)length + 1) * 2;
        pty->bytes = realloc(pty->bytes, pty->capacity);
        if (!pty->bytes)
            die("realloc");
    }
    memcpy(pty->bytes + pty->length, block, (size_t)length);
    pty->length += (size_t)length;
    pty->bytes[pty->length] = '\0';
    vterm_input_write(pty->vterm, block, (size_t)length);
}

/* Reads what comes within so long; false if nothing did. */
static bool read_some(struct pty *pty, int milliseconds)
{
    struct pollfd polled[] = {{.fd = pty->closed ? -1 : pty->terminal, .events = POLLIN},
                              {.fd = pty->ended ? -1 : pty->pipe, .events = POLLIN}};
    if (poll(polled, 2, milliseconds) <= 0)
        return false;
    if (polled[0].revents)
        take_bytes(pty);
    if (polled[1].revents)
        take_news(pty);
    return true;
}

typedef bool condition(struct pty *pty, const char *text);

static bool wait_for(struct pty *pty, condition *holds, const char *text)
{
    long deadline = now_ms() + PTY_DEADLINE_MS;
    for (;;) {
        if (holds(pty, text))
            return true;
        long left = deadline - now_ms();
        if (left <= 0)
            return false;
        bool over = pty->ended && pty->closed;
        if (over || !read_some(pty, (int)left)) {
            if (over)
                return holds(pty, text);
        }
    }
}

void pty_settle(struct pty *pty, int milliseconds)
{
    while (read_some(pty, milliseconds) && !(pty->ended && pty->closed))
        ;
}

/* ---- start and stop ------------------------------------------------------------------------- */

static void answer(const char *bytes, size_t length, void *payload)
{
    struct pty *pty = payload;
    if (write(pty->terminal, bytes, length) < 0 && errno != EIO)
        die("write");
}

static bool has_program(struct pty *pty, const char *text)
{
    (void)text;
    return pty->program != 0;
}

struct pty *pty_open(const struct pty_start *start)
{
    struct pty *pty = calloc(1, sizeof *pty);
    struct winsize size = {.ws_row = (unsigned short)start->height,
                           .ws_col = (unsigned short)start->width};
    int ends[2];
    if (!pty || pipe(ends) != 0)
        die("pipe");
    pty->width = start->width;
    pty->height = start->height;
    pty->status = -1;
    pty->keeper = forkpty(&pty->terminal, NULL, NULL, &size);
    if (pty->keeper < 0)
        die("forkpty");
    if (pty->keeper == 0) {
        close(ends[0]);
        fcntl(ends[1], F_SETFD, FD_CLOEXEC);
        keep(start, ends[1]);
    }
    close(ends[1]);
    pty->pipe = ends[0];
    pty->vterm = vterm_new(start->height, start->width);
    vterm_set_utf8(pty->vterm, 1);
    vterm_output_set_callback(pty->vterm, answer, pty);
    pty->screen = vterm_obtain_screen(pty->vterm);
    vterm_screen_enable_altscreen(pty->screen, 1);
    vterm_screen_reset(pty->screen, 1);
    if (!wait_for(pty, has_program, ""))
        die("the program did not start");
    return pty;
}

void pty_hang_up(struct pty *pty)
{
    if (pty->terminal >= 0)
        close(pty->terminal);
    pty->terminal = -1;
    pty->closed = true;
}

void pty_close(struct pty *pty)
{
    if (!pty->ended && pty->program) {
        kill(pty->program, SIGCONT);
        kill(pty->program, SIGKILL);
    }
    if (pty->terminal >= 0)
        close(pty->terminal);
    close(pty->pipe);
    waitpid(pty->keeper, NULL, 0);
    vterm_free(pty->vterm);
    free(pty->bytes);
    free(pty->text);
    free(pty);
}

/* ---- in ------------------------------------------------------------------------------------- */

void pty_send(struct pty *pty, const char *keys)
{
    size_t length = strlen(keys);
    while (length > 0 && pty->terminal >= 0) {
        ssize_t wrote = write(pty->terminal, keys, length < 256 ? length : 256);
        if (wrote <= 0)
            return;
        keys += wrote;
        length -= (size_t)wrote;
        /* A program that draws much would otherwise wait for us while we wait for it. */
        read_some(pty, 0);
    }
}

void pty_tell_size(struct pty *pty, int width, int height)
{
    struct winsize size = {.ws_row = (unsigned short)height, .ws_col = (unsigned short)width};
    ioctl(pty->terminal, TIOCSWINSZ, &size);
}

void pty_resize(struct pty *pty, int width, int height)
{
    pty_settle(pty, 20);
    pty->width = width;
    pty->height = height;
    vterm_set_size(pty->vterm, height, width);
    pty_tell_size(pty, width, height);
}

void pty_signal(struct pty *pty, int number)
{
    if (number == SIGCONT)
        pty->stopped = false;
    kill(pty->program, number);
}

int pty_process(const struct pty *pty)
{
    return pty->program;
}

/* ---- out ------------------------------------------------------------------------------------ */

static size_t encode(char *out, uint32_t c)
{
    if (c < 0x80) {
        out[0] = (char)c;
        return 1;
    }
    if (c < 0x800) {
        out[0] = (char)(0xC0 | c >> 6);
        out[1] = (char)(0x80 | (c & 0x3F));
        return 2;
    }
    if (c < 0x10000) {
        out[0] = (char)(0xE0 | c >> 12);
        out[1] = (char)(0x80 | (c >> 6 & 0x3F));
        out[2] = (char)(0x80 | (c & 0x3F));
        return 3;
    }
    out[0] = (char)(0xF0 | c >> 18);
    out[1] = (char)(0x80 | (c >> 12 & 0x3F));
    out[2] = (char)(0x80 | (c >> 6 & 0x3F));
    out[3] = (char)(0x80 | (c & 0x3F));
    return 4;
}

static bool cell_at(struct pty *pty, int x, int y, VTermScreenCell *cell)
{
    return vterm_screen_get_cell(pty->screen, (VTermPos){.row = y, .col = x}, cell) != 0;
}

static size_t print_line(struct pty *pty, int y, char *out)
{
    size_t length = 0, solid = 0;
    VTermScreenCell cell;
    for (int x = 0; x < pty->width && cell_at(pty, x, y, &cell); x += cell.width ? cell.width : 1) {
        if (!cell.chars[0])
            out[length++] = ' ';
        for (int i = 0; i < VTERM_MAX_CHARS_PER_CELL && cell.chars[i]; i++)
            length += encode(out + length, cell.chars[i]);
        if (cell.chars[0] && cell.chars[0] != ' ')
            solid = length;
    }
    return solid;
}

static char *room(struct pty *pty, size_t lines)
{
    free(pty->text);
    pty->text = malloc(lines * ((size_t)pty->width * 4 * VTERM_MAX_CHARS_PER_CELL + 1) + 1);
    if (!pty->text)
        die("malloc");
    return pty->text;
}

const char *pty_screen(struct pty *pty)
{
    char *out = room(pty, (size_t)pty->height);
    size_t length = 0;
    for (int y = 0; y < pty->height; y++) {
        length += print_line(pty, y, out + length);
        out[length++] = '\n';
    }
    out[length] = '\0';
    return out;
}

const char *pty_line(struct pty *pty, int y)
{
    char *out = room(pty, 1);
    out[print_line(pty, y, out)] = '\0';
    return out;
}

void pty_cursor(struct pty *pty, int *x, int *y)
{
    VTermPos place;
    vterm_state_get_cursorpos(vterm_obtain_state(pty->vterm), &place);
    *x = place.col;
    *y = place.row;
}

bool pty_reversed(struct pty *pty, int x, int y)
{
    VTermScreenCell cell;
    return cell_at(pty, x, y, &cell) && cell.attrs.reverse;
}

bool pty_coloured(struct pty *pty)
{
    VTermScreenCell cell;
    for (int y = 0; y < pty->height; y++)
        for (int x = 0; x < pty->width && cell_at(pty, x, y, &cell); x++)
            if (!VTERM_COLOR_IS_DEFAULT_FG(&cell.fg) || !VTERM_COLOR_IS_DEFAULT_BG(&cell.bg))
                return true;
    return false;
}

const char *pty_bytes(struct pty *pty, size_t *length)
{
    *length = pty->length;
    return pty->bytes ? pty->bytes : "";
}

/* ---- waiting -------------------------------------------------------------------------------- */

static bool is_shown(struct pty *pty, const char *text)
{
    return strstr(pty_screen(pty), text) != NULL;
}

static bool is_not_shown(struct pty *pty, const char *text)
{
    return strstr(pty_screen(pty), text) == NULL;
}

static bool is_equal(struct pty *pty, const char *text)
{
    return strcmp(pty_screen(pty), text) == 0;
}

static bool is_stopped(struct pty *pty, const char *text)
{
    (void)text;
    return pty->stopped;
}

static bool is_ended(struct pty *pty, const char *text)
{
    (void)text;
    return pty->ended;
}

bool pty_shows(struct pty *pty, const char *text)
{
    return wait_for(pty, is_shown, text);
}

bool pty_loses(struct pty *pty, const char *text)
{
    return wait_for(pty, is_not_shown, text);
}

bool pty_equals(struct pty *pty, const char *screen)
{
    return wait_for(pty, is_equal, screen);
}

bool pty_stops(struct pty *pty)
{
    return wait_for(pty, is_stopped, "");
}

int pty_ends(struct pty *pty)
{
    if (!wait_for(pty, is_ended, ""))
        return -1;
    pty_settle(pty, 20);
    return pty->status;
}
