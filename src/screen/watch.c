/* SPDX-License-Identifier: MIT
 * Notices that another process wrote the farm file, by watching its folder: a commit ends with the
 * removal of the journal beside the file. */
#include "screen/watch.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#ifdef __linux__
#include <sys/inotify.h>
#endif

#include <caneyear/base/text.h>

static void split(char folder[], size_t size, char name[], size_t name_size, const char *path)
{
    const char *slash = strrchr(path, '/');
    cy_copy(name, name_size, slash ? slash + 1 : path);
    if (!slash)
        cy_copy(folder, size, ".");
    else
        cy_copy_n(folder, size, path, slash == path ? 1 : (size_t)(slash - path));
}

void cy_watch_start(struct cy_watch *out, const char *path)
{
    char folder[4096];
    *out = (struct cy_watch){.descriptor = -1};
    split(folder, sizeof folder, out->name, sizeof out->name, path);
#ifdef __linux__
    out->descriptor = inotify_init1(IN_NONBLOCK | IN_CLOEXEC);
    if (out->descriptor >= 0 &&
        inotify_add_watch(out->descriptor, folder, IN_CLOSE_WRITE | IN_MOVED_TO | IN_DELETE) < 0)
        cy_watch_stop(out);
#endif
}

void cy_watch_stop(struct cy_watch *watch)
{
    if (watch->descriptor >= 0)
        close(watch->descriptor);
    watch->descriptor = -1;
}

#ifdef __linux__
/* The file itself, or its journal. */
static bool is_ours(const struct cy_watch *watch, const char *name)
{
    size_t length = strlen(watch->name);
    return strncmp(name, watch->name, length) == 0 &&
           (name[length] == '\0' || cy_streq(name + length, "-journal"));
}
#endif

bool cy_watch_changed(struct cy_watch *watch)
{
    bool changed = false;
#ifdef __linux__
    _Alignas(struct inotify_event) char events[4096];
    ssize_t length;
    while ((length = read(watch->descriptor, events, sizeof events)) > 0)
        for (ssize_t at = 0; at < length;) {
            const struct inotify_event *event = (const struct inotify_event *)(events + at);
            if (event->mask & IN_Q_OVERFLOW || (event->len && is_ours(watch, event->name)))
                changed = true;
            at += (ssize_t)sizeof *event + event->len;
        }
#else
    (void)watch;
#endif
    return changed;
}
