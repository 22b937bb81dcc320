/* SPDX-License-Identifier: MIT
 * Tests of YAML that is right: read, written, read again; the shipped catalogue and its place. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cmocka.h>

#include "home.h"
#include "store/yaml.h"
#include "words/words.h"

static void read_text(struct cy_farm *farm, const char *text)
{
    struct cy_farm home;
    struct cy_issues issues = {0};
    struct cy_text out = {0};
    home_init(&home);
    int status = cy_yaml_parse(farm, "x.yaml", text, strlen(text), &home, &issues);
    for (size_t i = 0; i < issues.count; i++) {
        cy_text_clear(&out);
        cy_say_issue(&out, &issues.items[i], true);
        print_error("%s\n", cy_text_get(&out));
    }
    cy_text_dispose(&out);
    cy_farm_dispose(&home);
    assert_int_equal(status, CY_OK);
}

static const struct cy_thing *thing(const struct cy_farm *farm, enum cy_kind kind, const char *key)
{
    const struct cy_thing *found = cy_farm_by_key(farm, kind, 0, key);
    assert_non_null(found);
    return found;
}

static void assert_number(const struct cy_thing *thing, enum cy_field field, double number)
{
    assert_true(cy_given(thing, field).is_set);
    assert_true(cy_number(thing, field) == number);
}

static void assert_behind(const struct cy_thing *thing, enum cy_field field, cy_basis basis,
                          const char *source)
{
    assert_true(cy_given(thing, field).is_set);
    assert_int_equal(cy_given(thing, field).basis, basis);
    assert_string_equal(cy_given(thing, field).source, source);
}

/* What is written reads as the same farm, and that is written as the same bytes. */
static void assert_fixed_point(const struct cy_farm *farm)
{
    struct cy_farm again;
    struct cy_text first = {0}, second = {0};
    cy_yaml_write(&first, farm);
    assert_false(first.failed);
    read_text(&again, cy_text_get(&first));
    cy_yaml_write(&second, &again);
    assert_string_equal(cy_text_get(&first), cy_text_get(&second));
    size_t own = 0;
    for (size_t i = 0; i < farm->count; i++) {
        const struct cy_thing *a = farm->things[i];
        if (a->catalogue)
            continue;
        const struct cy_thing *parent = cy_farm_by_id(farm, a->parent), *b;
        int64_t into = parent ? cy_farm_by_key(&again, parent->kind, 0, parent->key)->id : 0;
        b = cy_farm_by_key(&again, a->kind, into, a->key);
        assert_non_null(b);
        assert_int_equal(a->retired, b->retired);
        for (int k = 0; k < cy_kind_info(a->kind)->field_count; k++)
            assert_true(cy_value_equal(&a->values[k], &b->values[k]));
        own++;
    }
    for (size_t i = 0; i < again.count; i++)
        own -= !again.things[i]->catalogue;
    assert_int_equal(own, 0);
    cy_farm_dispose(&again);
    cy_text_dispose(&first);
    cy_text_dispose(&second);
}

static const char full[] =
    "# A farm with something of every kind.\n"
    "caneyear: 1\n"
    "x-mine: {anything: [goes, here]}\n"
    "seen:\n"
    "  - {day: 2026-04-20, row: north-1, what: cane height, height: 3 ft, key: s1}\n"
    "  - {day: 2026-04-21, row: north-1, what: cane height, height: 4 ft, corrects: s1}\n"
    "rows:\n"
    "  - key: south\n"
    "    length: 60 m\n"
    "    cultivar: hedge\n"
    "  - name: North 1\n"
    "    length: 180 ft\n"
    "    spacing: 3 ft\n"
    "    cultivar: hedge\n"
    "    practice: winter\n"
    "    trellis: tall\n"
    "    zone: east\n"
    "    planted: \"2024-03-15\"\n"
    "    x-gate: by the barn\n"
    "farm:\n"
    "  name: \"Hollow Farm: east\"\n"
    "  note: >-\n"
    "    Folded lines\n"
    "    are one.\n"
    "  seed: 7\n"
    "site:\n"
    "  place: home\n"
    "  soil: {value: clay loam, basis: published, source: \"county survey, sheet 12\"}\n"
    "  obstacles:\n"
    "    - {key: woods, from: 200, to: 260, altitude: 12}\n"
    "cultivars:\n"
    "  - key: hedge\n"
    "    source: a leaflet\n"
    "    basis: published\n"
    "    habit: erect\n"
    "    chill_need: 450 h\n"
    "    chill_rule: hours below 45 F\n"
    "    bud_t50: {value: -20 C, basis: placeholder}\n"
    "    berry: {value: 7 g, source: another leaflet}\n"
    "practices:\n"
    "  - {key: winter, cropping: floricane crop, summer_tipping: no, spent_from: 10-01}\n"
    "trellises:\n"
    "  - key: tall\n"
    "    wires:\n"
    "      - height: 3 ft\n"
    "      - {height: 5 ft, tension: 200 lbf, set_at: 60 F}\n"
    "zones: [{key: east, emitter: 2 L/h, lines: 2}]\n"
    "crew:\n"
    "  hours_per_day: 16\n"
    "  people: [{name: \"no\"}, {name: Ana}]\n"
    "market: {upick_price: \"$2.50/lb\", upick_share: 40 %}\n"
    "jobs:\n"
    "  - {key: walk, name: Walk the rows, from: bud break, to: date, to_date: 07-04}\n"
    "done:\n"
    "  - {day: 2026-05-01, job: walk, hours: 2}\n";

static void every_kind_is_read(void **state)
{
    struct cy_farm farm;
    read_text(&farm, full);
    const struct cy_thing *row = thing(&farm, CY_KIND_ROW, "north-1");
    const struct cy_thing *tall = thing(&farm, CY_KIND_TRELLIS, "tall");
    assert_string_equal(cy_string(cy_farm_one(&farm, CY_KIND_FARM), CY_FARM_NAME),
                        "Hollow Farm: east");
    assert_string_equal(cy_string(cy_farm_one(&farm, CY_KIND_FARM), CY_FARM_NOTE),
                        "Folded lines are one.");
    assert_number(row, CY_ROW_LENGTH, 54.864);
    assert_int_equal(cy_date(row, CY_ROW_PLANTED), cy_day_of(2024, 3, 15));
    assert_ptr_equal(cy_referred(&farm, row, CY_ROW_TRELLIS), tall);
    assert_ptr_equal(cy_farm_next(&farm, CY_KIND_ROW, 0, NULL), thing(&farm, CY_KIND_ROW, "south"));
    assert_ptr_equal(cy_farm_next(&farm, CY_KIND_ROW, 0, thing(&farm, CY_KIND_ROW, "south")), row);
    assert_int_equal(cy_farm_count(&farm, CY_KIND_WIRE, tall->id), 2);
    const struct cy_thing *wire = cy_farm_by_key(&farm, CY_KIND_WIRE, tall->id, "wire-2");
    assert_number(wire, CY_WIRE_HEIGHT, 1.524);
    assert_int_equal(cy_choice(thing(&farm, CY_KIND_PRACTICE, "winter"), CY_PRACTICE_TIPS), CY_NO);
    assert_number(cy_farm_one(&farm, CY_KIND_MARKET), CY_MARKET_UPICK_SHARE, 0.4);
    const struct cy_thing *crew = cy_farm_one(&farm, CY_KIND_CREW);
    assert_non_null(cy_farm_by_key(&farm, CY_KIND_PERSON, crew->id, "ana"));
    assert_int_equal(cy_farm_count(&farm, CY_KIND_SEEN, 0), 2);
    assert_int_equal(cy_farm_count(&farm, CY_KIND_DONE, 0), 1);
    assert_fixed_point(&farm);
    cy_farm_dispose(&farm);
    (void)state;
}

static void basis_and_source_are_handed_down(void **state)
{
    struct cy_farm farm;
    read_text(&farm, full);
    const struct cy_thing *hedge = thing(&farm, CY_KIND_CULTIVAR, "hedge");
    assert_behind(hedge, CY_CULTIVAR_HABIT, CY_BASIS_PUBLISHED, "a leaflet");
    assert_behind(hedge, CY_CULTIVAR_CHILL, CY_BASIS_PUBLISHED, "a leaflet");
    assert_behind(hedge, CY_CULTIVAR_BERRY, CY_BASIS_PUBLISHED, "another leaflet");
    assert_behind(hedge, CY_CULTIVAR_BUD_T50, CY_BASIS_PLACEHOLDER, "");
    const struct cy_thing *site = cy_farm_one(&farm, CY_KIND_SITE);
    assert_behind(site, CY_SITE_SOIL, CY_BASIS_PUBLISHED, "county survey, sheet 12");
    assert_behind(site, CY_SITE_PLACE, CY_BASIS_GROWER, "");
    cy_farm_dispose(&farm);
    (void)state;
}

static void children_inherit_what_they_do_not_say(void **state)
{
    struct cy_farm farm;
    read_text(&farm, "caneyear: 1\n"
                     "site: {place: home}\n"
                     "trellises:\n"
                     "  - key: tall\n"
                     "    basis: published\n"
                     "    source: a leaflet\n"
                     "    post_depth: 2 ft\n"
                     "    wires:\n"
                     "      - {key: a, height: 1 m}\n"
                     "      - {key: b, height: 1 m, basis: grower}\n"
                     "      - {key: c, height: 1 m, source: a book}\n"
                     "      - {key: d, height: {value: 1 m, basis: from memory}, gauge: 11}\n");
    int64_t tall = thing(&farm, CY_KIND_TRELLIS, "tall")->id;
    const struct cy_thing *a = cy_farm_by_key(&farm, CY_KIND_WIRE, tall, "a");
    const struct cy_thing *b = cy_farm_by_key(&farm, CY_KIND_WIRE, tall, "b");
    const struct cy_thing *c = cy_farm_by_key(&farm, CY_KIND_WIRE, tall, "c");
    const struct cy_thing *d = cy_farm_by_key(&farm, CY_KIND_WIRE, tall, "d");
    assert_behind(a, CY_WIRE_HEIGHT, CY_BASIS_PUBLISHED, "a leaflet");
    assert_behind(b, CY_WIRE_HEIGHT, CY_BASIS_GROWER, "");
    assert_behind(c, CY_WIRE_HEIGHT, CY_BASIS_PUBLISHED, "a book");
    assert_behind(d, CY_WIRE_HEIGHT, CY_BASIS_MEMORY, "");
    assert_behind(d, CY_WIRE_GAUGE, CY_BASIS_PUBLISHED, "a leaflet");
    assert_fixed_point(&farm);
    cy_farm_dispose(&farm);
    (void)state;
}

static void writing_says_no_more_than_it_must(void **state)
{
    struct cy_farm farm;
    struct cy_text text = {0};
    read_text(&farm,
              "caneyear: 1\n"
              "site: {place: home}\n"
              "farm: {units: metric, name: 'No. 7'}\n"
              "cultivars:\n"
              "  - {key: a, basis: published, source: 'one, two', habit: erect, berry: 7 g}\n"
              "  - {key: b, name: '2024', habit: {value: erect, basis: published}}\n"
              "rows: [{key: r, length: 180 ft, cultivar: a}]\n");
    cy_yaml_write(&text, &farm);
    assert_string_equal(cy_text_get(&text), "caneyear: 1\n"
                                            "\n"
                                            "farm:\n"
                                            "  name: No. 7\n"
                                            "  units: metric\n"
                                            "\n"
                                            "site:\n"
                                            "  place: home\n"
                                            "\n"
                                            "cultivars:\n"
                                            "  - key: a\n"
                                            "    basis: published\n"
                                            "    source: one, two\n"
                                            "    habit: erect\n"
                                            "    berry: 7 g\n"
                                            "  - key: b\n"
                                            "    name: \"2024\"\n"
                                            "    habit: {value: erect, basis: published}\n"
                                            "\n"
                                            "rows:\n"
                                            "  - key: r\n"
                                            "    length: 54.864 m\n"
                                            "    cultivar: a\n");
    cy_text_dispose(&text);
    assert_fixed_point(&farm);
    cy_farm_dispose(&farm);
    (void)state;
}

/* Names that are anything but a plain word to YAML come back as they were. */
static void hostile_names_come_back(void **state)
{
    static const char *const names[] = {
        "",
        " ",
        " a",
        "a ",
        "a: b",
        "a:",
        "a #b",
        "#a",
        "- a",
        "-",
        "---",
        "...",
        "? a",
        ": a",
        "[a]",
        "{a: b}",
        "a, b",
        "!tag",
        "&a",
        "*a",
        "|",
        ">",
        "'a'",
        "\"a\"",
        "%YAML",
        "@a",
        "`a`",
        "no",
        "Yes",
        "null",
        "~",
        "012",
        "1e3",
        "0x1F",
        "2024-01-02",
        "a\\b\\n",
        "<<",
        "=",
        "kéy 莓 🫐",
        "a]b}c",
        "x-a: \\\"#&*!|>",
        "caneyear: 1",
        "é: è #",
        "\xef\xbb\xbf",
        "\xc2\xa0",
        "a\xef\xbf\xbf",
    };
    struct cy_farm farm;
    read_text(&farm, "caneyear: 1\nsite: {place: home}\n");
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        struct cy_value value = {.set = true,
                                 .text = (char *)names[i],
                                 .basis = i % 2 ? CY_BASIS_PRACTICE : CY_BASIS_GROWER,
                                 .source = names[i][0] ? (char *)names[i] : NULL};
        int64_t id = cy_farm_add(&farm, CY_KIND_TRELLIS, 0, NULL, names[i], 0)->id;
        assert_int_equal(cy_farm_set(&farm, id, CY_TRELLIS_NAME, &value), CY_OK);
        if (i % 3 == 0)
            home_set(&farm, id, CY_TRELLIS_SPACING, 5); /* then each value says its own basis */
    }
    assert_fixed_point(&farm);
    cy_farm_dispose(&farm);
    (void)state;
}

static void awkward_numbers_come_back(void **state)
{
    static const double lengths[] = {1.0 / 3, 0.1 + 0.2, 54.864, 1e-3 + 1, 1998.9999999999998};
    struct cy_farm farm;
    read_text(&farm, "caneyear: 1\nsite: {place: home}\ncultivars: [{key: c}]\n");
    for (size_t i = 0; i < sizeof lengths / sizeof *lengths; i++) {
        struct cy_value cultivar = {.set = true, .text = "c", .basis = CY_BASIS_GROWER};
        int64_t id = cy_farm_add(&farm, CY_KIND_ROW, 0, NULL, NULL, 0)->id;
        assert_int_equal(cy_farm_set(&farm, id, CY_ROW_CULTIVAR, &cultivar), CY_OK);
        home_set(&farm, id, CY_ROW_LENGTH, lengths[i] + 1);
        home_set(&farm, id, CY_ROW_X, -lengths[i]);
        home_set(&farm, id, CY_ROW_COLDER, lengths[i] / 250);
    }
    assert_fixed_point(&farm);
    cy_farm_dispose(&farm);
    (void)state;
}

static void made_keys_keep_clear_of_written_ones(void **state)
{
    struct cy_farm farm;
    read_text(&farm, "caneyear: 1\n"
                     "site: {place: home}\n"
                     "trellises:\n"
                     "  - name: Tall\n"
                     "  - key: tall\n"
                     "  - name: tall!\n"
                     "  - key: tall-2\n");
    static const char *const order[] = {"tall-3", "tall", "tall-4", "tall-2"};
    const struct cy_thing *trellis = NULL;
    for (int i = 0; i < 4; i++) {
        trellis = cy_farm_next(&farm, CY_KIND_TRELLIS, 0, trellis);
        assert_non_null(trellis);
        assert_string_equal(trellis->key, order[i]);
    }
    assert_fixed_point(&farm);
    cy_farm_dispose(&farm);
    (void)state;
}

static void retired_things_stay_retired(void **state)
{
    struct cy_farm farm;
    read_text(&farm, "caneyear: 1\n"
                     "site: {place: home}\n"
                     "cultivars: [{key: c}]\n"
                     "rows:\n"
                     "  - {key: old, retired: yes, length: 9 m, cultivar: c}\n"
                     "  - {key: new, retired: no, length: 9 m, cultivar: c}\n"
                     "done: [{day: 2026-01-02, row: old, text: grubbed up}]\n");
    assert_true(thing(&farm, CY_KIND_ROW, "old")->retired);
    assert_int_equal(cy_farm_count(&farm, CY_KIND_ROW, 0), 1);
    assert_fixed_point(&farm);
    cy_farm_dispose(&farm);
    (void)state;
}

static void what_is_lent_is_not_written(void **state)
{
    struct cy_farm farm;
    struct cy_text text = {0};
    read_text(&farm, "caneyear: 1\n"
                     "site: {place: home}\n"
                     "places: [{key: home, name: My own}]\n");
    assert_number(thing(&farm, CY_KIND_PLACE, "home"), CY_PLACE_LATITUDE, 36);
    cy_yaml_write(&text, &farm);
    assert_string_equal(cy_text_get(&text), "caneyear: 1\n\nsite:\n  place: home\n\nplaces:\n"
                                            "  - key: home\n    name: My own\n");
    cy_text_dispose(&text);
    cy_farm_dispose(&farm);
    (void)state;
}

static void bytes_at_the_edges_are_taken(void **state)
{
    struct cy_farm farm;
    read_text(&farm, "\xef\xbb\xbf"
                     "caneyear: '1'\r\nsite:\r\n  place: \"home\"\r\nfarm: {name: \"~\"}");
    assert_string_equal(cy_string(cy_farm_one(&farm, CY_KIND_FARM), CY_FARM_NAME), "~");
    cy_farm_dispose(&farm);
    (void)state;
}

/* ---- files ---------------------------------------------------------------------------------- */

static char folder[] = "/tmp/caneyear-test-XXXXXX";

static int make_folder(void **state)
{
    (void)state;
    return mkdtemp(folder) ? 0 : -1;
}

static const char *path_of(const char *name)
{
    static char path[128];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    return path;
}

static void put(const char *name, const char *text)
{
    FILE *file = fopen(path_of(name), "w");
    assert_non_null(file);
    assert_true(fputs(text, file) >= 0);
    assert_int_equal(fclose(file), 0);
}

static int remove_folder(void **state)
{
    static const char *const names[] = {
        "cultivars.yaml", "climates.yaml", "practices.yaml", "jobs.yaml", "parts.yaml",
        "farm.yaml",      "pipe"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        unlink(path_of(names[i]));
    (void)state;
    return rmdir(folder);
}

static void expect_unreadable(const char *path, const char *why)
{
    struct cy_farm farm;
    struct cy_issues issues = {0};
    assert_int_equal(cy_yaml_read(&farm, path, NULL, &issues), CY_INVALID);
    assert_int_equal(farm.count, 0);
    assert_int_equal(issues.count, 1);
    assert_int_equal(issues.items[0].code, CY_ISSUE_NOT_READABLE);
    assert_string_equal(issues.items[0].file, path);
    assert_string_equal(issues.items[0].found, why);
}

/* A pipe with no writer must not be waited for. */
static void only_regular_files_are_read(void **state)
{
    struct cy_farm farm, home;
    home_init(&home);
    put("farm.yaml", full);
    assert_int_equal(cy_yaml_read(&farm, path_of("farm.yaml"), &home, NULL), CY_OK);
    assert_int_equal(cy_farm_count(&farm, CY_KIND_ROW, 0), 2);
    cy_farm_dispose(&farm);
    cy_farm_dispose(&home);
    expect_unreadable(path_of("nothing.yaml"), "No such file or directory");
    expect_unreadable(folder, "it is a folder");
    assert_int_equal(mkfifo(path_of("pipe"), 0600), 0);
    expect_unreadable(path_of("pipe"), "it is not a regular file");
    expect_unreadable("/dev/zero", "it is not a regular file");
    (void)state;
}

static void catalogue_is_read_from_its_files(void **state)
{
    struct cy_farm catalogue;
    struct cy_issues issues = {0};
    char found[256];
    put("cultivars.yaml", "caneyear: 1\ncultivars: [{key: c, habit: erect}]\n");
    put("climates.yaml", "caneyear: 1\nplaces: [{key: p, months: [{low: 1 C}]}]\n");
    put("practices.yaml", "caneyear: 1\npractices: [{key: a}]\n");
    put("jobs.yaml", "caneyear: 1\njobs: [{key: j, after: k}, {key: k}]\n");
    put("parts.yaml", "caneyear: 1\nparts: [{key: s, what: staple, price: $0.08}]\n");
    assert_int_equal(setenv("CANEYEAR_SHARE", folder, 1), 0);
    assert_true(cy_share_folder(found, sizeof found));
    assert_string_equal(found, folder);
    assert_false(cy_share_folder(found, 4)); /* no room */
    assert_int_equal(cy_catalogue_read(&catalogue, NULL, &issues), CY_OK);
    assert_int_equal(issues.count, 0);
    thing(&catalogue, CY_KIND_CULTIVAR, "c");
    thing(&catalogue, CY_KIND_PRACTICE, "a");
    thing(&catalogue, CY_KIND_PART, "s");
    assert_int_equal(
        cy_farm_count(&catalogue, CY_KIND_MONTH, thing(&catalogue, CY_KIND_PLACE, "p")->id), 1);
    cy_farm_dispose(&catalogue);
    assert_int_equal(unsetenv("CANEYEAR_SHARE"), 0);
    (void)state;
}

static void mistakes_in_the_catalogue_have_a_place(void **state)
{
    struct cy_farm catalogue;
    struct cy_issues issues = {0};
    struct cy_text said = {0};
    put("jobs.yaml", "caneyear: 1\njobs:\n  - {key: j, after: kk}\n  - {key: k}\n");
    assert_int_equal(cy_catalogue_read(&catalogue, folder, &issues), CY_INVALID);
    assert_int_equal(catalogue.count, 0);
    assert_int_equal(issues.count, 1);
    cy_say_issue(&said, &issues.items[0], true);
    assert_string_equal(cy_text_get(&said) + strlen(folder),
                        "/jobs.yaml:3:21: job j, after: nothing of that kind is called \"kk\"; did "
                        "you mean \"k\"?");
    cy_text_dispose(&said);
    unlink(path_of("climates.yaml"));
    issues = (struct cy_issues){0};
    assert_int_equal(cy_catalogue_read(&catalogue, folder, &issues), CY_INVALID);
    assert_int_equal(issues.count, 1);
    assert_int_equal(issues.items[0].code, CY_ISSUE_NOT_READABLE);
    assert_string_equal(issues.items[0].file, path_of("climates.yaml"));
    (void)state;
}

/* Everything under share/ reads, and the farms there come back from what is written of them. */
static void shipped_files_are_right(void **state)
{
    static const char *const farms[] = {"share/backyard.yaml", "share/blank.yaml",
                                        "share/demo.yaml"};
    struct cy_farm catalogue, farm;
    struct cy_issues issues = {0};
    assert_int_equal(cy_catalogue_read(&catalogue, "share", &issues), CY_OK);
    for (size_t i = 0; i < sizeof farms / sizeof *farms; i++) {
        struct cy_text first = {0}, second = {0};
        assert_int_equal(cy_yaml_read(&farm, farms[i], &catalogue, &issues), CY_OK);
        cy_yaml_write(&first, &farm);
        cy_farm_dispose(&farm);
        assert_int_equal(
            cy_yaml_parse(&farm, farms[i], first.data, first.length, &catalogue, &issues), CY_OK);
        cy_yaml_write(&second, &farm);
        assert_string_equal(cy_text_get(&first), cy_text_get(&second));
        cy_farm_dispose(&farm);
        cy_text_dispose(&first);
        cy_text_dispose(&second);
    }
    cy_farm_dispose(&catalogue);
    (void)state;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_kind_is_read),
        cmocka_unit_test(basis_and_source_are_handed_down),
        cmocka_unit_test(children_inherit_what_they_do_not_say),
        cmocka_unit_test(writing_says_no_more_than_it_must),
        cmocka_unit_test(hostile_names_come_back),
        cmocka_unit_test(awkward_numbers_come_back),
        cmocka_unit_test(made_keys_keep_clear_of_written_ones),
        cmocka_unit_test(retired_things_stay_retired),
        cmocka_unit_test(what_is_lent_is_not_written),
        cmocka_unit_test(bytes_at_the_edges_are_taken),
        cmocka_unit_test(only_regular_files_are_read),
        cmocka_unit_test(catalogue_is_read_from_its_files),
        cmocka_unit_test(mistakes_in_the_catalogue_have_a_place),
        cmocka_unit_test(shipped_files_are_right),
    };
    return cmocka_run_group_tests(tests, make_folder, remove_folder);
}
