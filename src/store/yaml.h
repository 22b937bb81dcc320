/* SPDX-License-Identifier: MIT
 * Farms and catalogues as YAML: read with positions, written so that reading gives the same. */
#ifndef STORE_YAML_H
#define STORE_YAML_H

#include <stdbool.h>
#include <stddef.h>

#include <caneyear/season/farm.h>

/* Reads a file into a new farm: every problem found becomes an issue with file, line and column,
 * and anything but CY_OK leaves *out empty. `catalogue` (or NULL) is lent to the farm before it
 * is checked as a whole. */
int cy_yaml_read(struct cy_farm *out, const char *path, const struct cy_farm *catalogue,
                 struct cy_issues *issues);

/* The same from bytes in memory; `name` stands for the file in issues. */
int cy_yaml_parse(struct cy_farm *out, const char *name, const char *bytes, size_t length,
                  const struct cy_farm *catalogue, struct cy_issues *issues);

/* Writes everything but what the catalogue lends. Reading it gives the same farm, and writing
 * that gives the same bytes. */
void cy_yaml_write(struct cy_text *out, const struct cy_farm *farm);

/* Reads the shipped catalogue (cultivars.yaml, climates.yaml, practices.yaml, jobs.yaml) from a
 * folder, or from where cy_share_folder finds it if NULL. */
int cy_catalogue_read(struct cy_farm *out, const char *folder, struct cy_issues *issues);

/* Where share/ is: $CANEYEAR_SHARE, beside the program, or the installed place. Writes the path
 * into out; false if none of them holds jobs.yaml. */
bool cy_share_folder(char *out, size_t size);

#endif
