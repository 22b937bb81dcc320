/* SPDX-License-Identifier: MIT
 * The command line: which verb, and the planner where there is none. */
#include <locale.h>
#include <stdio.h>
#include <string.h>

#include "main/commands.h"
#include "main/options.h"

static const struct verb {
    const char *name;
    int (*run)(int argc, char **argv);
    const char *usage, *what;
} verbs[] = {
    {"new", cy_main_new, "new FARM.cane [--place NAME] [--name NAME] [--units us|metric]",
     "make a farm; asks a few questions"},
    {"import", cy_main_import, "import FARM.cane FILE.yaml [--replace]",
     "make a farm from YAML, all or nothing"},
    {"weather", cy_main_weather, "weather FARM.cane FILE [--units U] [--newer-wins] [--yes]",
     "take in a station's daily weather"},
    {"plan", cy_main_plan, "plan FARM [--season Y] [--today D] [--json]",
     "the season's plan as text"},
    {"suit", cy_main_suit, "suit FARM [--today D] [--json]",
     "what suits the site: marks for it and for every cultivar"},
    {"page", cy_main_page, "page FARM PAGE [--row KEY] [--season Y] [--today D] [--why]",
     "one page of the planner as text"},
    {"set", cy_main_set, "set FARM.cane ADDRESS VALUE", "change one value"},
    {"note", cy_main_note, "note FARM.cane ROW WHAT [--day D] [--height H]", "note what was seen"},
    {"done", cy_main_done, "done FARM.cane JOB ROW [--day D] [--hours H]", "mark work done"},
    {"undo", cy_main_undo, "undo FARM.cane", "take your last change back"},
    {"redo", cy_main_redo, "redo FARM.cane", "make it again"},
    {"export", cy_main_export, "export FARM --as yaml|json|text [-o FILE]", "write the farm out"},
    {"check", cy_main_check, "check FARM", "what is wrong with a file, or risky in its plan"},
    {"backup", cy_main_backup, "backup FARM.cane COPY.cane", "a copy while it is in use"},
    {"fields", cy_main_fields, "fields [SECTION]", "all that YAML can say of a farm"},
    {"pencil", cy_main_pencil, "pencil NAME key=value...", "one hand calculation"},
};

static int print_help(FILE *out)
{
    fputs("caneyear plans a blackberry farm's season.\n\n"
          "  caneyear FARM.cane          open the planner\n",
          out);
    for (size_t i = 0; i < sizeof verbs / sizeof *verbs; i++)
        fprintf(out, "  caneyear %s\n        %s\n", verbs[i].usage, verbs[i].what);
    fputs("\nEach verb has --help. FARM is a .cane or a .yaml file. See caneyear(1).\n", out);
    return 0;
}

/* An answer that a full disk cut off is no answer. */
static int answered(int status)
{
    if (fflush(stdout) == 0 && !ferror(stdout))
        return status;
    fputs("caneyear: the answer could not be written\n", stderr);
    return status ? status : EXIT_INPUT;
}

int main(int argc, char **argv)
{
    /* Characters only: numbers and dates are the same in every locale. */
    setlocale(LC_CTYPE, "");
    if (argc < 2) {
        print_help(stderr);
        return EXIT_USAGE;
    }
    if (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0 ||
        strcmp(argv[1], "help") == 0)
        return answered(print_help(stdout));
    if (strcmp(argv[1], "--version") == 0) {
        puts("caneyear 0.1");
        return answered(0);
    }
    for (size_t i = 0; i < sizeof verbs / sizeof *verbs; i++)
        if (strcmp(argv[1], verbs[i].name) == 0)
            return answered(verbs[i].run(argc - 2, argv + 2));
    return cy_main_planner(argc - 1, argv + 1);
}
