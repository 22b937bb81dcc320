/* SPDX-License-Identifier: MIT
 * The terminal: start and stop, signals as flags, keys, waiting, and sending a canvas to it.
 *
 * The signals are blocked everywhere but inside the one ppoll, and handlers only set flags; the
 * library's own resize handler runs there too, so that no resize falls between look and sleep. */
#define _GNU_SOURCE /* ppoll */
#include "screen/term.h"

#include <curses.h>
#include <errno.h>
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <term.h>
#include <termios.h>
#include <time.h>
#include <unistd.h>
#include <wchar.h>

#define KEY_PASTE_BEGIN (KEY_MAX + 1)
#define KEY_PASTE_END (KEY_MAX + 2)
#define ESCAPE_DELAY_MS 25
/* Wake-ups for keys that bring none: the terminal is gone. */
#define EMPTY_WAKES 20
#define PASTE_PAUSE_S 2

static volatile sig_atomic_t flags[5]; /* by the bits of enum cy_signal */

/* The one terminal of the process. */
static struct {
    bool started, colour, mouse, pastes, pasting;
    int empty_wakes;
    time_t last_key;
    SCREEN *screen;
    sigset_t before, while_waiting;
} term;

/* ---- signals -------------------------------------------------------------------------------- */

static const struct {
    int number, flag; /* flag: which bit */
    bool even_if_ignored;
} caught[] = {
    {SIGTERM, 0, true}, {SIGQUIT, 0, false}, {SIGHUP, 1, false},
    {SIGINT, 2, true},  {SIGTSTP, 3, false}, {SIGCONT, 4, true},
};
#define CAUGHT (sizeof caught / sizeof *caught)
static struct sigaction caught_before[CAUGHT];

static void note_signal(int number)
{
    for (size_t i = 0; i < CAUGHT; i++)
        if (caught[i].number == number)
            flags[caught[i].flag] = 1;
}

static void block_signals(void)
{
    sigset_t ours;
    sigemptyset(&ours);
    for (size_t i = 0; i < CAUGHT; i++)
        sigaddset(&ours, caught[i].number);
    sigaddset(&ours, SIGWINCH);
    sigprocmask(SIG_BLOCK, &ours, &term.before);
    term.while_waiting = term.before;
    for (size_t i = 0; i < CAUGHT; i++)
        sigdelset(&term.while_waiting, caught[i].number);
    sigdelset(&term.while_waiting, SIGWINCH);
}

/* Before the library installs its own, which would draw and exit inside the handler. */
static void remember_handlers(void)
{
    for (size_t i = 0; i < CAUGHT; i++)
        sigaction(caught[i].number, NULL, &caught_before[i]);
}

static void install_handlers(void)
{
    for (size_t i = 0; i < CAUGHT; i++) {
        struct sigaction action = {.sa_handler = note_signal};
        sigemptyset(&action.sa_mask);
        bool ignored = caught_before[i].sa_handler == SIG_IGN;
        if (!ignored || caught[i].even_if_ignored)
            sigaction(caught[i].number, &action, NULL);
    }
}

static void remove_handlers(void)
{
    for (size_t i = 0; i < CAUGHT; i++) {
        /* What came while we were leaving has been heeded; ignoring drops it. */
        struct sigaction ignore = {.sa_handler = SIG_IGN};
        sigemptyset(&ignore.sa_mask);
        sigaction(caught[i].number, &ignore, NULL);
        sigaction(caught[i].number, &caught_before[i], NULL);
    }
}

unsigned cy_term_signals(void)
{
    unsigned set = 0;
    for (int bit = 0; bit < 5; bit++)
        if (flags[bit]) {
            flags[bit] = 0;
            set |= 1u << bit;
        }
    return set;
}

bool cy_term_must_end(void)
{
    sigset_t pending;
    return sigpending(&pending) == 0 &&
           (sigismember(&pending, SIGHUP) == 1 || sigismember(&pending, SIGTERM) == 1);
}

/* ---- last resort ---------------------------------------------------------------------------- */

/* After a crash nothing of the library can be trusted: fixed bytes and saved modes, then the
 * signal again as if nobody had caught it. */
static const int fatal[] = {SIGABRT, SIGSEGV, SIGBUS, SIGFPE, SIGILL};
#define FATAL (sizeof fatal / sizeof *fatal)
static struct sigaction fatal_before[FATAL];
static struct termios modes_before;
static char restore_bytes[256];
static size_t restore_length;

static void add_restore(const char *bytes)
{
    if (!bytes || bytes == (const char *)-1)
        return;
    size_t length = strlen(bytes);
    if (restore_length + length > sizeof restore_bytes)
        return;
    memcpy(restore_bytes + restore_length, bytes, length);
    restore_length += length;
}

static void restore_and_die(int number)
{
    if (write(STDOUT_FILENO, restore_bytes, restore_length) < 0) {
        /* nothing left to do about it */
    }
    tcsetattr(STDIN_FILENO, TCSANOW, &modes_before);
    for (size_t i = 0; i < FATAL; i++)
        if (fatal[i] == number)
            sigaction(number, &fatal_before[i], NULL);
    raise(number);
}

static void install_last_resort(void)
{
    restore_length = 0;
    if (term.pastes)
        add_restore("\033[?2004l");
    add_restore(tigetstr("sgr0"));
    add_restore(tigetstr("cnorm"));
    add_restore(tigetstr("rmcup"));
    for (size_t i = 0; i < FATAL; i++) {
        struct sigaction action = {.sa_handler = restore_and_die};
        sigemptyset(&action.sa_mask);
        sigaction(fatal[i], &action, &fatal_before[i]);
    }
}

/* ---- start and stop ------------------------------------------------------------------------- */

static void send(const char *bytes)
{
    putp(bytes);
    fflush(stdout);
}

static void paste_mode(bool on)
{
    if (term.pastes)
        send(on ? "\033[?2004h" : "\033[?2004l");
}

static void define_keys(void)
{
    /* Terminals that are said to send one of these often send another. */
    static const struct {
        const char *bytes;
        int code;
    } more[] = {
        {"\033[1~", KEY_HOME}, {"\033[4~", KEY_END}, {"\033[H", KEY_HOME}, {"\033[F", KEY_END},
        {"\033OH", KEY_HOME},  {"\033OF", KEY_END},  {"\033[A", KEY_UP},   {"\033[B", KEY_DOWN},
        {"\033[C", KEY_RIGHT}, {"\033[D", KEY_LEFT}, {"\033[Z", KEY_BTAB},
    };
    for (size_t i = 0; i < sizeof more / sizeof *more; i++)
        define_key(more[i].bytes, more[i].code);
    const char *enable = tigetstr("BE");
    term.pastes = enable && enable != (const char *)-1;
    if (term.pastes) {
        define_key("\033[200~", KEY_PASTE_BEGIN);
        define_key("\033[201~", KEY_PASTE_END);
    }
}

static bool start_colour(void)
{
    static const short hues[] = {-1,           COLOR_RED,     COLOR_GREEN,
                                 COLOR_YELLOW, COLOR_MAGENTA, COLOR_CYAN};
    if (!has_colors() || start_color() == ERR || use_default_colors() == ERR)
        return false;
    for (short i = 1; i < (short)(sizeof hues / sizeof *hues); i++)
        if (init_pair(i, hues[i], -1) == ERR)
            return false;
    return true;
}

/* Whether TERM names a terminal whose cursor can be moved. Asked first, because newterm leaves
 * memory behind where it fails. */
static bool can_draw(void)
{
    int found;
    if (setupterm(NULL, STDOUT_FILENO, &found) == ERR)
        return false;
    const char *move = tigetstr("cup");
    bool moves = move && move != (const char *)-1;
    del_curterm(cur_term);
    return moves;
}

bool cy_term_start(const struct cy_term_options *options)
{
    if (!can_draw())
        return false;
    tcgetattr(STDIN_FILENO, &modes_before);
    block_signals();
    remember_handlers();
    term.screen = newterm(NULL, stdout, stdin);
    if (!term.screen) {
        sigprocmask(SIG_SETMASK, &term.before, NULL);
        return false;
    }
    install_handlers();
    static bool registered;
    if (!registered)
        registered = atexit(cy_term_stop) == 0;
    term.started = true;
    cbreak();
    noecho();
    nonl();
    keypad(stdscr, TRUE);
    nodelay(stdscr, TRUE);
    meta(stdscr, TRUE);
    if (!getenv("ESCDELAY"))
        set_escdelay(ESCAPE_DELAY_MS);
    term.colour = !options->no_color && start_colour();
    define_keys();
    install_last_resort();
    paste_mode(true);
    cy_term_mouse(options->mouse);
    return true;
}

void cy_term_stop(void)
{
    if (!term.started)
        return;
    term.started = false;
    cy_term_mouse(false);
    paste_mode(false);
    endwin();
    delscreen(term.screen);
    remove_handlers();
    for (size_t i = 0; i < FATAL; i++)
        sigaction(fatal[i], &fatal_before[i], NULL);
    sigprocmask(SIG_SETMASK, &term.before, NULL);
}

void cy_term_suspend(void)
{
    bool mouse = term.mouse;
    cy_term_mouse(false);
    paste_mode(false);
    endwin();
    struct sigaction stop = {.sa_handler = SIG_DFL}, ours;
    sigemptyset(&stop.sa_mask);
    sigaction(SIGTSTP, &stop, &ours);
    sigset_t only;
    sigemptyset(&only);
    sigaddset(&only, SIGTSTP);
    raise(SIGTSTP);
    sigprocmask(SIG_UNBLOCK, &only, NULL); /* stops here, until somebody says continue */
    sigprocmask(SIG_BLOCK, &only, NULL);
    sigaction(SIGTSTP, &ours, NULL);
    reset_prog_mode();
    paste_mode(true);
    cy_term_mouse(mouse);
    cy_term_repaint();
}

/* ---- output --------------------------------------------------------------------------------- */

void cy_term_size(int *width, int *height)
{
    *width = COLS;
    *height = LINES;
}

void cy_term_repaint(void)
{
    clearok(curscr, TRUE);
}

void cy_term_mouse(bool on)
{
    if (on == term.mouse)
        return;
    term.mouse = mousemask(on ? BUTTON1_PRESSED | BUTTON1_CLICKED : 0, NULL) != 0 && on;
    if (term.mouse)
        mouseinterval(0);
}

bool cy_term_has_mouse(void)
{
    return term.mouse;
}

static void set_look(const struct cy_cell *cell)
{
    struct cy_look look = cy_look_of((enum cy_role_id)cell->role, term.colour);
    struct cy_look over = cy_look_of((enum cy_role_id)cell->over, term.colour);
    unsigned weight = look.weight | over.weight;
    attr_t attributes = A_NORMAL;
    if (weight & CY_BOLD)
        attributes |= A_BOLD;
    if (weight & CY_DIM)
        attributes |= A_DIM;
    if (weight & CY_REVERSE)
        attributes |= A_REVERSE;
    if (weight & CY_UNDERLINE)
        attributes |= A_UNDERLINE;
    attr_set(attributes, (short)(over.hue != CY_HUE_PLAIN ? over.hue : look.hue), NULL);
}

static void show_line(const struct cy_canvas *canvas, int y)
{
    const struct cy_cell *line = canvas->cells + (size_t)y * (size_t)canvas->width;
    wchar_t run[CY_CELL_CHARS * 64];
    for (int x = 0; x < canvas->width;) {
        int start = x, length = 0;
        set_look(&line[x]);
        do {
            for (int i = 0; i < CY_CELL_CHARS && line[x].chars[i]; i++)
                run[length++] = (wchar_t)line[x].chars[i];
            x++;
        } while (x < canvas->width && x - start < 64 && line[x].role == line[start].role &&
                 line[x].over == line[start].over);
        mvaddnwstr(y, start, run, length);
    }
}

void cy_term_show(const struct cy_canvas *canvas)
{
    erase();
    for (int y = 0; y < canvas->height; y++)
        show_line(canvas, y);
    attr_set(A_NORMAL, 0, NULL);
    move(canvas->cursor_y, canvas->cursor_x);
    refresh();
}

/* ---- input ---------------------------------------------------------------------------------- */

unsigned cy_term_wait(int watch, int milliseconds)
{
    struct pollfd polled[] = {{.fd = STDIN_FILENO, .events = POLLIN},
                              {.fd = watch, .events = POLLIN}};
    struct timespec timeout = {milliseconds / 1000, milliseconds % 1000 * 1000000L};
    unsigned wake = 0;
    int ready = ppoll(polled, 2, milliseconds < 0 ? NULL : &timeout, &term.while_waiting);
    if (ready < 0)
        return errno == EINTR ? CY_WAKE_KEYS : CY_WAKE_GONE; /* a resize is read as a key */
    if (polled[0].revents & (POLLERR | POLLHUP | POLLNVAL))
        wake |= CY_WAKE_GONE;
    if (polled[0].revents & POLLIN) {
        wake |= CY_WAKE_KEYS;
        if (++term.empty_wakes > EMPTY_WAKES)
            wake |= CY_WAKE_GONE;
    }
    if (polled[1].revents & (POLLIN | POLLERR | POLLHUP))
        wake |= CY_WAKE_WATCH;
    return wake;
}

static bool read_click(struct cy_key *out)
{
    MEVENT event;
    if (getmouse(&event) != OK)
        return false;
    *out = (struct cy_key){.kind = CY_KEY_CLICK, .x = event.x, .y = event.y};
    return true;
}

/* A paste comes in one piece: after a pause it is over, even if its end was lost. */
static void end_lost_paste(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    if (now.tv_sec - term.last_key > PASTE_PAUSE_S)
        term.pasting = false;
    term.last_key = now.tv_sec;
}

bool cy_term_key(struct cy_key *out)
{
    wint_t value;
    *out = (struct cy_key){.kind = CY_KEY_NONE};
    for (;;) {
        int kind = get_wch(&value);
        if (kind == ERR)
            return false;
        term.empty_wakes = 0;
        end_lost_paste();
        if (kind == KEY_CODE_YES && (value == KEY_PASTE_BEGIN || value == KEY_PASTE_END)) {
            term.pasting = value == KEY_PASTE_BEGIN;
            continue;
        }
        if (kind == KEY_CODE_YES && value == KEY_MOUSE) {
            if (read_click(out))
                return true;
            continue;
        }
        if (kind == KEY_CODE_YES && value == KEY_RESIZE)
            out->kind = CY_KEY_RESIZE;
        else if (kind == KEY_CODE_YES)
            out->kind = CY_KEY_CODE;
        else
            out->kind = term.pasting ? CY_KEY_PASTED : CY_KEY_CHAR;
        out->value = (int)value;
        return true;
    }
}
