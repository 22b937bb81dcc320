/* SPDX-License-Identifier: MIT
 * What is kept for a reader between two sittings, in the user's state folder. */
#include "screen/keep.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define MOST_BYTES 16384

static unsigned long long hash_of(const char *string)
{
    unsigned long long hash = 0xcbf29ce484222325ull; /* FNV-1a */
    for (; *string; string++)
        hash = (hash ^ (unsigned char)*string) * 0x100000001b3ull;
    return hash;
}

void cy_keep_find(struct cy_keep *out, const char *farm_path)
{
    const char *state = getenv("XDG_STATE_HOME"), *home = getenv("HOME");
    char folder[4096], *real = realpath(farm_path, NULL);
    *out = (struct cy_keep){0};
    int length = -1;
    if (state && state[0] == '/')
        length = snprintf(folder, sizeof folder, "%s/caneyear", state);
    else if (home && home[0] == '/')
        length = snprintf(folder, sizeof folder, "%s/.local/state/caneyear", home);
    if (length > 0 && (size_t)length < sizeof folder) {
        unsigned long long hash = hash_of(real ? real : farm_path);
        snprintf(out->place, sizeof out->place, "%s/place-%016llx", folder, hash);
        snprintf(out->draft, sizeof out->draft, "%s/draft-%016llx", folder, hash);
    }
    free(real);
}

void cy_keep_read(struct cy_text *out, const char *path)
{
    FILE *file = *path ? fopen(path, "r") : NULL;
    char bytes[MOST_BYTES];
    if (!file)
        return;
    size_t length = fread(bytes, 1, sizeof bytes, file);
    fclose(file);
    if (length < sizeof bytes && !memchr(bytes, '\0', length))
        cy_text_add_n(out, bytes, length);
}

static void make_folders(const char *path)
{
    char folder[CY_KEEP_PATH];
    cy_copy(folder, sizeof folder, path);
    for (char *slash = strchr(folder + 1, '/'); slash; slash = strchr(slash + 1, '/')) {
        *slash = '\0';
        mkdir(folder, 0700);
        *slash = '/';
    }
}

bool cy_keep_write(const char *path, const struct cy_text *text)
{
    char beside[CY_KEEP_PATH + 8];
    if (!*path || text->failed)
        return false;
    make_folders(path);
    snprintf(beside, sizeof beside, "%s.new", path);
    int descriptor = open(beside, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0600);
    if (descriptor < 0)
        return false;
    ssize_t written = write(descriptor, cy_text_get(text), text->length);
    bool whole = written == (ssize_t)text->length;
    whole = close(descriptor) == 0 && whole;
    if (whole && rename(beside, path) == 0)
        return true;
    unlink(beside);
    return false;
}

void cy_keep_remove(const char *path)
{
    if (*path)
        unlink(path);
}

bool cy_keep_value(char *out, size_t size, const struct cy_text *text, const char *name)
{
    size_t length = strlen(name);
    for (const char *line = cy_text_get(text); *line;) {
        size_t end = strcspn(line, "\n");
        if (end > length && strncmp(line, name, length) == 0 && line[length] == ' ')
            return cy_copy_n(out, size, line + length + 1, end - length - 1);
        line += end + (line[end] == '\n');
    }
    return false;
}

void cy_keep_add(struct cy_text *text, const char *name, const char *value)
{
    cy_text_add(text, name);
    cy_text_add_char(text, ' ');
    cy_text_add_clean(text, value, strlen(value), false);
    cy_text_add_char(text, '\n');
}
