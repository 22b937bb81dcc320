/* SPDX-License-Identifier: MIT
 * The verbs of the command line. Each is handed the arguments behind its name and answers with
 * the exit status: 0, 1 for a problem in the input or a file, 2 for wrong usage. */
#ifndef MAIN_COMMANDS_H
#define MAIN_COMMANDS_H

int cy_main_fields(int argc, char **argv);
int cy_main_plan(int argc, char **argv);
int cy_main_suit(int argc, char **argv);
int cy_main_page(int argc, char **argv);
int cy_main_pencil(int argc, char **argv);
int cy_main_new(int argc, char **argv);
int cy_main_weather(int argc, char **argv);
int cy_main_import(int argc, char **argv);
int cy_main_set(int argc, char **argv);
int cy_main_note(int argc, char **argv);
int cy_main_done(int argc, char **argv);
int cy_main_undo(int argc, char **argv);
int cy_main_redo(int argc, char **argv);
int cy_main_export(int argc, char **argv);
int cy_main_check(int argc, char **argv);
int cy_main_backup(int argc, char **argv);
int cy_main_planner(int argc, char **argv); /* no verb: open the planner */

enum { EXIT_INPUT = 1, EXIT_USAGE = 2 };

#endif
