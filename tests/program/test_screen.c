/* SPDX-License-Identifier: MIT
 * The planner in a real terminal: what it shows, and what its keys do.
 *
 * What the tests look for holds whatever the catalogue lists and the model says. Only the screens
 * under tests/data/screens change with those: they are recorded with RECORD=1 in the environment,
 * and read as a diff before they are kept. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "support/sitting.h"

#define LEFT "\033OD"
#define RIGHT "\033OC"
#define DOWN "\033OB"
/* libvterm 0.1.4 miscounts the repeat-character order that xterm's entry offers. */
#define PLAIN "screen-256color"

static int begin(void **state)
{
    struct sitting *sitting = calloc(1, sizeof *sitting);
    if (!sitting)
        return -1;
    sitting_begin(sitting);
    *state = sitting;
    return 0;
}

static int end(void **state)
{
    sitting_end(*state);
    free(*state);
    return 0;
}

/* Opens it and waits for the whole first screen. */
static struct pty *open_with(struct sitting *sitting, const struct sitting_start *start)
{
    sitting_open(sitting, start);
    if (!pty_shows(sitting->pty, "q quit"))
        fprintf(stderr, "%s\n", pty_screen(sitting->pty));
    assert_true(pty_shows(sitting->pty, "q quit"));
    return sitting->pty;
}

static struct pty *open_plain(struct sitting *sitting)
{
    return open_with(sitting, &(struct sitting_start){0});
}

static void assert_shows(struct pty *pty, const char *text)
{
    if (!pty_shows(pty, text)) {
        fprintf(stderr, "wanted: %s\n%s", text, pty_screen(pty));
        fail();
    }
}

static void assert_loses(struct pty *pty, const char *text)
{
    if (!pty_loses(pty, text)) {
        fprintf(stderr, "not wanted: %s\n%s", text, pty_screen(pty));
        fail();
    }
}

static void press(struct pty *pty, const char *keys, const char *shows)
{
    pty_send(pty, keys);
    assert_shows(pty, shows);
}

static void leave(struct sitting *sitting)
{
    pty_send(sitting->pty, "q");
    assert_int_equal(pty_ends(sitting->pty), 0);
    sitting_close(sitting);
}

/* The line that holds a text, copied. */
static char *line_with(struct pty *pty, const char *text)
{
    assert_shows(pty, text);
    pty_settle(pty, 150); /* the rest of that screen */
    for (int y = 0; y < 60; y++)
        if (strstr(pty_line(pty, y), text))
            return strdup(pty_line(pty, y));
    return NULL;
}

/* ---- screens as recorded -------------------------------------------------------------------- */

static char *read_file(const char *path)
{
    FILE *file = fopen(path, "r");
    char *text = calloc(1, 65536);
    if (file && text && fread(text, 1, 65535, file) == 0)
        text[0] = '\0';
    if (file)
        fclose(file);
    return text;
}

static void assert_screen(struct pty *pty, const char *name)
{
    char path[256];
    snprintf(path, sizeof path, "tests/data/screens/%s.txt", name);
    if (getenv("RECORD")) {
        pty_settle(pty, 400);
        FILE *file = fopen(path, "w");
        assert_non_null(file);
        fputs(pty_screen(pty), file);
        assert_int_equal(fclose(file), 0);
        return;
    }
    char *wanted = read_file(path);
    bool same = pty_equals(pty, wanted);
    if (!same)
        fprintf(stderr, "%s: wanted\n%sgot\n%s", name, wanted, pty_screen(pty));
    free(wanted);
    assert_true(same);
}

static void the_bands(void **state)
{
    struct pty *pty = open_plain(*state);
    assert_screen(pty, "bands");
    press(pty, "ttm", "11 Jun 2027");
    assert_screen(pty, "june");
    press(pty, "mmmmmmm", "Jan 2028");
    assert_screen(pty, "winter");
    leave(*state);
}

static void each_band_alone(void **state)
{
    struct pty *pty = open_plain(*state);
    press(pty, "z", "South 8");
    assert_screen(pty, "rows");
    press(pty, "\t", "last pick");
    assert_screen(pty, "canes");
    press(pty, "\tf", "Jobs of the whole farm.");
    assert_screen(pty, "jobs");
    leave(*state);
}

static void the_pages(void **state)
{
    struct pty *pty = open_plain(*state);
    press(pty, "\t\r", "How it was worked out");
    assert_screen(pty, "why-date");
    pty_send(pty, "x");
    assert_loses(pty, "How it was worked out");
    press(pty, "\t\r", "Tools:");
    assert_screen(pty, "why-job");
    press(pty, "x?", "Keys and marks");
    assert_screen(pty, "help");
    press(pty, "  ", "What the canes do");
    assert_screen(pty, "help-more");
    leave(*state);
}

static void the_forms(void **state)
{
    struct pty *pty = open_plain(*state);
    press(pty, "nc", "cane height");
    assert_screen(pty, "note");
    press(pty, "\t2027-06-01\t", "allowed");
    assert_screen(pty, "note-refused");
    pty_send(pty, "\033\033");
    assert_shows(pty, "Nothing was kept of the form.");
    press(pty, "d", "done on");
    assert_screen(pty, "done");
    pty_send(pty, "\007");
    assert_loses(pty, "done on");
    leave(*state);
}

/* ---- sizes, alphabets, colours -------------------------------------------------------------- */

static void a_large_screen_shows_more(void **state)
{
    struct pty *pty = open_with(*state, &(struct sitting_start){.width = 200, .height = 50});
    assert_shows(pty, "South 8"); /* the whole field */
    assert_shows(pty, "North 6");
    assert_shows(pty, "2025 canes");
    assert_shows(pty, "last pick"); /* dates beside the lives */
    assert_shows(pty, "next weeks:");
    assert_shows(pty, "u undo");
    leave(*state);
}

static void ascii_is_ascii(void **state)
{
    struct sitting *sitting = *state;
    struct pty *pty = open_with(sitting, &(struct sitting_start){.locale = "C", .terminal = PLAIN});
    size_t length;
    press(pty, "?   x", "South 1>H");
    press(pty, "nnc", "<> or a first letter");
    press(pty, "\007\007z\t\tmm", "11 Jul 2027");
    const char *bytes = pty_bytes(pty, &length);
    for (size_t i = 0; i < length; i++)
        assert_true((unsigned char)bytes[i] < 0x80);
    leave(sitting);
    /* And where the locale could do more, when asked. */
    pty = open_with(sitting, &(struct sitting_start){.terminal = PLAIN, .options = {"--ascii"}});
    bytes = pty_bytes(pty, &length);
    for (size_t i = 0; i < length; i++)
        assert_true((unsigned char)bytes[i] < 0x80);
    leave(sitting);
}

/* Whether the chosen row can be told from the others without colour. */
static void assert_row_marked(struct pty *pty)
{
    int x, y;
    pty_cursor(pty, &x, &y);
    assert_non_null(strstr(pty_line(pty, y), "South 1>"));
    assert_true(pty_reversed(pty, x + 2, y));
}

static void colour_can_be_left_out(void **state)
{
    struct sitting *sitting = *state;
    struct pty *pty = open_with(sitting, &(struct sitting_start){.more = {"NO_COLOR=1"}});
    assert_false(pty_coloured(pty));
    assert_row_marked(pty);
    leave(sitting);
    pty = open_with(sitting, &(struct sitting_start){.more = {"NO_COLOR="}});
    assert_true(pty_coloured(pty));
    leave(sitting);
    pty = open_with(sitting, &(struct sitting_start){.options = {"--no-color"}});
    assert_false(pty_coloured(pty));
    leave(sitting);
    pty = open_with(sitting, &(struct sitting_start){.terminal = "vt100"});
    assert_false(pty_coloured(pty));
    assert_row_marked(pty);
    leave(sitting);
}

static void resizing_anywhere_loses_nothing(void **state)
{
    struct pty *pty = open_plain(*state);
    pty_resize(pty, 5, 2);
    assert_shows(pty, "need");
    pty_resize(pty, 40, 10);
    assert_shows(pty, "needs 60x16, have 40x10");
    pty_resize(pty, 200, 60);
    assert_shows(pty, "next weeks:");
    pty_resize(pty, 80, 24);
    assert_screen(pty, "bands");
    /* A page. */
    press(pty, "?", "Keys and marks");
    pty_resize(pty, 60, 16);
    assert_shows(pty, "Keys and marks");
    pty_resize(pty, 100, 48);
    assert_shows(pty, "What the canes do");
    pty_send(pty, "x");
    /* A form: what was typed is still there. */
    press(pty, "no\t\tlow end only", "low end only");
    pty_resize(pty, 5, 2);
    assert_loses(pty, "low end only");
    pty_resize(pty, 80, 24);
    assert_shows(pty, "low end only");
    pty_resize(pty, 1, 1);
    pty_resize(pty, 61, 17);
    assert_shows(pty, "low end only");
    pty_send(pty, "\007\007");
    assert_shows(pty, "Nothing was kept");
    leave(*state);
}

/* ---- moving --------------------------------------------------------------------------------- */

static void the_day_moves(void **state)
{
    struct pty *pty = open_plain(*state);
    press(pty, RIGHT, "Wed 12 May 2027, week 28 of season 2027, 1 day ahead");
    press(pty, LEFT LEFT, "Mon 10 May 2027, week 28 of season 2027, 1 day back");
    press(pty, "w", "Mon 17 May");
    press(pty, "WM", "Sat 10 Apr");
    press(pty, "m", "10 May");
    press(pty, "t", "11 May 2027, week 28 of season 2027, today");
    press(pty, "j", "ahead");
    press(pty, "tJ", "back");
    press(pty, "ts", "ahead");
    press(pty, "tS", "back");
    /* Into the next season and back, as far as the plan goes. */
    press(pty, "tmmmmmm", "11 Nov 2027, week 2 of season 2028");
    press(pty, "mmmmmmmmmmmmmmmmmm", "31 Oct 2028");
    assert_shows(pty, "The plan goes no further");
    press(pty, "t", "season 2027, today");
    leave(*state);
}

static void the_row_moves_and_the_bands_follow(void **state)
{
    struct pty *pty = open_plain(*state);
    int x, y;
    press(pty, DOWN, "Rows North 1, Triple Crown");
    assert_shows(pty, "Canes North 1");
    assert_shows(pty, "Jobs North 1");
    for (int i = 0; i < 6; i++) {
        pty_send(pty, DOWN);
        pty_settle(pty, 150);
        pty_cursor(pty, &x, &y);
        assert_non_null(strstr(pty_line(pty, y), ">"));
        assert_true(pty_reversed(pty, x + 2, y));
    }
    press(pty, "G", "Rows South 8");
    press(pty, "g", "Rows South 1");
    press(pty, "r", "Rows North 1");
    press(pty, "R", "Rows South 1");
    /* Up and down belong to the band in hand. */
    char *first = line_with(pty, ">bloom");
    pty_send(pty, "\t" DOWN);
    assert_loses(pty, ">bloom");
    pty_settle(pty, 150);
    pty_cursor(pty, &x, &y);
    assert_int_equal(pty_line(pty, y)[x], '>');
    assert_string_not_equal(pty_line(pty, y), first);
    free(first);
    pty_send(pty, "\t" DOWN);
    pty_settle(pty, 150);
    pty_cursor(pty, &x, &y);
    assert_true(y > 15);
    assert_int_equal(pty_line(pty, y)[x], '>');
    leave(*state);
}

static void the_place_is_remembered(void **state)
{
    struct sitting *sitting = *state;
    struct pty *pty = open_plain(sitting);
    press(pty, DOWN "w\tz", "18 May 2027");
    leave(sitting);
    pty = open_plain(sitting);
    assert_shows(pty, "Canes North 1");
    assert_shows(pty, "18 May 2027");
    assert_null(strstr(pty_screen(pty), "Rows "));
    leave(sitting);
}

/* ---- pages of the plan ---------------------------------------------------------------------- */

static void pages_open_from_their_list(void **state)
{
    struct pty *pty = open_plain(*state);
    press(pty, "p", " Pages ");
    assert_shows(pty, ">s  supply");
    assert_shows(pty, "  y  crop");
    pty_send(pty, "x");
    assert_loses(pty, " Pages ");
    press(pty, "p" DOWN "\r", "The crop of South 1");
    assert_screen(pty, "page-crop");
    pty_send(pty, "\033");
    assert_loses(pty, "The crop of South 1");
    press(pty, "ps", "What there is to sell");
    press(pty, "\t", "The crop of South 1");
    press(pty, "b", "What there is to sell");
    /* From an open page the list opens on its line, and closing it leads back. */
    press(pty, "\tp", ">y  crop");
    press(pty, "p", "The crop of South 1");
    leave(*state);
}

static void figures_of_a_page_can_be_asked(void **state)
{
    struct pty *pty = open_plain(*state);
    press(pty, "py", "The crop of South 1");
    press(pty, DOWN DOWN, ">  peak");
    char *before = line_with(pty, ">  peak");
    press(pty, "\r", "Why: The crop of South 1");
    assert_shows(pty, "Summer crop on the canes of 2026");
    assert_shows(pty, strstr(before, "peak ")); /* the figure stands above what is behind it */
    assert_shows(pty, "How it was worked out");
    assert_shows(pty, "formula: ");
    press(pty, "G", "latitude: ");
    pty_send(pty, "\033");
    assert_loses(pty, "Why: ");
    char *after = line_with(pty, ">  peak");
    assert_string_equal(after, before);
    free(before);
    free(after);
    /* A week's weight, below the dates. */
    press(pty, DOWN DOWN DOWN DOWN DOWN "\r", "what ripens in the week: ");
    press(pty, "x" DOWN "x", "Canes South 1");
    leave(*state);
}

static void a_page_follows_row_farm_and_day(void **state)
{
    struct pty *pty = open_plain(*state);
    press(pty, "py", "The crop of South 1");
    press(pty, "r", "The crop of North 1");
    press(pty, "R", "The crop of South 1");
    press(pty, "f", "The crop, row by row");
    assert_shows(pty, "The whole farm.");
    assert_shows(pty, "North 2");
    press(pty, "r", "f shows the row alone");
    press(pty, "f", "The crop of North 1");
    /* Over the end of the season there is another plan. */
    press(pty, "RmmmmmM", "season 2027");
    press(pty, "mm", "season 2028");
    assert_shows(pty, "Summer crop on the canes of 2027");
    press(pty, "t", "Summer crop on the canes of 2026");
    /* A note is taken over the page, which stays. */
    press(pty, "nl", "last ripe");
    pty_send(pty, "\007\007");
    assert_shows(pty, "Nothing was kept of the form.");
    assert_shows(pty, "The crop of South 1");
    leave(*state);
}

/* Which cultivar the chosen mark is of: its why names it above the mark. */
static char *cultivar_asked(struct pty *pty)
{
    press(pty, "\r", "Why: What suits the site");
    char *name = NULL;
    char *mark = line_with(pty, "  firmness ");
    for (int y = 1; y < 60 && !name; y++)
        if (strcmp(pty_line(pty, y), mark) == 0)
            name = strdup(pty_line(pty, y - 1));
    assert_non_null(name);
    free(mark);
    pty_send(pty, "x");
    assert_loses(pty, "Why: ");
    return name;
}

static void assert_asks(struct pty *pty, const char *cultivar)
{
    assert_shows(pty, ">  firmness");
    char *name = cultivar_asked(pty);
    assert_string_equal(name, cultivar);
    free(name);
    assert_shows(pty, ">  firmness");
}

static void a_page_keeps_its_place(void **state)
{
    struct sitting *sitting = *state;
    char arguments[256];
    struct pty *pty = open_plain(sitting);
    /* The last mark of the last cultivar. */
    press(pty, "pc", "What suits the site");
    press(pty, "fG", ">  firmness");
    char *name = cultivar_asked(pty);
    assert_asks(pty, name);
    /* Laid out to another width there are fewer lines. */
    pty_resize(pty, 5, 2);
    pty_resize(pty, 120, 30);
    assert_asks(pty, name);
    pty_resize(pty, 80, 24);
    assert_asks(pty, name);
    /* Another's change makes the page anew, where the reader stands. */
    snprintf(arguments, sizeof arguments, "set '%s' row.south-1.length '100 ft'", sitting->farm);
    assert_int_equal(sitting_run(sitting, NULL, 0, arguments), 0);
    assert_shows(pty, "Someone else changed the farm");
    assert_asks(pty, name);
    free(name);
    leave(sitting);
}

/* A click at a column and a line, counted from 1, as xterm sends it. */
static void click(struct pty *pty, int x, int y)
{
    char bytes[64];
    snprintf(bytes, sizeof bytes, "\033[<0;%d;%dM\033[<0;%d;%dm", x, y, x, y);
    pty_send(pty, bytes);
}

static void a_click_chooses_a_line_of_a_page(void **state)
{
    struct pty *pty = open_with(*state, &(struct sitting_start){.options = {"--mouse"}});
    press(pty, "p", ">s  supply");
    click(pty, 10, 11);
    assert_shows(pty, ">y  crop");
    press(pty, "\r", ">  in all");
    click(pty, 10, 5);
    assert_shows(pty, ">  first pick");
    click(pty, 10, 8); /* the line above the weeks shows no figure */
    press(pty, DOWN, ">  peak");
    leave(*state);
}

static void every_page_opens_at_any_size(void **state)
{
    static const struct {
        int width, height;
    } sizes[] = {{80, 24}, {60, 16}, {200, 50}};
    struct sitting *sitting = *state;
    struct pty *pty = open_with(sitting, &(struct sitting_start){.locale = "C", .terminal = PLAIN});
    size_t length;
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
        pty_resize(pty, sizes[i].width, sizes[i].height);
        press(pty, "p\r", "What there is to sell");
        press(pty, "\tf f", "The crop of South 1");
        press(pty, "\t  --", "What suits the site");
        press(pty, "\r", "formula: ");
        pty_send(pty, "xx");
        assert_shows(pty, "Rows ");
        assert_loses(pty, "What suits the site");
    }
    const char *bytes = pty_bytes(pty, &length);
    for (size_t i = 0; i < length; i++)
        assert_true((unsigned char)bytes[i] < 0x80);
    leave(sitting);
}

static void enter_explains_every_band(void **state)
{
    struct pty *pty = open_plain(*state);
    /* The row on its day: what its canes do, what is ripe. */
    press(pty, "mm\r", "South 1, 11 Jul 2027");
    assert_shows(pty, "Last year's canes: ripe");
    assert_shows(pty, "Ripe to be picked: ");
    assert_shows(pty, "ripe on the whole farm: ");
    pty_send(pty, "x");
    press(pty, "\t\t", "Jobs South 1");
    /* Above the first job, the crew's week. */
    press(pty, "g\033OA\r", "The crew's week of 5 Jul 2027");
    assert_shows(pty, "hours that the crew has in the week");
    press(pty, "x" DOWN "\r", "Tools:");
    leave(*state);
}

/* ---- writing -------------------------------------------------------------------------------- */

static void work_done_stays_done(void **state)
{
    struct sitting *sitting = *state;
    struct pty *pty = open_plain(sitting);
    press(pty, "\t\td", "done on");
    assert_shows(pty, SITTING_TODAY);
    pty_send(pty, "\t2.5\r"); /* a bare number is hours */
    assert_shows(pty, "Done: ");
    assert_shows(pty, "done 11 May");
    leave(sitting);
    pty = open_plain(sitting);
    assert_shows(pty, "done 11 May");
    /* A record is put right by another. */
    press(pty, "d", "Done correct: ");
    assert_shows(pty, "2.5 h");
    pty_send(pty, "2027-05-09\r");
    assert_shows(pty, "done 9 May");
    leave(sitting);
}

static void a_first_bloom_moves_the_dates(void **state)
{
    struct sitting *sitting = *state;
    struct pty *pty = open_plain(sitting);
    char *before = line_with(pty, ">bloom");
    press(pty, "nf", "first bloom");
    pty_send(pty, "\t2027-05-06\r");
    assert_shows(pty, "Noted: South 1, first bloom.");
    assert_shows(pty, ": was ");
    assert_loses(pty, before);
    leave(sitting);
    pty = open_plain(sitting);
    assert_loses(pty, before);
    free(before);
    leave(sitting);
}

static void a_bad_value_is_refused_and_the_old_one_comes_back(void **state)
{
    struct pty *pty = open_plain(*state);
    press(pty, "\t\td", "done on");
    char *before = line_with(pty, "hours  ");
    pty_send(pty, "\t");
    press(pty, "900000 h\t", "900000 h");
    assert_shows(pty, "10000 h"); /* what is allowed */
    pty_send(pty, "\033");
    assert_shows(pty, strstr(before, "hours  "));
    pty_send(pty, "\025");
    press(pty, "3 ft\r", "3 ft");
    pty_send(pty, "\033");
    assert_shows(pty, strstr(before, "hours  "));
    free(before);
    pty_send(pty, "\033");
    assert_shows(pty, "Nothing was kept of the form.");
    leave(*state);
}

static void undo_and_redo(void **state)
{
    struct sitting *sitting = *state;
    char arguments[256];
    struct pty *pty = open_plain(sitting);
    press(pty, "u", "undo");
    snprintf(arguments, sizeof arguments, "set '%s' farm.name 'Wren Hollow'", sitting->farm);
    assert_int_equal(sitting_run(sitting, NULL, 0, arguments), 0);
    assert_shows(pty, "Wren Hollow");
    press(pty, "u", "Undone: farm.name");
    assert_shows(pty, "Lark Ridge Berries");
    press(pty, "U", "Redone: farm.name");
    assert_shows(pty, "Wren Hollow");
    leave(sitting);
}

static void what_others_write_shows(void **state)
{
    struct sitting *sitting = *state;
    char arguments[256], said[1024];
    struct pty *pty = open_plain(sitting);
    char *before = line_with(pty, ">bloom");
    snprintf(arguments, sizeof arguments, "note '%s' south-1 'first bloom' --day 2027-05-06",
             sitting->farm);
    int status = sitting_run(sitting, said, sizeof said, arguments);
    if (status != 0)
        fprintf(stderr, "%s\n", said);
    assert_int_equal(status, 0);
    assert_shows(pty, "Someone else changed the farm");
    assert_loses(pty, before);
    free(before);
    leave(sitting);
}

static void pasted_text_runs_no_commands(void **state)
{
    struct pty *pty = open_plain(*state);
    press(pty, "\033[200~qqq\033[201~", "Pasted text is taken in forms only.");
    press(pty, "no\t\t", "remark");
    press(pty, "\033[200~black\033\001\rtips\033[201~", "remark");
    pty_send(pty, "\007\007");
    assert_shows(pty, "Nothing was kept of the form.");
    leave(*state);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(the_bands, begin, end),
        cmocka_unit_test_setup_teardown(each_band_alone, begin, end),
        cmocka_unit_test_setup_teardown(the_pages, begin, end),
        cmocka_unit_test_setup_teardown(the_forms, begin, end),
        cmocka_unit_test_setup_teardown(a_large_screen_shows_more, begin, end),
        cmocka_unit_test_setup_teardown(ascii_is_ascii, begin, end),
        cmocka_unit_test_setup_teardown(colour_can_be_left_out, begin, end),
        cmocka_unit_test_setup_teardown(resizing_anywhere_loses_nothing, begin, end),
        cmocka_unit_test_setup_teardown(the_day_moves, begin, end),
        cmocka_unit_test_setup_teardown(the_row_moves_and_the_bands_follow, begin, end),
        cmocka_unit_test_setup_teardown(the_place_is_remembered, begin, end),
        cmocka_unit_test_setup_teardown(pages_open_from_their_list, begin, end),
        cmocka_unit_test_setup_teardown(figures_of_a_page_can_be_asked, begin, end),
        cmocka_unit_test_setup_teardown(a_page_follows_row_farm_and_day, begin, end),
        cmocka_unit_test_setup_teardown(a_page_keeps_its_place, begin, end),
        cmocka_unit_test_setup_teardown(a_click_chooses_a_line_of_a_page, begin, end),
        cmocka_unit_test_setup_teardown(every_page_opens_at_any_size, begin, end),
        cmocka_unit_test_setup_teardown(enter_explains_every_band, begin, end),
        cmocka_unit_test_setup_teardown(work_done_stays_done, begin, end),
        cmocka_unit_test_setup_teardown(a_first_bloom_moves_the_dates, begin, end),
        cmocka_unit_test_setup_teardown(a_bad_value_is_refused_and_the_old_one_comes_back, begin,
                                        end),
        cmocka_unit_test_setup_teardown(undo_and_redo, begin, end),
        cmocka_unit_test_setup_teardown(what_others_write_shows, begin, end),
        cmocka_unit_test_setup_teardown(pasted_text_runs_no_commands, begin, end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
