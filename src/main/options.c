/* SPDX-License-Identifier: MIT
 * Command-line options: one table a verb, read in one place. */
#include "main/options.h"

#include <stdio.h>
#include <string.h>

#include <caneyear/base/text.h>

#include "main/commands.h"

int cy_usage(const char *verb, const char *message, const char *what)
{
    struct cy_text line = {0};
    cy_text_add(&line, "caneyear ");
    cy_text_add(&line, verb);
    cy_text_add(&line, ": ");
    cy_text_add(&line, message);
    if (what) {
        cy_text_add(&line, " ");
        cy_text_add_clean(&line, what, strlen(what), false);
    }
    fprintf(stderr, "%s\n", cy_text_get(&line));
    cy_text_dispose(&line);
    return EXIT_USAGE;
}

static const struct cy_option *option_named(const struct cy_option *options, const char *text,
                                            size_t length)
{
    for (; options->name; options++)
        if ((strlen(options->name) == length && memcmp(options->name, text, length) == 0) ||
            (options->letter && strcmp(options->letter, text) == 0))
            return options;
    return NULL;
}

int cy_options_read(const char *verb, int argc, char **argv, const struct cy_option *options)
{
    int plain = 0;
    for (int i = 0; i < argc; i++) {
        if (argv[i][0] != '-' || argv[i][1] == '\0') {
            argv[plain++] = argv[i];
            continue;
        }
        if (strcmp(argv[i], "--") == 0) {
            while (++i < argc)
                argv[plain++] = argv[i];
            break;
        }
        const char *equals = strchr(argv[i], '=');
        size_t length = equals ? (size_t)(equals - argv[i]) : strlen(argv[i]);
        const struct cy_option *option = option_named(options, argv[i], length);
        if (!option) {
            cy_usage(verb, "there is no option", argv[i]);
            return -1;
        }
        if (option->given)
            *option->given = true;
        if (!option->value)
            continue;
        if (!equals && i + 1 >= argc) {
            cy_usage(verb, "an argument must follow", argv[i]);
            return -1;
        }
        *option->value = equals ? equals + 1 : argv[++i];
    }
    return plain;
}
