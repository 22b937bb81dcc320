/* SPDX-License-Identifier: MIT
 * Pipes and drip lines: friction, the flow of every emitter along a line, uniformity. */
#include <caneyear/water/drip.h>

#include <math.h>
#include <stdbool.h>

#include <caneyear/base/issue.h>
#include <caneyear/base/stats.h>

static const double litres_hour = 3.6e6; /* litres an hour in 1 m3/s */
static const double pi = 3.14159265358979323846;

/* Metres of head lost in a metre of pipe that carries 1 m3/s. */
static double resistance(double c, double bore_m)
{
    return 10.67 / (pow(c, CY_WATER_FLOW_EXPONENT) * pow(bore_m, 4.87));
}

struct cy_water_pipe_loss cy_water_pipe_loss(const struct cy_water_pipe *pipe)
{
    const double flow_m3_s = pipe->flow_l_s / 1000.0;

    return (struct cy_water_pipe_loss){
        .loss_m = resistance(pipe->c, pipe->bore_m) * pow(flow_m3_s, CY_WATER_FLOW_EXPONENT) *
                  pipe->length_m,
        .velocity_m_s = flow_m3_s / (pi / 4.0 * pipe->bore_m * pipe->bore_m)};
}

/* From a whole first spacing to half of one: the line is half a spacing shorter. */
static double factor_from(double whole, int outlets, enum cy_water_first first)
{
    if (first == CY_WATER_FIRST_FULL)
        return whole;
    return (2.0 * outlets * whole - 1.0) / (2.0 * outlets - 1.0);
}

double cy_water_factor(int outlets, double exponent, enum cy_water_first first)
{
    double sum = 0.0;

    for (int k = 1; k <= outlets; k++)
        sum += pow((double)k / outlets, exponent);
    return factor_from(sum / outlets, outlets, first);
}

double cy_water_factor_short(int outlets, double exponent, enum cy_water_first first)
{
    const double n = outlets;
    const double whole =
        1.0 / (exponent + 1.0) + 1.0 / (2.0 * n) + sqrt(exponent - 1.0) / (6.0 * n * n);

    return factor_from(whole, outlets, first);
}

double cy_water_uniformity(double cv, int per_plant, double least, double mean)
{
    return fmax(0.0, 100.0 * (1.0 - 1.27 * cv / sqrt(per_plant)) * least / mean);
}

/* What one march along the line, from a supposed head at its end up to the inlet, finds. */
struct march {
    double inlet_m;
    double gain; /* how fast inlet_m rises with the head at the end */
    double flow_lph, flow_least, flow_most, head_least, head_most;
    int dry;
};

/* An emitter's flow at a head, and how fast it rises with the head. Below a millionth of the
 * inlet head the flow falls straight to none, so that a compensating emitter, whose flow would
 * jump there, leaves the march continuous and the head at the end solvable. */
static double emitter_flow(double *rise, const struct cy_water_line *line, double head_m)
{
    const double share = head_m / line->head_m, knee = 1e-6;

    *rise = 0.0;
    if (share <= 0.0)
        return 0.0;
    if (share < knee) {
        *rise = line->flow_lph * pow(knee, line->exponent - 1.0) / line->head_m;
        return *rise * head_m;
    }
    const double flow = line->flow_lph * pow(share, line->exponent);
    *rise = line->exponent * flow / head_m;
    return flow;
}

static struct march march_up(double *heads_m, const struct cy_water_line *line, double end_m)
{
    const double loss = resistance(line->c, line->bore_m);
    struct march at = {.inlet_m = end_m, .gain = 1.0, .head_least = end_m, .head_most = end_m};
    double flow_gain = 0.0;

    for (int i = line->emitters - 1; i >= 0; i--) {
        double rise;
        const double flow = emitter_flow(&rise, line, at.inlet_m);
        if (heads_m != NULL)
            heads_m[i] = at.inlet_m;
        at.head_least = fmin(at.head_least, at.inlet_m);
        at.head_most = fmax(at.head_most, at.inlet_m);
        at.flow_least = i == line->emitters - 1 ? flow : fmin(at.flow_least, flow);
        at.flow_most = fmax(at.flow_most, flow);
        at.dry += at.inlet_m <= 0.0;
        at.flow_lph += flow;
        flow_gain += rise * at.gain;

        const double length =
            line->spacing_m * (i == 0 && line->first == CY_WATER_FIRST_HALF ? 0.5 : 1.0);
        const double friction =
            loss * pow(at.flow_lph / litres_hour, CY_WATER_FLOW_EXPONENT) * length;
        if (at.flow_lph > 0.0)
            at.gain += CY_WATER_FLOW_EXPONENT * friction / at.flow_lph * flow_gain;
        at.inlet_m += friction + line->slope * length;
    }
    return at;
}

static double length_of(const struct cy_water_line *line)
{
    return line->spacing_m * (line->emitters - (line->first == CY_WATER_FIRST_HALF ? 0.5 : 0.0));
}

/* The head at the end that the inlet head gives. The march's inlet head rises with the head at
 * the end, so there is one answer: Newton's step, and halving wherever it would leave the
 * bracket. No friction bounds it from above; with no head anywhere nothing flows. False where
 * neighbouring doubles lie far on both sides of the answer: the head at the end then says
 * nothing of the inlet's, because in between there is none. */
static bool end_head(double *end_m, const struct cy_water_line *line)
{
    const double rise = line->slope * length_of(line);
    double high = line->head_m - rise, low = fmin(0.0, -rise);

    *end_m = high;
    for (int turn = 0; turn < 2000; turn++) {
        const struct march at = march_up(NULL, line, *end_m);
        const double over = at.inlet_m - line->head_m;
        if (fabs(over) <= 1e-12 * line->head_m)
            return true;
        if (over > 0.0)
            high = *end_m;
        else
            low = *end_m;
        double next = *end_m - over / at.gain;
        if (!(next > low && next < high))
            next = low + (high - low) / 2.0;
        if (next <= low || next >= high)
            return fabs(over) <= 1e-6 * line->head_m;
        *end_m = next;
    }
    return false;
}

static bool line_is_sound(const struct cy_water_line *line)
{
    return line->emitters >= 1 && line->flow_lph > 0.0 && line->spacing_m > 0.0 &&
           line->bore_m > 0.0 && line->c > 0.0 && line->head_m > 0.0 && line->exponent >= 0.0 &&
           line->cv >= 0.0 && line->emitters_per_plant >= 1 && isfinite(line->slope);
}

int cy_water_line_solve(struct cy_water_line_result *out, double *heads_m,
                        const struct cy_water_line *line)
{
    if (!line_is_sound(line))
        return CY_INVALID;

    double end_m;
    if (!end_head(&end_m, line))
        return CY_FAILED;
    const struct march at = march_up(heads_m, line, end_m);
    const double mean = at.flow_lph / line->emitters;
    *out = (struct cy_water_line_result){
        .friction_m = line->head_m - end_m - line->slope * length_of(line),
        .flow_total_lph = at.flow_lph,
        .factor = cy_water_factor(line->emitters, CY_WATER_FLOW_EXPONENT, line->first),
        .flow_least_lph = at.flow_least,
        .flow_most_lph = at.flow_most,
        .head_least_m = at.head_least,
        .head_most_m = at.head_most,
        .head_end_m = end_m,
        .dry = at.dry};
    if (at.flow_most > 0.0) {
        out->uniformity_pct =
            cy_water_uniformity(line->cv, line->emitters_per_plant, at.flow_least, mean);
        out->variation = (at.flow_most - at.flow_least) / at.flow_most;
    }
    return CY_OK;
}

static bool varies_little(const struct cy_water_line *line, double variation, int emitters)
{
    struct cy_water_line longer = *line;
    struct cy_water_line_result result;

    longer.emitters = emitters;
    return cy_water_line_solve(&result, NULL, &longer) == CY_OK && result.dry == 0 &&
           result.variation <= variation;
}

/* On a level or rising line heads fall from the inlet on, and the further the longer it is: what
 * is within bounds is so on all shorter ones. Doubling finds a line that is too long, so that none
 * much longer is ever solved, and halving the last that is not. */
static int longest_by_halving(const struct cy_water_line *line, double variation, int most)
{
    int low = 0, high = 1;

    while (high <= most && varies_little(line, variation, high)) {
        low = high;
        high = high <= most / 2 ? 2 * high : most + 1;
    }
    while (high - low > 1) {
        const int middle = low + (high - low) / 2;
        if (varies_little(line, variation, middle))
            low = middle;
        else
            high = middle;
    }
    return low;
}

int cy_water_line_longest(const struct cy_water_line *line, double variation, int most)
{
    if (line->slope >= 0.0)
        return longest_by_halving(line, variation, most);
    for (int emitters = 1; emitters <= most; emitters++)
        if (!varies_little(line, variation, emitters))
            return emitters - 1;
    return most;
}

struct cy_water_cups cy_water_cups(double *readings, size_t count)
{
    const double mean = cy_mean(readings, count);
    const size_t quarter = count < 4 ? 1 : count / 4;
    double off = 0.0;

    cy_sort(readings, count);
    for (size_t i = 0; i < count; i++)
        off += fabs(readings[i] - mean);
    return (struct cy_water_cups){.mean = mean,
                                  .quarter_pct = 100.0 * cy_mean(readings, quarter) / mean,
                                  .statistical_pct =
                                      100.0 * (1.0 - cy_deviation(readings, count) / mean),
                                  .christiansen_pct = 100.0 * (1.0 - off / (double)count / mean)};
}
