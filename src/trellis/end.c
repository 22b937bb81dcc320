/* SPDX-License-Identifier: MIT
 * Statics of end assemblies, pin-jointed: posts take moment from the wires only. */
#include <caneyear/trellis/end.h>

#include <math.h>

#include <caneyear/base/text.h>

#include "inside.h"

static const char *const kind_words[] = {
#define END(name, word) word,
    CY_END_KINDS(END)
#undef END
};

const char *cy_end_kind_word(enum cy_end_kind kind)
{
    return kind_words[kind];
}

bool cy_end_kind_parse(enum cy_end_kind *out, const char *text, size_t length)
{
    for (int i = 0; i < CY_END_KIND_COUNT; i++)
        if (cy_word_is(text, length, kind_words[i])) {
            *out = (enum cy_end_kind)i;
            return true;
        }
    return false;
}

static bool pulls_are_sound(struct cy_trellis_domain *bad, const struct cy_end_input *in)
{
    if (!cy_trellis__rule(bad, "pulls", in->count >= 1 && in->count <= CY_PULLS_MAX,
                          "1 to 16 pulls"))
        return false;
    for (size_t i = 0; i < in->count; i++)
        if (!cy_trellis__within(bad, "pulls", CY_Q_FORCE, in->pulls[i].force_n, 0, 1e6) ||
            !cy_trellis__within(bad, "pulls", CY_Q_LENGTH, in->pulls[i].height_m, 0, 30))
            return false;
    return true;
}

static bool end_is_sound(struct cy_trellis_domain *bad, const struct cy_end_input *in)
{
    if (!pulls_are_sound(bad, in) ||
        !cy_trellis__within(bad, "height", CY_Q_LENGTH, in->height_m, 0.05, 30))
        return false;
    switch (in->kind) {
    case CY_END_H:
        return cy_trellis__within(bad, "length", CY_Q_LENGTH, in->length_m, 0.05, 30);
    case CY_END_SLANT:
        return cy_trellis__within(bad, "foot", CY_Q_LENGTH, in->foot_m, 0.05, 30);
    case CY_END_TIE:
        return cy_trellis__within(bad, "angle", CY_Q_ANGLE, in->angle_deg, 1, 89);
    default:
        return cy_trellis__rule(bad, "kind", false, "h, slant, tie");
    }
}

int cy_end_brace(struct cy_end_result *out, const struct cy_end_input *in,
                 struct cy_trellis_domain *bad)
{
    if (!end_is_sound(bad, in))
        return CY_INVALID;
    *out = (struct cy_end_result){0};
    for (size_t i = 0; i < in->count; i++) {
        out->sum_n += in->pulls[i].force_n;
        out->moment_nm += in->pulls[i].force_n * in->pulls[i].height_m;
    }
    out->level_n = out->moment_nm / in->height_m;
    double angle = in->angle_deg * PI / 180;
    switch (in->kind) {
    case CY_END_H:
        out->rail_n = out->level_n;
        out->diagonal_n = out->rail_n * hypot(in->length_m, in->height_m) / in->length_m;
        out->uplift_n = out->push_n = out->moment_nm / in->length_m;
        out->force_n = fmax(out->rail_n, out->diagonal_n);
        break;
    case CY_END_SLANT:
        out->strut_n = out->level_n * hypot(in->foot_m, in->height_m) / in->foot_m;
        out->uplift_n = out->level_n * in->height_m / in->foot_m;
        out->force_n = out->strut_n;
        break;
    default:
        out->tie_n = out->level_n / cos(angle);
        out->push_n = out->level_n * tan(angle);
        out->force_n = out->tie_n;
        break;
    }
    return CY_OK;
}

static void put(struct cy_end_body *body, double x_m, double y_m, double x_n, double y_n)
{
    body->forces[body->count++] = (struct cy_end_force){x_m, y_m, x_n, y_n};
}

/* The rail pushes the posts apart, the diagonal pulls inner top and outer foot together; the
 * ground takes what is left: all of the pull as shear at the end post's foot. */
static void h_forces(struct cy_end_bodies *out, const struct cy_end_input *in,
                     const struct cy_end_result *r)
{
    double side = hypot(in->length_m, in->height_m);
    double x = r->diagonal_n * in->length_m / side, y = r->diagonal_n * in->height_m / side;
    out->other.name = "inner post";
    put(&out->post, 0, in->height_m, -r->rail_n, 0);
    put(&out->post, 0, 0, x, y);
    put(&out->post, 0, 0, -r->sum_n, -r->uplift_n);
    put(&out->other, in->length_m, in->height_m, r->rail_n, 0);
    put(&out->other, in->length_m, in->height_m, -x, -y);
    put(&out->other, in->length_m, 0, 0, r->push_n);
}

static void slant_forces(struct cy_end_bodies *out, const struct cy_end_input *in,
                         const struct cy_end_result *r)
{
    double side = hypot(in->foot_m, in->height_m);
    double x = r->strut_n * in->foot_m / side, y = r->strut_n * in->height_m / side;
    out->other.name = "foot block";
    put(&out->post, 0, in->height_m, -x, y);
    put(&out->post, 0, 0, r->level_n - r->sum_n, -r->uplift_n);
    put(&out->other, in->foot_m, 0, x, -y);
    put(&out->other, in->foot_m, 0, -r->level_n, r->uplift_n);
}

static void tie_forces(struct cy_end_bodies *out, const struct cy_end_input *in,
                       const struct cy_end_result *r)
{
    double angle = in->angle_deg * PI / 180, reach = in->height_m / tan(angle);
    double x = r->tie_n * cos(angle), y = r->tie_n * sin(angle);
    out->other.name = "anchor";
    put(&out->post, 0, in->height_m, -x, -y);
    put(&out->post, 0, 0, r->level_n - r->sum_n, r->push_n);
    put(&out->other, -reach, 0, x, y);
    put(&out->other, -reach, 0, -r->level_n, -r->push_n);
}

int cy_end_forces(struct cy_end_bodies *out, const struct cy_end_input *in,
                  struct cy_trellis_domain *bad)
{
    struct cy_end_result result;
    int status = cy_end_brace(&result, in, bad);
    if (status)
        return status;
    *out = (struct cy_end_bodies){.post = {.name = "end post"}};
    for (size_t i = 0; i < in->count; i++)
        put(&out->post, 0, in->pulls[i].height_m, in->pulls[i].force_n, 0);
    if (in->kind == CY_END_H)
        h_forces(out, in, &result);
    else if (in->kind == CY_END_SLANT)
        slant_forces(out, in, &result);
    else
        tie_forces(out, in, &result);
    return CY_OK;
}

int cy_rail_buckling(double *out_n, double stiffness_pa, double inertia_m4, double length_m,
                     struct cy_trellis_domain *bad)
{
    if (!cy_trellis__within(bad, "modulus", CY_Q_PRESSURE, stiffness_pa, 1e6, 1e13) ||
        !cy_trellis__within(bad, "inertia", CY_Q_NUMBER, inertia_m4, 0, 1) ||
        !cy_trellis__within(bad, "length", CY_Q_LENGTH, length_m, 0.05, 30))
        return CY_INVALID;
    *out_n = PI * PI * stiffness_pa * inertia_m4 / (length_m * length_m);
    return CY_OK;
}
