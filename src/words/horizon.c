/* SPDX-License-Identifier: MIT
 * The horizon all round as a picture: what stands on it, and the sun's paths over it. */
#include <math.h>

#include <caneyear/climate/sun.h>
#include <caneyear/season/sunlight.h>

#include "words/picture.h"
#include "words/words.h"

#define LABEL 5      /* columns before the picture: "80 |" */
#define NARROWEST 36 /* of the picture itself */
#define STEP_DEG 0.5 /* of the hour angle along a path */
#define LINE_DEG 5   /* of altitude to a line */
#define NAMED_DEG 20 /* from one altitude with a name to the next */

struct horizon {
    const struct cy_sunlight *sun;
    const struct cy_sunlight_row *row; /* NULL: of the open field */
    struct cy_obstacle neighbours[CY_FACE_COUNT];
    double first_deg, top_deg; /* the azimuth at the left edge; the altitude at the upper one */
    struct cy_picture picture;
};

/* A day whose path is drawn. */
struct path {
    const char *glyph, *what;
    double declination_deg;
    cy_day day; /* CY_DAY_NONE where the words say it all */
};
enum { PATHS = 4 };

/* What stands at a cell, by its middle; the lowest line shows whatever stands there at all. */
static void draw_obstacles(struct horizon *horizon, bool ascii)
{
    struct cy_picture *picture = &horizon->picture;
    for (int line = 0; line < picture->height; line++)
        for (int column = 0; column < picture->width; column++) {
            double azimuth = fmod(horizon->first_deg + (column + 0.5) * 360 / picture->width, 360);
            double altitude = (picture->height - line - 0.5) * horizon->top_deg / picture->height;
            if (line == picture->height - 1)
                altitude = 0.1;
            for (int face = 0; horizon->row && face < CY_FACE_COUNT; face++)
                if (cy_obstacle_hides(&horizon->neighbours[face], altitude, azimuth))
                    cy_picture_put(picture, column, line, ascii ? ":" : "░");
            for (size_t i = 0; i < horizon->sun->obstacle_count; i++)
                if (cy_obstacle_hides(&horizon->sun->bands[i], altitude, azimuth))
                    cy_picture_put(picture, column, line, ascii ? "#" : "█");
        }
}

static bool is_hidden(const struct horizon *horizon, double altitude_deg, double azimuth_deg)
{
    for (size_t i = 0; i < horizon->sun->obstacle_count; i++)
        if (cy_obstacle_hides(&horizon->sun->bands[i], altitude_deg, azimuth_deg))
            return true;
    for (int face = 0; horizon->row && face < CY_FACE_COUNT; face++)
        if (cy_obstacle_hides(&horizon->neighbours[face], altitude_deg, azimuth_deg))
            return true;
    return false;
}

/* Where two paths meet they share the cells, each taking every other one. */
static void draw_path(struct horizon *horizon, const struct path *paths, int index)
{
    struct cy_picture *picture = &horizon->picture;
    for (double hour_angle = -180; hour_angle < 180; hour_angle += STEP_DEG) {
        double altitude, azimuth;
        cy_sun_horizontal(&altitude, &azimuth, horizon->sun->latitude_deg,
                          paths[index].declination_deg, hour_angle);
        if (altitude <= 0 || is_hidden(horizon, altitude, azimuth))
            continue;
        double across = fmod(azimuth - horizon->first_deg + 720, 360) / 360;
        int column = (int)(across * picture->width);
        int line = picture->height - 1 - (int)(altitude / horizon->top_deg * picture->height);
        const char *there = cy_picture_get(picture, column, line);
        bool taken = false;
        for (int i = 0; i < index; i++)
            taken = taken || (there && there == paths[i].glyph);
        if (!taken || column % 2 == index % 2)
            cy_picture_put(picture, column, line, paths[index].glyph);
    }
}

static void choose_paths(struct path paths[PATHS], const struct cy_sunlight *sun)
{
    bool southern = sun->latitude_deg < 0;
    cy_day first = sun->day[0], last = sun->day[CY_SUNLIGHT_DAYS - 1];
    int year = cy_day_year(first);
    cy_day longest = cy_day_of(year, southern ? 12 : 6, 21);
    paths[0] = (struct path){".", "", sun->declination_deg[CY_SUNLIGHT_DAYS - 1], last};
    paths[1] = (struct path){"o", "", sun->declination_deg[0], first};
    paths[2] = (struct path){"+", "the equinox", 0, CY_DAY_NONE};
    paths[3] = (struct path){"*", "the longest day, ",
                             cy_sun_declination(longest, sun->longitude_deg), longest};
}

static void add_axis(struct cy_text *out, const struct horizon *horizon)
{
    static const char *const names[] = {"0 N",   "45 NE",  "90 E",  "135 SE",
                                        "180 S", "225 SW", "270 W", "315 NW"};
    int every = horizon->picture.width >= 60 ? 1 : 2; /* of 45 degrees */
    size_t start = out->length;
    for (int i = 0; i <= 8; i += every) {
        double azimuth = fmod(horizon->first_deg + 45 * i, 360);
        int column = LABEL + horizon->picture.width * i / 8;
        const char *name = i == 8 && azimuth == 0 ? "360 N" : names[(int)(azimuth / 45 + 0.5) % 8];
        int width = cy_utf8_columns(name);
        /* Each stands around its place, the outer ones inside the picture. */
        int from = i == 0 ? column : i == 8 ? column - width : column - width / 2;
        cy_text_pad(out, start, from);
        cy_text_add(out, name);
    }
    cy_text_add_char(out, '\n');
}

static void add_legend(struct cy_text *out, const struct horizon *horizon,
                       const struct path paths[PATHS], bool ascii)
{
    cy_text_add(out, "     ");
    for (int i = PATHS - 1; i >= 0; i--) {
        cy_text_add(out, paths[i].glyph);
        cy_text_add_char(out, ' ');
        cy_text_add(out, paths[i].what);
        if (paths[i].day != CY_DAY_NONE)
            cy_say_day(out, paths[i].day, false);
        cy_text_add(out, i > 0 ? "  " : "\n");
    }
    if (horizon->sun->obstacle_count == 0 && !horizon->row)
        return;
    cy_text_add(out, "     ");
    if (horizon->sun->obstacle_count > 0) {
        cy_text_add(out, ascii ? "#" : "█");
        cy_text_add(out, " stands around the field");
        cy_text_add(out, horizon->row ? "  " : "");
    }
    if (horizon->row) {
        cy_text_add(out, ascii ? ":" : "░");
        cy_text_add(out, " the next rows, from half way up this one");
    }
    cy_text_add_char(out, '\n');
}

static void add_picture(struct cy_text *out, const struct horizon *horizon)
{
    const struct cy_picture *picture = &horizon->picture;
    for (int line = 0; line < picture->height; line++) {
        size_t start = out->length;
        int foot_deg = (picture->height - 1 - line) * LINE_DEG;
        if (foot_deg % NAMED_DEG == 0)
            cy_text_add_int(out, foot_deg);
        cy_text_pad(out, start, LABEL - 1);
        cy_text_add_char(out, '|');
        cy_picture_line(out, picture, line);
        cy_text_add_char(out, '\n');
    }
    size_t start = out->length;
    cy_text_pad(out, start, LABEL - 1);
    cy_text_add_char(out, '+');
    for (int column = 0; column < picture->width; column++)
        cy_text_add_char(out, '-');
    cy_text_add_char(out, '\n');
}

void cy_say_horizon(struct cy_text *out, const struct cy_sunlight *sun, size_t row, int width,
                    bool ascii)
{
    struct path paths[PATHS];
    struct horizon horizon = {.sun = sun, .first_deg = sun->latitude_deg < 0 ? 180 : 0};
    int columns = width - LABEL > NARROWEST ? width - LABEL : NARROWEST;
    choose_paths(paths, sun);
    double highest = 90 - fabs(sun->latitude_deg - paths[PATHS - 1].declination_deg);
    /* As high as the sun, in whole lines. */
    int lines = (int)fmin(90 / LINE_DEG, floor(highest / LINE_DEG) + 1);
    horizon.top_deg = lines * LINE_DEG;
    if (row < sun->row_count) {
        horizon.row = &sun->rows[row];
        struct cy_hedge hedge = cy_sunlight_hedge_of(horizon.row);
        cy_obstacle_neighbours(horizon.neighbours, &hedge);
    }
    if (!cy_picture_init(&horizon.picture, columns, lines)) {
        out->failed = true;
        return;
    }
    draw_obstacles(&horizon, ascii);
    for (int i = 0; i < PATHS; i++)
        draw_path(&horizon, paths, i);
    add_picture(out, &horizon);
    add_axis(out, &horizon);
    add_legend(out, &horizon, paths, ascii);
    cy_picture_dispose(&horizon.picture);
}
