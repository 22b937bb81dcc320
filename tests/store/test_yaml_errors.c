/* SPDX-License-Identifier: MIT
 * Tests of everything that can be wrong with a YAML file: the line, the column, the sentence. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include <cmocka.h>

#include <caneyear/base/array.h>

#include "home.h"
#include "store/yaml.h"
#include "words/words.h"

/* All sentences about a text, each with a newline; "" where there is nothing to say. */
static void read_and_say(struct cy_text *out, const char *text, size_t length)
{
    struct cy_farm home, farm;
    struct cy_issues issues = {0};
    home_init(&home);
    int status = cy_yaml_parse(&farm, "x.yaml", text, length, &home, &issues);
    assert_int_equal(status, issues.count ? CY_INVALID : CY_OK);
    if (status != CY_OK) {
        assert_int_equal(farm.count, 0);
        assert_null(farm.things);
    }
    for (size_t i = 0; i < issues.count; i++) {
        cy_say_issue(out, &issues.items[i], true);
        cy_text_add_char(out, '\n');
    }
    cy_farm_dispose(&farm);
    cy_farm_dispose(&home);
}

static void expect(const char *text, size_t length, const char *sentences)
{
    struct cy_text out = {0};
    read_and_say(&out, text, length);
    assert_string_equal(cy_text_get(&out), sentences);
    cy_text_dispose(&out);
}

struct wrong {
    const char *text;
    const char *sentences;
};

static void expect_all(const struct wrong *wrongs, size_t count, const char *behind)
{
    for (size_t i = 0; i < count; i++) {
        struct cy_text text = {0};
        cy_text_add(&text, wrongs[i].text);
        cy_text_add(&text, behind);
        expect(text.data, text.length, wrongs[i].sentences);
        cy_text_dispose(&text);
    }
}

#define EXPECT_ALL(wrongs, behind) expect_all(wrongs, sizeof wrongs / sizeof *wrongs, behind)

/* Put behind a text that is about something else, so that no place is missing. */
#define SITE "\nsite: {place: home}\n"
#define ALIASES                                                                                    \
    ", but anchors, aliases, tags and directives are not taken; write the value itself\n"

static void syntax_stops_the_reading(void **state)
{
    static const struct wrong wrongs[] = {
        {"", "x.yaml:1:1: the file is empty; it begins with \"caneyear: 1\"\n"},
        {"# only a comment\n", "x.yaml:1:1: the file is empty; it begins with \"caneyear: 1\"\n"},
        {"---\n", "x.yaml:2:1: the file is empty; it begins with \"caneyear: 1\"\n"},
        {"caneyear: 1\nfarm:\n\tname: a\n",
         "x.yaml:3:1: this cannot be understood: a tab begins the line; tabs cannot indent, use "
         "spaces\n"},
        {"caneyear: 1\nfarm:\n  name: a\n  \tunits: us\n",
         "x.yaml:4:3: this cannot be understood: a tab begins the line; tabs cannot indent, use "
         "spaces\n"},
        {"farm:\n  name: \"a\n\n",
         "x.yaml:4:1: this cannot be understood: found unexpected end of stream, while scanning a "
         "quoted scalar that begins on line 2\n"},
        {"farm:\n  name: a: b\n",
         "x.yaml:2:10: this cannot be understood: mapping values are not allowed in this "
         "context\n"},
        {"rows: [a\nfarm: b\n",
         "x.yaml:2:5: this cannot be understood: did not find expected ',' or ']', while parsing a "
         "flow sequence that begins on line 1\n"},
        {"caneyear: 1\n---\ncaneyear: 1\n",
         "x.yaml:2:1: a second document begins here; a file holds one\n"},
        {"a: &a [x]\nb: *a\n", "x.yaml:1:4: found &a" ALIASES},
        {"a: *b\n", "x.yaml:1:4: found *b" ALIASES},
        {"a: {b: &c d}\n", "x.yaml:1:8: found &c" ALIASES},
        {"*a : b\n", "x.yaml:1:1: found *a" ALIASES},
        {"farm: !mine {name: a}\n", "x.yaml:1:7: found !mine" ALIASES},
        {"farm:\n  name: !!str a\n", "x.yaml:2:9: found tag:yaml.org,2002:str" ALIASES},
        {"%YAML 1.1\n---\ncaneyear: 1\n", "x.yaml:1:1: found %" ALIASES},
        {"%TAG !e! tag:e,2000:\n---\ncaneyear: 1\n", "x.yaml:1:1: found %" ALIASES},
        {"? [a]\n: b\n", "x.yaml:1:3: found a list where a key is needed\n"},
        {"{a: b}: c\n", "x.yaml:1:1: found a mapping where a key is needed\n"},
    };
    EXPECT_ALL(wrongs, "");
    (void)state;
}

/* Columns are characters; the byte-order mark and the two bytes of a line end count as nothing. */
static void bytes_that_are_no_text_have_a_place(void **state)
{
#define EXPECT_BYTES(bytes, sentences) expect(bytes, sizeof bytes - 1, sentences)
    EXPECT_BYTES("farm:\r\n  name: k\xc3\xa9r\xff\n",
                 "x.yaml:2:12: the byte 0xFF is not UTF-8 text; save the file as UTF-8\n");
    EXPECT_BYTES("\xef\xbb\xbf# \xc0\xaf\n",
                 "x.yaml:1:3: the byte 0xC0 is not UTF-8 text; save the file as UTF-8\n");
    EXPECT_BYTES("\xff\xfe"
                 "c\0a\0",
                 "x.yaml:1:1: the byte 0xFF is not UTF-8 text; save the file as UTF-8\n");
    EXPECT_BYTES("a: b\nc: k\xc3\xa9 \0d\n",
                 "x.yaml:2:7: a control character (U+0000) is not allowed here\n");
    EXPECT_BYTES("a: \x1b[2J\n", "x.yaml:1:4: a control character (U+001B) is not allowed here\n");
    EXPECT_BYTES("a: b\ra: \xc2\x9b\n",
                 "x.yaml:2:4: a control character (U+009B) is not allowed here\n");
    EXPECT_BYTES("a: \xe2\x80\xae\n",
                 "x.yaml:1:4: a control character (U+202E) is not allowed here\n");
    EXPECT_BYTES("a: \xef\xbf\xbf\n",
                 "x.yaml:1:4: a control character (U+FFFF) is not allowed here\n");
    EXPECT_BYTES("farm:\n  name: \"x\\0y\"\n",
                 "x.yaml:2:9: a control character (U+0000) is not allowed here\n");
    EXPECT_BYTES("farm:\n  \"na\\x1bme\": y\n",
                 "x.yaml:2:3: a control character (U+001B) is not allowed here\n");
    EXPECT_BYTES("farm:\n  name: \"a\tb\"\n",
                 "x.yaml:2:9: a control character (U+0009) is not allowed here\n");
    EXPECT_BYTES("farm:\n  note: |\n    a\n    b\n",
                 "x.yaml:2:9: a control character (line break) is not allowed here; write the text "
                 "on one line, or fold it with >-\n");
    (void)state;
}

static void shapes_and_keys_are_held_to_the_table(void **state)
{
    static const struct wrong wrongs[] = {
        {"farm: {name: a}", "x.yaml:1:1: caneyear: this must be given; needed: caneyear: 1\n"},
        {"caneyear: 2\nrows: 7",
         "x.yaml:1:11: caneyear: version \"2\" of the format is not known to this program; it "
         "reads version 1\n"},
        {"caneyear:", "x.yaml:1:1: caneyear: found nothing where a value is needed\n"},
        {"caneyear: 1\nrow: []",
         "x.yaml:2:1: no key \"row\" is known here; did you mean \"rows\"?\n"},
        {"caneyear: 1\nweather: []",
         "x.yaml:2:1: no key \"weather\" is known here; allowed: caneyear, farm, site, places, "
         "cultivars, practices, trellises, parts, zones, crew, market, jobs, rows, seen, done\n"},
        {"caneyear: 1\nfarm:\n  nmae: a",
         "x.yaml:3:3: farm: no key \"nmae\" is known here; did you mean \"name\"?\n"},
        {"caneyear: 1\nfarm:\n  key: a",
         "x.yaml:3:3: farm: no key \"key\" is known here; allowed: name, units, seed, note, basis, "
         "source\n"},
        {"caneyear: 1\nfarm:\n  name: a\n  note: b\n  name: c",
         "x.yaml:5:3: \"name\" is given twice, first on line 3\n"},
        {"caneyear: 1\nfarm: [a]", "x.yaml:2:7: farm: found a list where a mapping is needed\n"},
        {"caneyear: 1\nrows: {a: b}", "x.yaml:2:7: rows: found a mapping where a list is needed\n"},
        {"caneyear: 1\nrows:", "x.yaml:2:1: rows: found nothing where a list is needed\n"},
        {"caneyear: 1\nrows:\n  - north", "x.yaml:3:5: found a value where a mapping is needed\n"},
        {"caneyear: 1\ntrellises:\n  - key: t\n    wires: 3",
         "x.yaml:4:12: trellis t, wires: found a value where a list is needed\n"},
        {"caneyear: 1\nfarm:\n  name: [a]",
         "x.yaml:3:9: farm, name: found a list where a value is needed\n"},
        {"caneyear: 1\nfarm:\n  name:\n  note: a",
         "x.yaml:3:3: farm, name: found nothing where a value is needed\n"},
        {"caneyear: 1\nfarm:\n  name: {basis: grower}",
         "x.yaml:3:9: farm, name: found a mapping without the key value where {value: ..., basis: "
         "..., source: ...} is needed\n"},
        {"caneyear: 1\nfarm:\n  name: {value: a, sauce: b}",
         "x.yaml:3:20: farm: no key \"sauce\" is known here; did you mean \"source\"?\n"},
        {"caneyear: 1\nfarm:\n  name: {value: a, why: b}",
         "x.yaml:3:20: farm: no key \"why\" is known here; allowed: value, basis, source\n"},
        {"caneyear: 1\nfarm:\n  name: {value: a, basis: hearsay}",
         "x.yaml:3:27: farm, basis: \"hearsay\" is not one of the choices; allowed: observed, "
         "grower, published, learned, fitted here, filled, made, common practice, no source, from "
         "memory, placeholder\n"},
        {"caneyear: 1\nfarm:\n  source: []",
         "x.yaml:3:11: farm, source: found a list where a value is needed\n"},
        {"caneyear: 1\ntrellises:\n  - key: Tall one",
         "x.yaml:3:10: key: \"Tall one\" is not a key; allowed: 1 to 40 of a-z, 0-9 and -, "
         "beginning with a letter or digit\n"},
        {"caneyear: 1\ntrellises:\n  - key: a\n  - name: b\n    key: a",
         "x.yaml:5:10: key: \"a\" is given twice, first on line 3\n"},
        {"caneyear: 1\ntrellises:\n  - {key: a, retired: maybe}",
         "x.yaml:3:23: trellis a, retired: \"maybe\" is not one of the choices; allowed: yes or "
         "no\n"},
    };
    EXPECT_ALL(wrongs, SITE);
    expect("- a\n", 4, "x.yaml:1:1: found a list where a mapping is needed\n");
    expect("hello\n", 6, "x.yaml:1:1: found a value where a mapping is needed\n");
    (void)state;
}

#define ROW "caneyear: 1\ncultivars:\n  - {key: c}\nrows:\n  - key: r\n    cultivar: c\n"

static void values_are_held_to_the_table(void **state)
{
    static const struct wrong wrongs[] = {
        {ROW "    length: long",
         "x.yaml:7:13: row r, length: \"long\" is not a number; allowed: 1.641 to 6561 ft (0.5 to "
         "2000 m)\n"},
        {ROW "    length: 5 kg",
         "x.yaml:7:13: row r, length: \"5 kg\" does not have a fitting unit; needed: length, in ft "
         "or m\n"},
        {ROW "    length: 5 furrows",
         "x.yaml:7:13: row r, length: \"5 furrows\" does not have a fitting unit; needed: length, "
         "in ft or m\n"},
        {ROW "    length: \"180\"",
         "x.yaml:7:13: row r, length: \"180\" has no unit; needed: ft or m\n"},
        {ROW "    length: {basis: grower, value: 9000 m}",
         "x.yaml:7:36: row r, length: \"9000 m\" is out of range; allowed: 1.641 to 6561 ft (0.5 "
         "to 2000 m)\n"},
        {ROW "    length: 5 m\n    planted: 2027-02-30",
         "x.yaml:8:14: row r, planted: \"2027-02-30\" is not a date; allowed: a date such as "
         "2027-03-15\n"},
        {ROW "    length: 5 m\n    stock: twig",
         "x.yaml:8:12: row r, stock: \"twig\" is not one of the choices; allowed: bare root, plug, "
         "container or long cane\n"},
        {ROW "    length: 5 m\n    missing: 1.5",
         "x.yaml:8:14: row r, missing: \"1.5\" is not a number; allowed: a whole number, 0 to "
         "10000\n"},
        {ROW "    length: 5 m\n    trellis: The Tall One",
         "x.yaml:8:14: row r, trellis: \"The Tall One\" is not a key; allowed: 1 to 40 of a-z, 0-9 "
         "and -, a letter or digit first\n"},
        {"caneyear: 1\nplaces:\n  - key: p\n    region: a region with a long name",
         "x.yaml:4:13: place p, region: \"a region with a long name\" is too large; allowed: up to "
         "12 characters\n"},
        {ROW "    length: 5 m\n    planted: ~",
         "x.yaml:8:14: row r, planted: \"~\" is not a date; allowed: a date such as 2027-03-15\n"},
    };
    EXPECT_ALL(wrongs, SITE);
    (void)state;
}

/* What only the farm as a whole can show points into the file as well. */
static void whole_farm_checks_have_a_place(void **state)
{
    static const struct wrong wrongs[] = {
        {"caneyear: 1\nrows:\n  - key: r\n    cultivar: apche\n    length: 5 m\ncultivars:\n  - "
         "{key: apache}",
         "x.yaml:4:15: row r, cultivar: nothing of that kind is called \"apche\"; did you mean "
         "\"apache\"?\n"},
        {"caneyear: 1\nrows:\n  - key: r\n    cultivar: apache\n    length: 5 m",
         "x.yaml:4:15: row r, cultivar: nothing of that kind is called \"apache\"; allowed: the "
         "key of a cultivar\n"},
        {"caneyear: 1\nrows:\n  - key: r\n    cultivar: c\ncultivars: [{key: c}]",
         "x.yaml:3:5: row r, length: this must be given; needed: 1.641 to 6561 ft\n"},
        {"caneyear: 1\nrows:\n  - length: 6 m\n    spacing: 1 m\n    cultivar: c\n    missing: 9\n"
         "cultivars: [{key: c}]",
         "x.yaml:6:14: row row-1, missing: these do not go together: 9 plants missing; at most the "
         "row's 7\n"},
    };
    EXPECT_ALL(wrongs, SITE);
    expect("caneyear: 1\n", 12,
           "x.yaml:1:1: site, place: this must be given; needed: the key of a place\n");
    static const char no_place[] = "caneyear: 1\nfarm: {name: a}\nsite:\n  soil: sand\n";
    expect(no_place, sizeof no_place - 1,
           "x.yaml:3:1: site, place: this must be given; needed: the key of a place\n");
    (void)state;
}

static void all_mistakes_come_in_one_pass_in_file_order(void **state)
{
    static const char text[] = "caneyear: 1\n"
                               "rows:\n"
                               "  - cultivar: d\n"
                               "  - length: 7 kg\n"
                               "    cultivar: c\n"
                               "farm:\n"
                               "  units: old\n"
                               "  x-mine: yes\n"
                               "cultivars: [{key: c}]" SITE;
    expect(text, sizeof text - 1,
           "x.yaml:3:5: row row-1, length: this must be given; needed: 1.641 to 6561 ft\n"
           "x.yaml:3:15: row row-1, cultivar: nothing of that kind is called \"d\"; did you mean "
           "\"c\"?\n"
           "x.yaml:4:13: row row-2, length: \"7 kg\" does not have a fitting unit; needed: length, "
           "in ft or m\n"
           "x.yaml:7:10: farm, units: \"old\" is not one of the choices; allowed: us or metric\n");
    (void)state;
}

/* Where a thing could not be read, what refers to it is not called wrong as well. */
static void one_mistake_makes_one_sentence(void **state)
{
    static const struct wrong wrongs[] = {
        {"caneyear: 1\nrows: [{length: 5 m, cultivar: Bad}]",
         "x.yaml:2:32: row row-1, cultivar: \"Bad\" is not a key; allowed: 1 to 40 of a-z, 0-9 and "
         "-, a letter or digit first\n"},
        {"caneyear: 1\nrows: [{length: 5 m, cultivar: c}]\ncultivars: [{key: C}]",
         "x.yaml:3:19: key: \"C\" is not a key; allowed: 1 to 40 of a-z, 0-9 and -, beginning with "
         "a letter or digit\n"},
        {"caneyear: 1\nrows: [{length: 5 m, cultivar: c}]\ncultivar: [{key: c}]",
         "x.yaml:3:1: no key \"cultivar\" is known here; did you mean \"cultivars\"?\n"},
    };
    EXPECT_ALL(wrongs, SITE);
    static const char site[] = "caneyear: 1\nsite: []\n";
    expect(site, sizeof site - 1, "x.yaml:2:7: site: found a list where a mapping is needed\n");
    (void)state;
}

static void mistakes_past_the_cap_are_counted(void **state)
{
    struct cy_text text = {0};
    struct cy_issues issues = {0};
    struct cy_farm farm;
    cy_text_add(&text, "caneyear: 1\nfarm:\n");
    for (int i = 0; i < 30; i++) {
        cy_text_add(&text, "  bad-");
        cy_text_add_int(&text, i);
        cy_text_add(&text, ": 1\n");
    }
    cy_text_add(&text, SITE);
    assert_int_equal(cy_yaml_parse(&farm, "x.yaml", text.data, text.length, NULL, &issues),
                     CY_INVALID);
    assert_int_equal(issues.count, CY_ISSUES_KEPT);
    assert_true(issues.dropped >= 30 - CY_ISSUES_KEPT);
    assert_int_equal(issues.items[0].line, 3);
    assert_int_equal(cy_yaml_parse(&farm, "x.yaml", text.data, text.length, NULL, NULL),
                     CY_INVALID);
    cy_text_dispose(&text);
    (void)state;
}

/* ---- files made to do harm ------------------------------------------------------------------ */

/* `piece` so many times behind `before`; one sentence, in well under a second of work. */
static void expect_of_many(const char *before, const char *piece, int times, const char *sentence)
{
    struct cy_text text = {0};
    cy_text_add(&text, before);
    for (int i = 0; i < times; i++)
        cy_text_add(&text, piece);
    clock_t start = clock();
    expect(text.data, text.length, sentence);
    assert_true((double)(clock() - start) / CLOCKS_PER_SEC < 1);
    cy_text_dispose(&text);
}

static void hostile_files_are_refused_quickly(void **state)
{
    static const char bomb[] = "a: &a [x, x, x, x, x, x, x, x, x]\n"
                               "b: &b [*a, *a, *a, *a, *a, *a, *a, *a, *a]\n"
                               "c: &c [*b, *b, *b, *b, *b, *b, *b, *b, *b]\n"
                               "d: &d [*c, *c, *c, *c, *c, *c, *c, *c, *c]\n";
    expect(bomb, sizeof bomb - 1, "x.yaml:1:4: found &a" ALIASES);
    expect("a: &a [*a]\n", 11, "x.yaml:1:4: found &a" ALIASES);
    expect_of_many("rows: ", "[", 64000,
                   "x.yaml:1:22: this is nested too deeply; allowed: up to 16 levels\n");
    expect_of_many("rows:\n  ", "- ", 64000,
                   "x.yaml:2:33: this is nested too deeply; allowed: up to 16 levels\n");
    expect_of_many("rows: ", "{a: ", 64000,
                   "x.yaml:1:67: this is nested too deeply; allowed: up to 16 levels\n");
    expect_of_many("farm:\n  name: ", "x", 8 << 20,
                   "x.yaml:2:4194299: the file is too large; allowed: up to 4 MiB\n");
    expect_of_many("farm:\n  name: ", "x", 4 << 19,
                   "x.yaml:2:9: this text is too large; allowed: up to 4096 bytes\n");
    expect_of_many("caneyear: 1\nrows:\n", "  - a\n", 20000,
                   "x.yaml:10003:5: this list is too large; allowed: up to 10000 entries\n");
    expect_of_many("caneyear: 1\nx-a: [", "[a,a,a,a,a,a,a,a,a,a,a,a,a,a,a,a,a,a,a,a,a,a],", 10001,
                   "x.yaml:2:460007: this list is too large; allowed: up to 10000 entries\n");
    (void)state;
}

static void keys_and_events_have_a_cap(void **state)
{
    struct cy_text text = {0};
    cy_text_add(&text, "caneyear: 1\n");
    for (int i = 0; i < 3000; i++) {
        cy_text_add(&text, "x-");
        cy_text_add_int(&text, i);
        cy_text_add(&text, ": 1\n");
    }
    expect(text.data, text.length,
           "x.yaml:257:1: this mapping is too large; allowed: up to 256 keys\n");
    cy_text_clear(&text);
    cy_text_add(&text, "caneyear: 1\nx-a:\n");
    for (int i = 0; i < 9000; i++) {
        cy_text_add(&text, "- [");
        for (int k = 0; k < 60; k++)
            cy_text_add(&text, "a,");
        cy_text_add(&text, "]\n");
    }
    struct cy_text out = {0};
    read_and_say(&out, text.data, text.length);
    assert_string_equal(cy_text_get(&out),
                        "x.yaml:6454:63: what the file holds is too large; allowed: up to 400000 "
                        "keys and values\n");
    cy_text_dispose(&out);
    cy_text_dispose(&text);
    (void)state;
}

/* A file cut off or bent at any byte gives sentences, never a crash. */
static void damage_anywhere_is_survived(void **state)
{
    static const char whole[] = "caneyear: 1\n"
                                "site: {place: home}\n"
                                "cultivars:\n"
                                "  - {key: c, chill_need: {value: 450 h, basis: published}}\n"
                                "rows:\n"
                                "  - key: \"r\"\n"
                                "    length: 180 ft\n"
                                "    cultivar: c\n";
    static const char bends[] = "\0\t\n :#-[{&*!%\"'\xff";
    size_t length = sizeof whole - 1;
    struct cy_text out = {0};
    for (size_t at = 0; at < length; at++) {
        read_and_say(&out, whole, at);
        for (size_t i = 0; i < sizeof bends; i += 3) {
            char bent[sizeof whole];
            memcpy(bent, whole, sizeof whole);
            bent[at] = bends[i];
            read_and_say(&out, bent, length);
        }
        assert_false(out.failed);
        cy_text_clear(&out);
    }
    cy_text_dispose(&out);
    (void)state;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(syntax_stops_the_reading),
        cmocka_unit_test(bytes_that_are_no_text_have_a_place),
        cmocka_unit_test(shapes_and_keys_are_held_to_the_table),
        cmocka_unit_test(values_are_held_to_the_table),
        cmocka_unit_test(whole_farm_checks_have_a_place),
        cmocka_unit_test(all_mistakes_come_in_one_pass_in_file_order),
        cmocka_unit_test(one_mistake_makes_one_sentence),
        cmocka_unit_test(mistakes_past_the_cap_are_counted),
        cmocka_unit_test(hostile_files_are_refused_quickly),
        cmocka_unit_test(keys_and_events_have_a_cap),
        cmocka_unit_test(damage_anywhere_is_survived),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
