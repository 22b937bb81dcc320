/* SPDX-License-Identifier: MIT
 * The verdicts of a plan's rows: made once for what they rest on, and remembered. */
#include "season/trellis_parts.h"

#include <stdlib.h>

#include <caneyear/base/array.h>
#include <caneyear/base/random.h>

enum { FEWEST_PLACES = 64 }; /* a power of two */

struct place {
    uint64_t fingerprint; /* 0: empty */
    struct cy_trellis_verdict *verdict;
    uint64_t used; /* by which plan last */
};

struct cy_trellis_memory {
    struct place *places;
    size_t size, count;
    uint64_t plans;
    struct cy_trellis_climate climate;
    uint64_t climate_fingerprint; /* of weathers and season; 0: none */
};

/* ---- holding ----------------------------------------------------------------------------------
 */

static void let_go(struct cy_trellis_verdict *verdict)
{
    if (!verdict || --verdict->holders > 0)
        return;
    cy_trellis_verdict_dispose(verdict);
    free(verdict);
}

static void forget(struct cy_trellis_memory *memory)
{
    for (size_t i = 0; i < memory->size; i++) {
        let_go(memory->places[i].verdict);
        memory->places[i] = (struct place){0};
    }
    memory->count = 0;
}

void cy_trellis_memory_free(struct cy_trellis_memory *memory)
{
    if (!memory)
        return;
    forget(memory);
    cy_trellis_climate_dispose(&memory->climate);
    free(memory->places);
    free(memory);
}

static struct place *place_of(const struct cy_trellis_memory *memory, uint64_t fingerprint)
{
    size_t at = fingerprint & (memory->size - 1);
    while (memory->places[at].fingerprint && memory->places[at].fingerprint != fingerprint)
        at = (at + 1) & (memory->size - 1);
    return &memory->places[at];
}

/* Room for the rows of a plan beside those of the plan before; where there is none left, what
 * neither needs is let go. */
static int make_room(struct cy_trellis_memory *memory, size_t rows)
{
    size_t size = memory->size ? memory->size : FEWEST_PLACES;
    while (size / 4 * 3 < 2 * rows)
        size *= 2;
    if (size == memory->size && memory->count + rows <= size / 4 * 3)
        return CY_OK;
    struct place *places = cy_zeroed(size, sizeof *places);
    if (!places)
        return CY_NO_MEMORY;
    struct cy_trellis_memory old = *memory;
    memory->places = places;
    memory->size = size;
    memory->count = 0;
    for (size_t i = 0; i < old.size; i++) {
        const struct place *place = &old.places[i];
        if (place->fingerprint && place->used == memory->plans) {
            *place_of(memory, place->fingerprint) = *place;
            memory->count++;
        } else {
            let_go(place->verdict);
        }
    }
    free(old.places);
    return CY_OK;
}

/* ---- fingerprints -----------------------------------------------------------------------------
 */

static uint64_t hash_trait(uint64_t hash, const struct cy_trait *trait)
{
    return cy_hash_number(cy_hash_number(hash, trait->value), trait->basis);
}

static uint64_t hash_frame(uint64_t hash, const struct cy_trellis_frame *frame)
{
    const double numbers[] = {frame->form,         frame->post,           frame->end,
                              frame->anchor,       frame->habit,          frame->habit_known,
                              frame->soil_texture, frame->soil_known,     frame->soil.basis,
                              frame->exposure,     frame->exposure_basis, frame->crop_planned,
                              frame->wire_count,   frame->wires_left_out};
    const struct cy_trait *const traits[] = {
        &frame->length_m,        &frame->spacing_m,      &frame->post_size_m,
        &frame->post_depth_m,    &frame->end_size_m,     &frame->end_depth_m,
        &frame->arm_m,           &frame->lean_m,         &frame->brace_height_m,
        &frame->brace_length_m,  &frame->tie_angle_deg,  &frame->anchor_size_m,
        &frame->anchor_length_m, &frame->anchor_depth_m, &frame->anchor_holds_n,
        &frame->gust_m_s,        &frame->ice_m,          &frame->colder_k,
        &frame->crop_kg_m,       &frame->tip_m,          &frame->cane_m};
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++)
        hash = cy_hash_number(hash, numbers[i]);
    for (size_t i = 0; i < sizeof traits / sizeof *traits; i++)
        hash = hash_trait(hash, traits[i]);
    for (int i = 0; i < frame->wire_count; i++) {
        const struct cy_trellis_frame_wire *wire = &frame->wires[i];
        const struct cy_trait *const of_wire[] = {
            &wire->height_m,   &wire->gauge,      &wire->tension_n,
            &wire->working_n,  &wire->set_at_c,   &wire->breaks_n,
            &wire->diameter_m, &wire->modulus_pa, &wire->expansion_ppm};
        hash = cy_hash_number(hash, wire->kind);
        for (size_t j = 0; j < sizeof of_wire / sizeof *of_wire; j++)
            hash = hash_trait(hash, of_wire[j]);
    }
    return hash ? hash : 1;
}

/* ---- a plan's rows ----------------------------------------------------------------------------
 */

static int prepare_climate(struct cy_trellis_memory *memory, const struct cy_plan *plan,
                           const struct cy_ensemble *ensemble, uint64_t weathers)
{
    uint64_t fingerprint = cy_hash(CY_HASH_START, &weathers, sizeof weathers);
    fingerprint = cy_hash_number(fingerprint, plan->season);
    fingerprint = fingerprint ? fingerprint : 1;
    if (fingerprint == memory->climate_fingerprint)
        return CY_OK;
    cy_trellis_climate_dispose(&memory->climate);
    memory->climate_fingerprint = 0;
    int status = cy_trellis_climate_of(&memory->climate, plan, ensemble);
    if (status == CY_OK)
        memory->climate_fingerprint = fingerprint;
    return status;
}

/* The plan's own copy of what does not depend on a row, without the floors. */
static int copy_climate(struct cy_plan *plan, const struct cy_trellis_climate *climate)
{
    plan->trellis_climate = cy_zeroed(1, sizeof *plan->trellis_climate);
    if (!plan->trellis_climate)
        return CY_NO_MEMORY;
    *plan->trellis_climate = *climate;
    plan->trellis_climate->floor_c = NULL;
    return CY_OK;
}

static int judge(struct cy_trellis_verdict **out, const struct cy_trellis_memory *memory,
                 const struct cy_trellis_frame *frame, const struct cy_ensemble *ensemble)
{
    struct cy_trellis_verdict *verdict = cy_zeroed(1, sizeof *verdict);
    if (!verdict)
        return CY_NO_MEMORY;
    int status = cy_trellis_judge(verdict, frame);
    if (status == CY_OK)
        status = cy_trellis_wires_of_year(verdict, frame, &memory->climate, ensemble);
    if (status != CY_OK) {
        cy_trellis_verdict_dispose(verdict);
        free(verdict);
        return status;
    }
    verdict->holders = 1;
    *out = verdict;
    return CY_OK;
}

static int plan_row(struct cy_plan *plan, size_t row, struct cy_trellis_memory *memory,
                    const struct cy_ensemble *ensemble)
{
    struct cy_trellis_frame frame;
    if (!cy_trellis_frame_of(&frame, plan, row))
        return CY_OK;
    uint64_t start = cy_hash(CY_HASH_START, &memory->climate_fingerprint, sizeof(uint64_t));
    uint64_t fingerprint = hash_frame(start, &frame);
    struct place *place = place_of(memory, fingerprint);
    if (!place->fingerprint) {
        int status = judge(&place->verdict, memory, &frame, ensemble);
        if (status != CY_OK)
            return status;
        place->fingerprint = fingerprint;
        memory->count++;
        plan->trellises_worked_out++;
    }
    place->used = memory->plans;
    plan->trellis[row] = place->verdict;
    place->verdict->holders++;
    return CY_OK;
}

int cy_plan_trellises(struct cy_plan *plan, struct cy_trellis_memory **memory,
                      const struct cy_ensemble *ensemble, uint64_t ensemble_fingerprint)
{
    if (!*memory)
        *memory = cy_zeroed(1, sizeof **memory);
    plan->trellis = cy_zeroed(plan->row_count + 1, sizeof(struct cy_trellis_verdict *));
    if (!*memory || !plan->trellis)
        return CY_NO_MEMORY;
    int status = make_room(*memory, plan->row_count);
    (*memory)->plans++;
    if (status == CY_OK)
        status = prepare_climate(*memory, plan, ensemble, ensemble_fingerprint);
    if (status == CY_OK)
        status = copy_climate(plan, &(*memory)->climate);
    for (size_t row = 0; status == CY_OK && row < plan->row_count; row++)
        status = plan_row(plan, row, *memory, ensemble);
    return status;
}

void cy_plan_trellises_dispose(struct cy_plan *plan)
{
    for (size_t row = 0; plan->trellis && row < plan->row_count; row++)
        let_go(plan->trellis[row]);
    free(plan->trellis);
    free(plan->trellis_climate);
}

const struct cy_trellis_verdict *cy_trellis_of(const struct cy_plan *plan, size_t row)
{
    return plan->trellis && row < plan->row_count ? plan->trellis[row] : NULL;
}
