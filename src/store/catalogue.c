/* SPDX-License-Identifier: MIT
 * The shipped catalogue: where it is, and its files as one farm. */
#include "store/yaml.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "store/yaml_reader.h"

static bool holds_jobs(const char *folder)
{
    struct cy_text path = {0};
    cy_text_add(&path, folder);
    cy_text_add(&path, "/jobs.yaml");
    bool holds = !path.failed && access(cy_text_get(&path), R_OK) == 0;
    cy_text_dispose(&path);
    return holds;
}

/* The folder of the running program, without a slash at its end; false if it cannot be told. */
static bool program_folder(struct cy_text *out)
{
    char path[4096];
    ssize_t length = readlink("/proc/self/exe", path, sizeof path);
    while (length > 0 && (size_t)length < sizeof path && path[length - 1] != '/')
        length--;
    if (length <= 1 || (size_t)length >= sizeof path)
        return false;
    cy_text_add_n(out, path, (size_t)length - 1);
    return !out->failed;
}

bool cy_share_folder(char *out, size_t size)
{
    /* Installed, built in build/, built in build/check/. */
    static const char *const beside[] = {"/../share/caneyear", "/../share", "/../../share"};
    const char *named = getenv("CANEYEAR_SHARE");
    if (named && named[0] && holds_jobs(named))
        return cy_copy(out, size, named);
    struct cy_text folder = {0};
    bool found = false;
    if (program_folder(&folder)) {
        size_t length = folder.length;
        for (size_t i = 0; i < sizeof beside / sizeof *beside && !found; i++) {
            folder.length = length;
            cy_text_add(&folder, beside[i]);
            found = holds_jobs(cy_text_get(&folder)) && cy_copy(out, size, cy_text_get(&folder));
        }
    }
    cy_text_dispose(&folder);
    return found || (holds_jobs(CANEYEAR_SHARE) && cy_copy(out, size, CANEYEAR_SHARE));
}

static const char *const files[] = {"cultivars.yaml", "climates.yaml", "practices.yaml",
                                    "jobs.yaml", "parts.yaml"};
enum { FILES = sizeof files / sizeof *files };

/* The paths must outlive the reader, which names them in issues. */
static void read_files(struct cy_reader *reader, const char *folder, struct cy_text paths[FILES])
{
    for (int i = 0; i < FILES && !reader->no_memory; i++) {
        cy_text_add(&paths[i], folder);
        cy_text_add_char(&paths[i], '/');
        cy_text_add(&paths[i], files[i]);
        if (paths[i].failed)
            reader->no_memory = true;
        else
            cy_reader_add_file(reader, cy_text_get(&paths[i]));
    }
    /* It is no whole farm: only what its own things refer to can be held against it. */
    if (!reader->no_memory)
        cy_reader_check(reader, CY_ISSUE_BAD_REFERENCE);
}

int cy_catalogue_read(struct cy_farm *out, const char *folder, struct cy_issues *issues)
{
    struct cy_issues unheard = {0};
    struct cy_reader reader;
    struct cy_text paths[FILES] = {0};
    char found[4096];
    issues = issues ? issues : &unheard;
    *out = (struct cy_farm){0};
    if (!folder && !cy_share_folder(found, sizeof found)) {
        cy_issue_say(issues, CY_ISSUE_NO_CATALOGUE, NULL, NULL, NULL, "jobs.yaml");
        return CY_FAILED;
    }
    size_t before = issues->count + issues->dropped;
    int status = cy_reader_init(&reader, issues);
    if (status == CY_OK)
        read_files(&reader, folder ? folder : found, paths);
    if (status != CY_OK || reader.no_memory) {
        cy_issue_say(issues, CY_ISSUE_NO_MEMORY, NULL, NULL, NULL, NULL);
        status = CY_NO_MEMORY;
    } else if (issues->count + issues->dropped > before) {
        status = CY_INVALID;
    } else {
        *out = reader.farm;
        reader.farm = (struct cy_farm){0};
    }
    cy_reader_dispose(&reader);
    for (int i = 0; i < FILES; i++)
        cy_text_dispose(&paths[i]);
    return status;
}
