/* SPDX-License-Identifier: MIT
 * The terminal: start and stop, signals as flags, keys, waiting, and sending a canvas to it. */
#ifndef SCREEN_TERM_H
#define SCREEN_TERM_H

#include <stdbool.h>

#include "screen/draw.h"

/* What a signal asked for since the last look. */
enum cy_signal {
    CY_SIGNAL_LEAVE = 1,  /* terminate or quit */
    CY_SIGNAL_HANGUP = 2, /* the terminal is going: no more drawing */
    CY_SIGNAL_INTERRUPT = 4,
    CY_SIGNAL_SUSPEND = 8,
    CY_SIGNAL_RESUMED = 16
};

enum cy_wake { CY_WAKE_KEYS = 1, CY_WAKE_WATCH = 2, CY_WAKE_GONE = 4 };

enum cy_key_kind {
    CY_KEY_NONE,
    CY_KEY_CHAR,   /* `value` is a code point */
    CY_KEY_CODE,   /* `value` is a curses code */
    CY_KEY_PASTED, /* a code point that was pasted, not typed */
    CY_KEY_RESIZE,
    CY_KEY_CLICK /* at x, y */
};

struct cy_key {
    enum cy_key_kind kind;
    int value, x, y;
};

struct cy_term_options {
    bool no_color, mouse;
};

/* Blocks the signals, takes the terminal over. False where it cannot be drawn on; everything is
 * as before then. */
bool cy_term_start(const struct cy_term_options *options);
/* Gives the terminal back; the signals as they were. Harmless when not started. */
void cy_term_stop(void);

void cy_term_size(int *width, int *height);
void cy_term_show(const struct cy_canvas *canvas);
void cy_term_repaint(void); /* the next show sends everything */
void cy_term_mouse(bool on);
bool cy_term_has_mouse(void);

/* Sleeps until a key, something to read on `watch` (-1: none), a signal, or `milliseconds` (-1:
 * for ever). Returns a set of enum cy_wake. */
unsigned cy_term_wait(int watch, int milliseconds);
/* The next key without waiting; false where there is none. */
bool cy_term_key(struct cy_key *out);
/* Takes the flags; a set of enum cy_signal. */
unsigned cy_term_signals(void);
/* Whether a signal waits that ends the program: for long work, which is not interrupted. */
bool cy_term_must_end(void);
/* Stops the process as Ctrl-Z asks, and comes back on continue. */
void cy_term_suspend(void);

#endif
