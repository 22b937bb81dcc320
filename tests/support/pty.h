/* SPDX-License-Identifier: MIT
 * A program in a terminal of its own: keys go in, what it draws is parsed into a screen by
 * libvterm. Waits poll for what is expected until a deadline; nothing sleeps for a fixed time. */
#ifndef SUPPORT_PTY_H
#define SUPPORT_PTY_H

#include <stdbool.h>
#include <stddef.h>

#define PTY_DEADLINE_MS 10000

struct pty;

struct pty_start {
    int width, height;
    const char *const *arguments;   /* the program first, NULL last */
    const char *const *environment; /* "NAME=value", NULL last: all that the program gets */
};

/* Never NULL: a failure to start ends the test program. */
struct pty *pty_open(const struct pty_start *start);
/* Ends what still runs, and frees. */
void pty_close(struct pty *pty);

void pty_send(struct pty *pty, const char *keys);
void pty_resize(struct pty *pty, int width, int height);
/* Tells the program another size, while the screen that is parsed stays as it is: libvterm 0.1.4
 * does not survive hundreds of odd sizes. */
void pty_tell_size(struct pty *pty, int width, int height);
void pty_signal(struct pty *pty, int number);
/* Takes the terminal away from under the program. */
void pty_hang_up(struct pty *pty);

/* Each returns false when the deadline passes first. */
bool pty_shows(struct pty *pty, const char *text);    /* some line holds the text */
bool pty_loses(struct pty *pty, const char *text);    /* no line holds it any more */
bool pty_equals(struct pty *pty, const char *screen); /* all lines, each ended by a newline */
bool pty_stops(struct pty *pty);
/* The exit status, 128 + n for signal n, or -1. */
int pty_ends(struct pty *pty);
/* Reads what comes until nothing has for so long. */
void pty_settle(struct pty *pty, int milliseconds);

/* The screen as UTF-8, blanks at the ends of lines left off; borrowed until the next call. */
const char *pty_screen(struct pty *pty);
const char *pty_line(struct pty *pty, int y);
void pty_cursor(struct pty *pty, int *x, int *y);
bool pty_reversed(struct pty *pty, int x, int y);
bool pty_coloured(struct pty *pty); /* any cell in another colour than the default */

/* All bytes that the program wrote since the start. */
const char *pty_bytes(struct pty *pty, size_t *length);
/* Its process id. */
int pty_process(const struct pty *pty);

#endif
