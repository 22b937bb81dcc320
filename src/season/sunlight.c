/* SPDX-License-Identifier: MIT
 * Direct sun over the growing season: on the field, at each row, behind what stands around. */
#include <caneyear/season/sunlight.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <caneyear/base/array.h>
#include <caneyear/climate/sun.h>
#include <caneyear/crop/calendar.h>

static double to_degrees(double radians)
{
    return radians * 180 / acos(-1.0);
}

static double to_radians(double degrees)
{
    return degrees * acos(-1.0) / 180;
}

/* ---- the horizon ---------------------------------------------------------------------------- */

/* False where the obstacle does not say enough to be drawn. */
static bool read_obstacle(struct cy_sunlight_obstacle *out, struct cy_obstacle *band,
                          const struct cy_thing *thing)
{
    *out = (struct cy_sunlight_obstacle){.thing = thing->id,
                                         .key = thing->key,
                                         .from = cy_given(thing, CY_OBSTACLE_FROM),
                                         .to = cy_given(thing, CY_OBSTACLE_TO),
                                         .altitude = cy_given(thing, CY_OBSTACLE_ALTITUDE),
                                         .height = cy_given(thing, CY_OBSTACLE_HEIGHT),
                                         .distance = cy_given(thing, CY_OBSTACLE_DISTANCE)};
    double altitude_deg = out->altitude.number;
    if (!out->altitude.known)
        altitude_deg = to_degrees(atan2(out->height.number, out->distance.number));
    *band = (struct cy_obstacle){.kind = CY_OBSTACLE_BAND,
                                 .from_deg = out->from.number,
                                 .to_deg = out->to.number,
                                 .altitude_deg = altitude_deg};
    out->basis = out->from.basis | out->to.basis;
    out->basis |=
        out->altitude.known ? out->altitude.basis : out->height.basis | out->distance.basis;
    return !isnan(band->from_deg) && !isnan(band->to_deg) && !isnan(band->altitude_deg);
}

static int see_horizon(struct cy_sunlight *out, const struct cy_farm *farm)
{
    const struct cy_thing *site = cy_farm_one(farm, CY_KIND_SITE);
    size_t count = (size_t)cy_farm_count(farm, CY_KIND_OBSTACLE, site->id);
    out->obstacles = cy_zeroed(count, sizeof *out->obstacles);
    out->bands = cy_zeroed(count, sizeof *out->bands);
    out->sky = cy_zeroed(CY_SUNLIGHT_DAYS, sizeof *out->sky);
    if (!out->obstacles || !out->bands || !out->sky)
        return CY_NO_MEMORY;
    for (const struct cy_thing *thing = NULL;
         (thing = cy_farm_next(farm, CY_KIND_OBSTACLE, site->id, thing));) {
        size_t i = out->obstacle_count;
        if (!read_obstacle(&out->obstacles[i], &out->bands[i], thing))
            continue;
        out->basis |= out->obstacles[i].basis;
        out->obstacle_count++;
    }
    /* Where no obstacle is described, an open sky is our guess. */
    if (out->obstacle_count == 0)
        out->basis = CY_BASIS_PLACEHOLDER;
    return CY_OK;
}

/* The season's mean on the field behind some obstacles. */
static double field_mean(const struct cy_sunlight *sun, const struct cy_obstacle *bands,
                         size_t count)
{
    double sum = 0;
    for (int i = 0; i < CY_SUNLIGHT_DAYS; i++)
        sum += cy_obstacle_sun_hours(sun->latitude_deg, sun->declination_deg[i], bands, count);
    return sum / CY_SUNLIGHT_DAYS;
}

/* What one obstacle takes, by itself and beside the others: while the last one stands in its
 * place, those in front of the last are all but it. */
static void weigh_obstacle(struct cy_sunlight *sun, size_t obstacle)
{
    size_t last = sun->obstacle_count - 1;
    struct cy_obstacle band = sun->bands[obstacle];
    sun->bands[obstacle] = sun->bands[last];
    sun->obstacles[obstacle].hides_h = sun->level_h - field_mean(sun, &band, 1);
    sun->obstacles[obstacle].alone_h = field_mean(sun, sun->bands, last) - sun->mean_h;
    sun->bands[obstacle] = band;
}

static void look_around(struct cy_sunlight *out)
{
    double sum = 0;
    for (int i = 0; i < CY_SUNLIGHT_DAYS; i++) {
        out->day[i] = cy_season_day(out->latitude_deg, out->season, 415 + 100 * i, true);
        out->declination_deg[i] = cy_sun_declination(out->day[i], out->longitude_deg);
        out->day_h[i] = cy_obstacle_sun_hours(out->latitude_deg, out->declination_deg[i],
                                              out->bands, out->obstacle_count);
        cy_obstacle_day_of(&out->sky[i], out->latitude_deg, out->declination_deg[i], out->bands,
                           out->obstacle_count);
        sum += out->day_h[i];
    }
    out->mean_h = sum / CY_SUNLIGHT_DAYS;
    out->level_h = field_mean(out, NULL, 0);
    for (size_t i = 0; i < out->obstacle_count; i++)
        weigh_obstacle(out, i);
}

/* ---- rows ----------------------------------------------------------------------------------- */

double cy_sunlight_hedge(cy_basis *basis, const struct cy_farm *farm,
                         const struct cy_thing *trellis, const struct cy_thing *practice)
{
    double top = NAN;
    for (const struct cy_thing *wire = NULL;
         trellis && (wire = cy_farm_next(farm, CY_KIND_WIRE, trellis->id, wire));) {
        struct cy_given height = cy_given(wire, CY_WIRE_HEIGHT);
        if (!height.known || height.number <= top)
            continue;
        top = height.number;
        *basis = height.basis;
    }
    if (!isnan(top))
        return top;
    struct cy_given tip = cy_given(practice, CY_PRACTICE_TIP_HEIGHT);
    *basis = tip.basis;
    return tip.number;
}

/* A row among its like. */
static struct cy_hedge hedge_of(double hedge_m, double spacing_m, double bearing_deg)
{
    struct cy_neighbour like = {hedge_m, spacing_m};
    return (struct cy_hedge){
        .bearing_deg = bearing_deg, .point_m = hedge_m / 2, .next = {like, like}};
}

/* A row with its neighbours, turned as one. */
static struct cy_hedge hedge_at(const struct cy_sunlight_row *row, double bearing_deg)
{
    struct cy_hedge hedge = {.bearing_deg = bearing_deg, .point_m = row->hedge_m / 2};
    memcpy(hedge.next, row->next, sizeof hedge.next);
    return hedge;
}

/* Rows that run this near to the same way count as parallel. */
#define PARALLEL_DEG 15.0
/* What is nearer than this across is the same row's continuation. */
#define SAME_ROW_M 0.3
/* Places are typed in whole feet: what differs by less than half of one is no other sun. */
#define SAME_PLACE_M 0.15

/* What is asked of every row by every other: read from the farm once. */
struct strip {
    const struct cy_thing *thing;
    double x_m, y_m, length_m, bearing_deg;
    double along_x, along_y; /* a metre of it eastwards, northwards */
    double hedge_m;
    cy_basis hedge_basis;
};

static struct strip strip_of(const struct cy_farm *farm, const struct cy_thing *thing)
{
    struct strip strip = {.thing = thing,
                          .x_m = cy_number(thing, CY_ROW_X),
                          .y_m = cy_number(thing, CY_ROW_Y),
                          .length_m = cy_number(thing, CY_ROW_LENGTH),
                          .bearing_deg = cy_number(thing, CY_ROW_BEARING)};
    strip.along_x = sin(to_radians(strip.bearing_deg));
    strip.along_y = cos(to_radians(strip.bearing_deg));
    strip.hedge_m =
        cy_sunlight_hedge(&strip.hedge_basis, farm, cy_referred(farm, thing, CY_ROW_TRELLIS),
                          cy_referred(farm, thing, CY_ROW_PRACTICE));
    return strip;
}

/* How far right of a row's middle another one passes it; NaN where it does not, or where either's
 * place is not known. */
static double passes_at_m(const struct strip *row, const struct strip *other)
{
    double middle = row->length_m / 2;
    double dx = other->x_m - row->x_m - middle * row->along_x;
    double dy = other->y_m - row->y_m - middle * row->along_y;
    /* Where on the other row, from its first post, it stands square beside that middle. */
    double at = -(dx * row->along_x + dy * row->along_y) /
                (other->along_x * row->along_x + other->along_y * row->along_y);
    if (!(at >= 0 && at <= other->length_m))
        return NAN;
    double turned = fmod(fabs(row->bearing_deg - other->bearing_deg), 180);
    if (fmin(turned, 180 - turned) > PARALLEL_DEG)
        return NAN;
    return (dx + at * other->along_x) * row->along_y - (dy + at * other->along_y) * row->along_x;
}

/* The row on each side that stands highest over the point, as seen from it: of parallel rows it
 * hides all that the others do. */
static void find_neighbours(struct cy_sunlight_row *row, const struct strip *strips, size_t count,
                            size_t index)
{
    double steepest[CY_FACE_COUNT] = {0, 0};
    for (size_t i = 0; i < count; i++) {
        const struct strip *other = &strips[i];
        double right_m = i == index ? NAN : passes_at_m(&strips[index], other);
        if (!(fabs(right_m) > SAME_ROW_M))
            continue;
        int face = right_m < 0 ? CY_FACE_LEFT : CY_FACE_RIGHT;
        double steep = (other->hedge_m - row->hedge_m / 2) / fabs(right_m);
        if (!(steep > steepest[face]))
            continue;
        steepest[face] = steep;
        row->next[face] = (struct cy_neighbour){other->hedge_m, fabs(right_m)};
        row->next_name[face] = cy_thing_name(other->thing);
        row->basis |= other->hedge_basis;
    }
}

static void place_row(struct cy_sunlight_row *row, const struct strip *strips, size_t count,
                      size_t index)
{
    const struct cy_thing *thing = strips[index].thing;
    struct cy_given x = cy_given(thing, CY_ROW_X), y = cy_given(thing, CY_ROW_Y);
    row->placed = x.known && y.known;
    row->basis |= row->placed ? x.basis | y.basis : row->spacing.basis;
    for (int face = 0; face < CY_FACE_COUNT; face++) {
        row->next_name[face] = "";
        row->next[face] = row->placed ? (struct cy_neighbour){0, 1}
                                      : (struct cy_neighbour){row->hedge_m, row->spacing.number};
    }
    if (row->placed)
        find_neighbours(row, strips, count, index);
}

static bool same_neighbours(const struct cy_sunlight_row *a, const struct cy_sunlight_row *b)
{
    for (int face = 0; face < CY_FACE_COUNT; face++)
        if (fabs(a->next[face].height_m - b->next[face].height_m) > SAME_PLACE_M ||
            fabs(a->next[face].distance_m - b->next[face].distance_m) > SAME_PLACE_M)
            return false;
    return true;
}

/* Rows of one bearing and height between the same neighbours have one sun. */
static size_t first_alike(const struct cy_sunlight *sun, size_t row)
{
    const struct cy_sunlight_row *one = &sun->rows[row];
    for (size_t i = 0; i < row; i++) {
        const struct cy_sunlight_row *other = &sun->rows[i];
        if (other->alike == i && other->hedge_m == one->hedge_m && other->basis == one->basis &&
            other->bearing.number == one->bearing.number && same_neighbours(other, one))
            return i;
    }
    return row;
}

static void count_light(struct cy_sunlight_row *row, const struct cy_sunlight *sun)
{
    struct cy_hedge hedge = hedge_at(row, row->bearing.number);
    for (int i = 0; i < CY_SUNLIGHT_DAYS; i++) {
        struct cy_hedge_sun day;
        cy_obstacle_hedge_sun(&day, &sun->sky[i], &hedge);
        row->day_h[i] = day.hours;
        row->mean_h += day.hours / CY_SUNLIGHT_DAYS;
        for (int face = 0; face < CY_FACE_COUNT; face++)
            row->face_h[face] += day.face_h[face] / CY_SUNLIGHT_DAYS;
    }
}

static void copy_light(struct cy_sunlight_row *row, const struct cy_sunlight_row *alike)
{
    memcpy(row->day_h, alike->day_h, sizeof row->day_h);
    memcpy(row->face_h, alike->face_h, sizeof row->face_h);
    row->mean_h = alike->mean_h;
}

static void light_row(struct cy_sunlight *sun, const struct strip *strips, size_t count,
                      size_t index)
{
    const struct cy_thing *thing = strips[index].thing;
    struct cy_sunlight_row *row = &sun->rows[index];
    *row = (struct cy_sunlight_row){.thing = thing->id,
                                    .key = thing->key,
                                    .name = cy_thing_name(thing),
                                    .length_m = strips[index].length_m,
                                    .hedge_m = strips[index].hedge_m,
                                    .hedge_basis = strips[index].hedge_basis,
                                    .bearing = cy_given(thing, CY_ROW_BEARING),
                                    .spacing = cy_given(thing, CY_ROW_WIDTH)};
    row->basis = sun->basis | row->hedge_basis | row->bearing.basis;
    place_row(row, strips, count, index);
    row->alike = first_alike(sun, index);
    if (row->alike != index)
        copy_light(row, &sun->rows[row->alike]);
    else
        count_light(row, sun);
}

static int light_rows(struct cy_sunlight *out, const struct cy_farm *farm)
{
    size_t rows = (size_t)cy_farm_count(farm, CY_KIND_ROW, 0), count = 0;
    struct strip *strips = cy_zeroed(rows, sizeof *strips);
    out->rows = cy_zeroed(rows, sizeof *out->rows);
    if (!strips || !out->rows) {
        free(strips);
        return CY_NO_MEMORY;
    }
    for (const struct cy_thing *row = NULL; (row = cy_farm_next(farm, CY_KIND_ROW, 0, row));)
        strips[count++] = strip_of(farm, row);
    for (; out->row_count < count; out->row_count++)
        light_row(out, strips, count, out->row_count);
    free(strips);
    return CY_OK;
}

int cy_sunlight_of(struct cy_sunlight *out, const struct cy_farm *farm, double latitude_deg,
                   int season)
{
    const struct cy_thing *place = cy_farm_place(farm);
    *out = (struct cy_sunlight){.season = season, .latitude_deg = latitude_deg};
    out->longitude_deg = cy_number(cy_farm_one(farm, CY_KIND_SITE), CY_SITE_LONGITUDE);
    if (isnan(out->longitude_deg) && place)
        out->longitude_deg = cy_number(place, CY_PLACE_LONGITUDE);
    if (isnan(out->longitude_deg))
        out->longitude_deg = CY_SUN_MERIDIAN_DEG;
    int status = see_horizon(out, farm);
    if (status == CY_OK) {
        look_around(out);
        status = light_rows(out, farm);
    }
    if (status != CY_OK)
        cy_sunlight_dispose(out);
    return status;
}

void cy_sunlight_dispose(struct cy_sunlight *sun)
{
    free(sun->obstacles);
    free(sun->bands);
    free(sun->sky);
    free(sun->rows);
    *sun = (struct cy_sunlight){0};
}

/* ---- turned and moved ----------------------------------------------------------------------- */

static void turn_hedge(struct cy_hedge_sun *out, const struct cy_sunlight *sun,
                       const struct cy_hedge *hedge)
{
    *out = (struct cy_hedge_sun){0};
    for (int i = 0; i < CY_SUNLIGHT_DAYS; i++) {
        struct cy_hedge_sun day;
        cy_obstacle_hedge_sun(&day, &sun->sky[i], hedge);
        out->hours += day.hours / CY_SUNLIGHT_DAYS;
        for (int face = 0; face < CY_FACE_COUNT; face++)
            out->face_h[face] += day.face_h[face] / CY_SUNLIGHT_DAYS;
    }
}

void cy_sunlight_propose(struct cy_hedge_sun *out, const struct cy_sunlight *sun, double hedge_m,
                         double spacing_m, double bearing_deg)
{
    struct cy_hedge hedge = hedge_of(hedge_m, spacing_m, bearing_deg);
    turn_hedge(out, sun, &hedge);
}

void cy_sunlight_turn(struct cy_hedge_sun *out, const struct cy_sunlight *sun, size_t row,
                      double bearing_deg)
{
    struct cy_hedge hedge = hedge_at(&sun->rows[row], bearing_deg);
    turn_hedge(out, sun, &hedge);
}

struct cy_hedge cy_sunlight_hedge_of(const struct cy_sunlight_row *row)
{
    return hedge_at(row, row->bearing.number);
}

static double hedge_mean(const struct cy_sunlight *sun, const struct cy_hedge *hedge)
{
    double sum = 0;
    for (int i = 0; i < CY_SUNLIGHT_DAYS; i++)
        sum += cy_obstacle_hedge_hours(&sun->sky[i], hedge);
    return sum / CY_SUNLIGHT_DAYS;
}

/* Turned, rows that differ by nothing but their bearing have one sun too. */
static bool turns_alike(const struct cy_sunlight_row *a, const struct cy_sunlight_row *b)
{
    return a->hedge_m == b->hedge_m && same_neighbours(a, b);
}

/* The length of the rows that turn as this one does; 0 where an earlier one stands for it. */
static double length_alike(const struct cy_sunlight *sun, size_t row)
{
    double sum = 0;
    for (size_t i = 0; i < sun->row_count; i++) {
        if (!turns_alike(&sun->rows[i], &sun->rows[row]))
            continue;
        if (i < row)
            return 0;
        sum += sun->rows[i].length_m;
    }
    return sum;
}

double cy_sunlight_farm(const struct cy_sunlight *sun, double bearing_deg)
{
    double length = 0, sum = 0;
    for (size_t i = 0; i < sun->row_count; i++) {
        const struct cy_sunlight_row *row = &sun->rows[i];
        double share = isnan(bearing_deg) ? row->length_m : length_alike(sun, i);
        if (!(share > 0))
            continue;
        struct cy_hedge hedge = hedge_at(row, bearing_deg);
        length += share;
        sum += share * (isnan(bearing_deg) ? row->mean_h : hedge_mean(sun, &hedge));
    }
    return length > 0 ? sum / length : NAN;
}

/* Half of the horizon that an obstacle spans. */
static double half_span_deg(const struct cy_obstacle *band)
{
    double span = fmod(band->to_deg - band->from_deg + 720, 360);
    return fabs(band->to_deg - band->from_deg) >= 360 ? 180 : span / 2;
}

bool cy_sunlight_can_move(const struct cy_sunlight *sun, size_t obstacle)
{
    return obstacle < sun->obstacle_count && !sun->obstacles[obstacle].altitude.known &&
           half_span_deg(&sun->bands[obstacle]) < 90;
}

static struct cy_obstacle moved_band(const struct cy_sunlight *sun, size_t obstacle, double times)
{
    const struct cy_sunlight_obstacle *thing = &sun->obstacles[obstacle];
    struct cy_obstacle band = sun->bands[obstacle];
    double half = to_radians(half_span_deg(&band));
    double middle_deg = band.from_deg + to_degrees(half);
    double seen_deg = to_degrees(atan2(sin(half), cos(half) + times - 1));
    band.from_deg = middle_deg - seen_deg;
    band.to_deg = middle_deg + seen_deg;
    band.altitude_deg = to_degrees(atan2(thing->height.number, thing->distance.number * times));
    return band;
}

/* The season's mean at a row behind other obstacles than the field's. */
static double hedge_mean_behind(const struct cy_sunlight *sun, const struct cy_hedge *hedge,
                                const struct cy_obstacle *bands)
{
    struct cy_obstacle_day day;
    double sum = 0;
    for (int i = 0; i < CY_SUNLIGHT_DAYS; i++) {
        cy_obstacle_day_of(&day, sun->latitude_deg, sun->declination_deg[i], bands,
                           sun->obstacle_count);
        sum += cy_obstacle_hedge_hours(&day, hedge);
    }
    return sum / CY_SUNLIGHT_DAYS;
}

double cy_sunlight_moved(const struct cy_sunlight *sun, size_t obstacle, double times, size_t row)
{
    if (!cy_sunlight_can_move(sun, obstacle) || !(times > 0) ||
        (row != CY_SUNLIGHT_FIELD && row >= sun->row_count))
        return NAN;
    struct cy_obstacle *bands = cy_zeroed(sun->obstacle_count, sizeof *bands);
    double mean = NAN;
    if (!bands)
        return mean;
    memcpy(bands, sun->bands, sun->obstacle_count * sizeof *bands);
    bands[obstacle] = moved_band(sun, obstacle, times);
    if (row == CY_SUNLIGHT_FIELD) {
        mean = field_mean(sun, bands, sun->obstacle_count);
    } else {
        struct cy_hedge hedge = cy_sunlight_hedge_of(&sun->rows[row]);
        mean = hedge_mean_behind(sun, &hedge, bands);
    }
    free(bands);
    return mean;
}
