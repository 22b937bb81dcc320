/* SPDX-License-Identifier: MIT
 * A cultivar and a place as the lower rooms take them, without a farm around them. */
#ifndef CANEYEAR_SEASON_TRAITS_H
#define CANEYEAR_SEASON_TRAITS_H

#include <caneyear/climate/maker.h>
#include <caneyear/crop/life.h>
#include <caneyear/season/farm.h>

/* What a row of this cultivar has under a practice that says nothing. Sources are borrowed from
 * the cultivar. */
void cy_cultivar_traits(struct cy_traits *out, const struct cy_thing *cultivar);

/* The twelve months of a place, which is of this farm or catalogue; CY_INVALID where they are not
 * all there. */
int cy_place_normals(struct cy_normals *out, cy_basis *basis, const struct cy_farm *farm,
                     const struct cy_thing *place);

#endif
