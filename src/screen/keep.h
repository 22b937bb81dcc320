/* SPDX-License-Identifier: MIT
 * What is kept for a reader between two sittings, in the user's state folder and never in the
 * farm: where they stood, and a form that was open when the terminal went away. */
#ifndef SCREEN_KEEP_H
#define SCREEN_KEEP_H

#include <stdbool.h>

#include <caneyear/base/text.h>

#define CY_KEEP_PATH 4352

struct cy_keep {
    char place[CY_KEEP_PATH], draft[CY_KEEP_PATH]; /* files; "" where there is no home */
};

/* Finds the files that belong to a farm: under $XDG_STATE_HOME/caneyear, or ~/.local/state. */
void cy_keep_find(struct cy_keep *out, const char *farm_path);

/* A file as lines "name value"; empty where there is none. */
void cy_keep_read(struct cy_text *out, const char *path);
/* Writes beside and renames; makes the folder. False where that cannot be done. */
bool cy_keep_write(const char *path, const struct cy_text *text);
void cy_keep_remove(const char *path);

/* The value of a name in such lines, copied; false if it is not there. */
bool cy_keep_value(char *out, size_t size, const struct cy_text *text, const char *name);
void cy_keep_add(struct cy_text *text, const char *name, const char *value);

#endif
