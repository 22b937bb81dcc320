/* SPDX-License-Identifier: MIT
 * The planner opened in a terminal on a farm of its own, with a home of its own. */
#include "support/sitting.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

static const char *program(void)
{
    static char path[4096];
    const char *build = getenv("B");
    snprintf(path, sizeof path, "%s/check/caneyear", build && *build ? build : "build");
    return path;
}

static const char *share(void)
{
    static char path[4096];
    char here[2048];
    if (!getcwd(here, sizeof here))
        exit(99);
    snprintf(path, sizeof path, "%s/share", here);
    return path;
}

int sitting_run(const struct sitting *sitting, char *out, size_t size, const char *arguments)
{
    char command[16384];
    snprintf(command, sizeof command,
             "HOME='%s' XDG_STATE_HOME='%s' LOGNAME=tester CANEYEAR_SHARE='%s' '%s' %s 2>&1",
             sitting->folder, sitting->folder, share(), program(), arguments);
    FILE *pipe = popen(command, "r");
    char sink[256];
    size_t length = 0;
    if (!pipe)
        exit(99);
    while (out && length + 1 < size) {
        size_t got = fread(out + length, 1, size - 1 - length, pipe);
        if (got == 0)
            break;
        length += got;
    }
    if (out)
        out[length] = '\0';
    while (fread(sink, 1, sizeof sink, pipe) > 0)
        ;
    int status = pclose(pipe);
    return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

void sitting_begin(struct sitting *sitting)
{
    char arguments[4200], said[1024];
    *sitting = (struct sitting){.folder = "/tmp/caneyear-sitting-XXXXXX"};
    if (!mkdtemp(sitting->folder))
        exit(99);
    snprintf(sitting->farm, sizeof sitting->farm, "%s/farm.cane", sitting->folder);
    snprintf(arguments, sizeof arguments, "import '%s' '%s/demo.yaml'", sitting->farm, share());
    if (sitting_run(sitting, said, sizeof said, arguments) != 0) {
        fprintf(stderr, "%s\n", said);
        exit(99);
    }
}

static void add_setting(char lines[][4200], const char *list[], int *count, const char *name,
                        const char *value)
{
    snprintf(lines[*count], 4200, "%s=%s", name, value);
    list[*count] = lines[*count];
    ++*count;
}

void sitting_open(struct sitting *sitting, const struct sitting_start *start)
{
    static char lines[12][4200];
    const char *environment[24],
        *arguments[16] = {program(), sitting->farm, "--today", SITTING_TODAY};
    int settings = 0, count = 4;
    add_setting(lines, environment, &settings, "HOME", sitting->folder);
    add_setting(lines, environment, &settings, "XDG_STATE_HOME", sitting->folder);
    add_setting(lines, environment, &settings, "LOGNAME", "tester");
    add_setting(lines, environment, &settings, "CANEYEAR_SHARE", share());
    add_setting(lines, environment, &settings, "LC_ALL", start->locale ? start->locale : "C.UTF-8");
    if (!start->terminal || *start->terminal)
        add_setting(lines, environment, &settings, "TERM",
                    start->terminal ? start->terminal : "xterm-256color");
    const char *passed[] = {"ASAN_OPTIONS", "UBSAN_OPTIONS", "PATH"};
    for (size_t i = 0; i < sizeof passed / sizeof *passed; i++)
        if (getenv(passed[i]))
            add_setting(lines, environment, &settings, passed[i], getenv(passed[i]));
    for (int i = 0; i < SITTING_MORE && start->more[i]; i++)
        environment[settings++] = start->more[i];
    environment[settings] = NULL;
    for (int i = 0; i < SITTING_MORE && start->options[i]; i++)
        arguments[count++] = start->options[i];
    struct pty_start open = {.width = start->width ? start->width : 80,
                             .height = start->height ? start->height : 24,
                             .arguments = arguments,
                             .environment = environment};
    sitting->pty = pty_open(&open);
}

void sitting_close(struct sitting *sitting)
{
    if (sitting->pty)
        pty_close(sitting->pty);
    sitting->pty = NULL;
}

void sitting_end(struct sitting *sitting)
{
    char command[128];
    sitting_close(sitting);
    snprintf(command, sizeof command, "rm -rf '%s'", sitting->folder);
    if (system(command) != 0)
        exit(99);
}
