/* SPDX-License-Identifier: MIT
 * Notices that another process wrote the farm file. */
#ifndef SCREEN_WATCH_H
#define SCREEN_WATCH_H

#include <stdbool.h>

struct cy_watch {
    int descriptor; /* to poll; -1 where there is none: look once a second instead */
    char name[256]; /* of the file, within its folder */
};

void cy_watch_start(struct cy_watch *out, const char *path);
void cy_watch_stop(struct cy_watch *watch);
/* Reads what is there; true if the file may have changed. */
bool cy_watch_changed(struct cy_watch *watch);

#endif
