/* SPDX-License-Identifier: MIT
 * Cross-sections of posts and arms, and the strengths that go with them. */
#include <caneyear/trellis/post.h>

#include <math.h>

#include <caneyear/base/text.h>

#include "inside.h"

/* Southern pine No. 2 of the NDS since 2013: from memory. Taken for ungraded posts and for all
 * sizes: placeholder; timbers of 5 in. and up have lower values (850 psi), poles higher. */
#define WOOD_STRENGTH_PA (1100 * PSI_PA)
#define WOOD_STIFFNESS_PA (1.4e6 * PSI_PA)
#define WOOD_SOURCE "NDS, southern pine No. 2"
/* Steel: yield from memory (36 ksi for pipe, 50 ksi for ASTM A702 tees). */
#define PIPE_YIELD_PA (36e3 * PSI_PA)
#define TEE_YIELD_PA (50e3 * PSI_PA)
#define STEEL_STIFFNESS_PA (29.0e6 * PSI_PA)
#define STEEL_LB_IN3 0.2836

#define SECTION_FORMS "4x4, 6x6, 2x4, round:SIZE, square:SIZE, pipe:SIZE, tee:1.25 or tee:1.33"

static const struct {
    const char *name;
    double wide_m, deep_m;
} dressed[] = {
    {"4x4", 3.5 * INCH_M, 3.5 * INCH_M},
    {"6x6", 5.5 * INCH_M, 5.5 * INCH_M},
    {"2x4", 1.5 * INCH_M, 3.5 * INCH_M},
};

/* Schedule 40: Mott, Machine Elements in Mechanical Design, 4th edition, table A16-6. */
static const struct {
    double nominal_in, outer_in, wall_in;
} pipes[] = {
    {1, 1.315, 0.133},   {1.25, 1.660, 0.140}, {1.5, 1.900, 0.145}, {2, 2.375, 0.154},
    {2.5, 2.875, 0.203}, {3, 3.500, 0.216},    {3.5, 4.000, 0.226}, {4, 4.500, 0.237},
};

/* No section modulus of a studded tee was found: estimates for a plain tee of 1-3/8 in. flange
 * and depth at these weights, stem side. Placeholder. */
static const struct {
    double lb_ft, modulus_in3, inertia_in4;
} tees[] = {{1.25, 0.066, 0.064}, {1.33, 0.073, 0.070}};
#define TEE_FLANGE_M (1.375 * INCH_M)

bool cy_section_is_steel(const struct cy_section *section)
{
    return section->kind == CY_SECTION_PIPE || section->kind == CY_SECTION_TEE;
}

static struct cy_section wood(enum cy_section_kind kind)
{
    return (struct cy_section){.kind = kind,
                               .strength_pa = WOOD_STRENGTH_PA,
                               .stiffness_pa = WOOD_STIFFNESS_PA,
                               .basis = CY_BASIS_MEMORY | CY_BASIS_PLACEHOLDER,
                               .source = WOOD_SOURCE};
}

int cy_section_round(struct cy_section *out, double diameter_m, struct cy_trellis_domain *bad)
{
    if (!cy_trellis__within(bad, "section", CY_Q_SIZE, diameter_m, 0.01, 1))
        return CY_INVALID;
    *out = wood(CY_SECTION_ROUND);
    out->bearing_m = diameter_m;
    out->area_m2 = PI / 4 * diameter_m * diameter_m;
    out->modulus_m3 = PI / 32 * pow(diameter_m, 3);
    out->inertia_m4 = PI / 64 * pow(diameter_m, 4);
    return CY_OK;
}

int cy_section_sawn(struct cy_section *out, double wide_m, double deep_m,
                    struct cy_trellis_domain *bad)
{
    if (!cy_trellis__within(bad, "section", CY_Q_SIZE, wide_m, 0.01, 1) ||
        !cy_trellis__within(bad, "section", CY_Q_SIZE, deep_m, 0.01, 1))
        return CY_INVALID;
    *out = wood(CY_SECTION_SAWN);
    /* The embedment formula takes the diagonal: IBC 2021 flagpole embedment sheet. */
    out->bearing_m = hypot(wide_m, deep_m);
    out->area_m2 = wide_m * deep_m;
    out->modulus_m3 = wide_m * deep_m * deep_m / 6;
    out->inertia_m4 = wide_m * pow(deep_m, 3) / 12;
    return CY_OK;
}

int cy_section_pipe(struct cy_section *out, double nominal_m, struct cy_trellis_domain *bad)
{
    size_t count = sizeof pipes / sizeof *pipes, i = 0;
    while (i < count && !(fabs(pipes[i].nominal_in * INCH_M - nominal_m) < 1e-6))
        i++;
    if (!cy_trellis__rule(bad, "section", i < count,
                          "pipe of 1, 1.25, 1.5, 2, 2.5, 3, 3.5 or 4 in"))
        return CY_INVALID;
    double outer = pipes[i].outer_in * INCH_M, inner = outer - 2 * pipes[i].wall_in * INCH_M;
    double inertia = PI / 64 * (pow(outer, 4) - pow(inner, 4));
    *out = (struct cy_section){
        .kind = CY_SECTION_PIPE,
        .bearing_m = outer,
        .area_m2 = PI / 4 * (outer * outer - inner * inner),
        .modulus_m3 = inertia / (outer / 2),
        .inertia_m4 = inertia,
        .strength_pa = PIPE_YIELD_PA,
        .stiffness_pa = STEEL_STIFFNESS_PA,
        .basis = CY_BASIS_PUBLISHED | CY_BASIS_MEMORY,
        .source = "Mott, Machine Elements in Mechanical Design, table A16-6; yield from memory",
    };
    return CY_OK;
}

int cy_section_tee(struct cy_section *out, double kg_m, struct cy_trellis_domain *bad)
{
    size_t count = sizeof tees / sizeof *tees, i = 0;
    double lb_ft = kg_m * FOOT_M / POUND_KG;
    while (i < count && !(fabs(tees[i].lb_ft - lb_ft) < 1e-6))
        i++;
    if (!cy_trellis__rule(bad, "section", i < count, "tee of 1.25 or 1.33 lb/ft"))
        return CY_INVALID;
    *out = (struct cy_section){
        .kind = CY_SECTION_TEE,
        .bearing_m = TEE_FLANGE_M,
        .area_m2 = tees[i].lb_ft / 12 / STEEL_LB_IN3 * INCH_M * INCH_M,
        .modulus_m3 = tees[i].modulus_in3 * pow(INCH_M, 3),
        .inertia_m4 = tees[i].inertia_in4 * pow(INCH_M, 4),
        .strength_pa = TEE_YIELD_PA,
        .stiffness_pa = STEEL_STIFFNESS_PA,
        .basis = CY_BASIS_MEMORY | CY_BASIS_PLACEHOLDER,
        .source = "estimate for a plain tee of the same weight",
    };
    return CY_OK;
}

/* The text behind "word:", NULL if it does not begin so. */
static const char *after(const char *text, size_t length, const char *word, size_t *rest)
{
    size_t i = 0;
    while (word[i] && i < length && text[i] == word[i])
        i++;
    if (word[i] || i == length)
        return NULL;
    *rest = length - i;
    return text + i;
}

static bool parse_size(double *out, const char *text, size_t length, enum cy_quantity quantity,
                       const char *bare)
{
    return cy_quantity_parse(out, text, length, quantity, bare) == CY_UNIT_OK;
}

int cy_section_parse(struct cy_section *out, const char *text, size_t length,
                     struct cy_trellis_domain *bad)
{
    for (size_t i = 0; i < sizeof dressed / sizeof *dressed; i++)
        if (cy_word_is(text, length, dressed[i].name))
            return cy_section_sawn(out, dressed[i].wide_m, dressed[i].deep_m, bad);
    size_t rest;
    double size;
    const char *tail = after(text, length, "round:", &rest);
    if (tail && parse_size(&size, tail, rest, CY_Q_SIZE, NULL))
        return cy_section_round(out, size, bad);
    tail = after(text, length, "square:", &rest);
    if (tail && parse_size(&size, tail, rest, CY_Q_SIZE, NULL))
        return cy_section_sawn(out, size, size, bad);
    tail = after(text, length, "pipe:", &rest);
    if (tail && parse_size(&size, tail, rest, CY_Q_SIZE, "in"))
        return cy_section_pipe(out, size, bad);
    tail = after(text, length, "tee:", &rest);
    if (tail && parse_size(&size, tail, rest, CY_Q_MASS_PER_LENGTH, "lb/ft"))
        return cy_section_tee(out, size, bad);
    cy_trellis__rule(bad, "section", false, SECTION_FORMS);
    return CY_INVALID;
}
