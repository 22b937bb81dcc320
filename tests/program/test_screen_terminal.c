/* SPDX-License-Identifier: MIT
 * The planner and its terminal: start, stop, signals, what it leaves behind, and what it costs. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include <cmocka.h>

#include "support/sitting.h"
#include "support/soak.h"

#define RIGHT "\033OC"
#define LEAVES_SCREEN "\033[?1049l" /* of xterm's entry */

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

static void assert_shows(struct pty *pty, const char *text)
{
    if (!pty_shows(pty, text)) {
        fprintf(stderr, "wanted: %s\n%s", text, pty_screen(pty));
        fail();
    }
}

static struct pty *open_with(struct sitting *sitting, const struct sitting_start *start)
{
    sitting_open(sitting, start);
    assert_shows(sitting->pty, "q quit");
    return sitting->pty;
}

static struct pty *open_plain(struct sitting *sitting)
{
    return open_with(sitting, &(struct sitting_start){0});
}

static void press(struct pty *pty, const char *keys, const char *shows)
{
    pty_send(pty, keys);
    assert_shows(pty, shows);
}

static long now_ms(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

static bool wrote(struct pty *pty, const char *bytes)
{
    size_t length;
    return strstr(pty_bytes(pty, &length), bytes) != NULL;
}

/* ---- start ---------------------------------------------------------------------------------- */

static void without_a_terminal_it_names_the_verbs_that_work(void **state)
{
    struct sitting *sitting = *state;
    char said[1024], arguments[256];
    snprintf(arguments, sizeof arguments, "'%s' </dev/null", sitting->farm);
    assert_int_equal(sitting_run(sitting, said, sizeof said, arguments), 2);
    assert_non_null(strstr(said, "terminal"));
    assert_non_null(strstr(said, "plan, set, note, done"));
    assert_null(strchr(said, '\033'));
}

static void a_terminal_that_cannot_draw_is_refused(void **state)
{
    struct sitting *sitting = *state;
    static const char *const terminals[] = {"", "dumb", "no-such-terminal"};
    for (size_t i = 0; i < sizeof terminals / sizeof *terminals; i++) {
        sitting_open(sitting, &(struct sitting_start){.terminal = terminals[i]});
        assert_int_equal(pty_ends(sitting->pty), 2);
        assert_true(wrote(sitting->pty, "try TERM=xterm-256color"));
        assert_true(wrote(sitting->pty, *terminals[i] ? terminals[i] : "not set"));
        assert_true(wrote(sitting->pty, "plan, set, note, done"));
        assert_false(wrote(sitting->pty, "\033"));
        sitting_close(sitting);
    }
}

static void common_terminals_start(void **state)
{
    struct sitting *sitting = *state;
    static const char *const terminals[] = {"vt100", "linux", "tmux-256color", "screen", "xterm"};
    for (size_t i = 0; i < sizeof terminals / sizeof *terminals; i++) {
        struct pty *pty = open_with(sitting, &(struct sitting_start){.terminal = terminals[i]});
        assert_shows(pty, "Lark Ridge Berries");
        pty_send(pty, "q");
        assert_int_equal(pty_ends(pty), 0);
        sitting_close(sitting);
    }
}

/* ---- stop ----------------------------------------------------------------------------------- */

static void quitting_gives_the_terminal_back(void **state)
{
    struct sitting *sitting = *state;
    struct pty *pty = open_plain(sitting);
    assert_true(wrote(pty, "\033[?2004h"));  /* bracketed paste on, and off again */
    assert_false(wrote(pty, "\033[?1000h")); /* no mouse unless asked for */
    pty_send(pty, "q");
    assert_int_equal(pty_ends(pty), 0);
    assert_true(wrote(pty, "\033[?2004l"));
    assert_true(wrote(pty, LEAVES_SCREEN));
}

static void signals_end_it_within_a_second(void **state)
{
    struct sitting *sitting = *state;
    static const int signals[] = {SIGTERM, SIGHUP, SIGQUIT};
    for (size_t i = 0; i < sizeof signals / sizeof *signals; i++) {
        struct pty *pty = open_plain(sitting);
        long before = now_ms();
        pty_signal(pty, signals[i]);
        assert_int_equal(pty_ends(pty), 0);
        assert_true(now_ms() - before < 1000);
        assert_true(wrote(pty, LEAVES_SCREEN));
        sitting_close(sitting);
    }
}

static void a_crash_gives_the_terminal_back(void **state)
{
    struct sitting *sitting = *state;
    struct pty *pty = open_plain(sitting);
    pty_signal(pty, SIGABRT);
    assert_int_equal(pty_ends(pty), 128 + SIGABRT);
    assert_true(wrote(pty, "\033[?2004l"));
    assert_true(wrote(pty, LEAVES_SCREEN));
}

static void control_c_takes_back_a_form_and_nothing_else(void **state)
{
    struct sitting *sitting = *state;
    struct pty *pty = open_plain(sitting);
    press(pty, "\003", "q leaves");
    press(pty, "n", "what was seen");
    press(pty, "\003", "Nothing was kept of the form.");
    pty_send(pty, "q");
    assert_int_equal(pty_ends(pty), 0);
}

static void it_stops_and_comes_back(void **state)
{
    struct sitting *sitting = *state;
    char arguments[256];
    struct pty *pty = open_plain(sitting);
    press(pty, "no", "other");
    pty_send(pty, "\032"); /* Ctrl-Z */
    assert_true(pty_stops(pty));
    pty_settle(pty, 50);
    assert_true(wrote(pty, LEAVES_SCREEN));
    /* Meanwhile another writes, and the window changes. */
    snprintf(arguments, sizeof arguments, "set '%s' farm.name 'Wren Hollow'", sitting->farm);
    assert_int_equal(sitting_run(sitting, NULL, 0, arguments), 0);
    pty_resize(pty, 100, 30);
    pty_signal(pty, SIGCONT);
    assert_shows(pty, "Wren Hollow");
    assert_shows(pty, "what was seen"); /* the form is still open */
    press(pty, "\t\ttips black", "tips black");
    press(pty, "\003", "Nothing was kept");
    pty_send(pty, "q");
    assert_int_equal(pty_ends(pty), 0);
}

static void a_form_survives_a_hang_up(void **state)
{
    struct sitting *sitting = *state;
    for (int by_signal = 0; by_signal < 2; by_signal++) {
        struct pty *pty = open_plain(sitting);
        press(pty, "nf\t\tlow end only", "low end only");
        long before = now_ms();
        if (by_signal)
            pty_signal(pty, SIGHUP);
        else
            pty_hang_up(pty);
        assert_int_equal(pty_ends(pty), 0);
        assert_true(now_ms() - before < 1000);
        sitting_close(sitting);
        sitting_open(sitting, &(struct sitting_start){0});
        pty = sitting->pty;
        assert_shows(pty, "This form was open when the terminal went away.");
        assert_shows(pty, "low end only");
        assert_shows(pty, "first bloom");
        pty_send(pty, "\003");
        assert_shows(pty, "Nothing was kept of the form.");
        pty_send(pty, "q");
        assert_int_equal(pty_ends(pty), 0);
        sitting_close(sitting);
    }
    /* Once it is settled it is not offered again. */
    struct pty *pty = open_plain(sitting);
    assert_null(strstr(pty_screen(pty), "low end only"));
}

/* ---- costs ---------------------------------------------------------------------------------- */

static long count_of(struct pty *pty, const char *name)
{
    char path[64], line[256];
    long total = 0;
    snprintf(path, sizeof path, "/proc/%d/status", pty_process(pty));
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    while (fgets(line, sizeof line, file))
        if (strncmp(line, name, strlen(name)) == 0)
            total = strtol(line + strlen(name), NULL, 10);
    fclose(file);
    return total;
}

static void idle_costs_nothing(void **state)
{
    struct pty *pty = open_plain(*state);
    size_t before, after;
    pty_settle(pty, 200);
    long switches = count_of(pty, "voluntary_ctxt_switches:");
    pty_bytes(pty, &before);
    /* An observation, not a wait for anything: more than one look a second would show. */
    pty_settle(pty, 2500);
    pty_bytes(pty, &after);
    assert_int_equal(count_of(pty, "voluntary_ctxt_switches:"), switches);
    assert_int_equal(after, before);
}

static void escape_is_quick_and_the_users_delay_wins(void **state)
{
    struct sitting *sitting = *state;
    struct pty *pty = open_plain(sitting);
    press(pty, "n", "what was seen");
    long before = now_ms();
    press(pty, "\033", "Nothing was kept of the form.");
    long quick = now_ms() - before;
    assert_true(quick < 500); /* 25 ms and a redraw, on a busy machine under sanitizers */
    sitting_close(sitting);
    pty = open_with(sitting, &(struct sitting_start){.more = {"ESCDELAY=700"}});
    press(pty, "n", "what was seen");
    before = now_ms();
    press(pty, "\033", "Nothing was kept of the form.");
    assert_true(now_ms() - before >= 600);
}

static void a_key_sends_few_bytes(void **state)
{
    struct pty *pty = open_plain(*state);
    size_t before, after;
    press(pty, RIGHT, "12 May");
    pty_settle(pty, 100);
    pty_bytes(pty, &before);
    press(pty, RIGHT, "13 May");
    pty_settle(pty, 100);
    pty_bytes(pty, &after);
    /* A tenth of a full screen. */
    assert_in_range(after - before, 1, 600);
}

/* ---- anything at all ------------------------------------------------------------------------ */

static uint32_t next_random(uint32_t *seed)
{
    *seed ^= *seed << 13;
    *seed ^= *seed >> 17;
    *seed ^= *seed << 5;
    return *seed;
}

static void monkeys_do_no_harm(void **state)
{
    struct sitting *sitting = *state;
    static const char *const keys[] = {
        "\033OA",     "\033OB",
        "\033OC",     "\033OD",
        "\033[5~",    "\033[6~",
        "\t",         "\r",
        "\033",       "w",
        "W",          "m",
        "M",          "t",
        "j",          "J",
        "s",          "S",
        "z",          "f",
        "u",          "U",
        "r",          "R",
        "b",          "g",
        "G",          " ",
        "-",          "x",
        "d",          "n",
        "?",          "o",
        "2",          "h",
        "\x7f",       "\025",
        "\001",       "\014",
        "\xC3\xA9",   "\xF0\x9F\x8D\x87",
        "\033[1~",    "\033[200~ab\001\033[201~",
        "%",          "7 ft",
        "2027-05-01", "n\r",
        "d\r",        "\033",
        "\033",
    };
    uint32_t seed = 20270511;
    struct pty *pty = open_plain(sitting);
    for (int i = 0; i < soak(3000, 10); i++) {
        pty_send(pty, keys[next_random(&seed) % (sizeof keys / sizeof *keys)]);
        if (i % 100 == 50)
            pty_tell_size(pty, 1 + (int)(next_random(&seed) % 160),
                          1 + (int)(next_random(&seed) % 60));
        /* Let it catch up: what waits unread is lost at an interrupt. */
        if (i % 20 == 0)
            pty_settle(pty, 10);
    }
    pty_tell_size(pty, 80, 24);
    /* Out of whatever it is in. */
    for (int i = 0; i < 2; i++) {
        pty_settle(pty, 200);
        pty_send(pty, "\003");
    }
    press(pty, "", "q leaves");
    pty_send(pty, "q");
    int status = pty_ends(pty);
    if (status != 0) {
        size_t length;
        const char *bytes = pty_bytes(pty, &length);
        fprintf(stderr, "%s\n", bytes + (length > 6000 ? length - 6000 : 0));
    }
    assert_int_equal(status, 0);
    sitting_close(sitting);
    /* And what it wrote is a farm. */
    pty = open_plain(sitting);
    assert_shows(pty, "Lark Ridge Berries");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(without_a_terminal_it_names_the_verbs_that_work, begin,
                                        end),
        cmocka_unit_test_setup_teardown(a_terminal_that_cannot_draw_is_refused, begin, end),
        cmocka_unit_test_setup_teardown(common_terminals_start, begin, end),
        cmocka_unit_test_setup_teardown(quitting_gives_the_terminal_back, begin, end),
        cmocka_unit_test_setup_teardown(signals_end_it_within_a_second, begin, end),
        cmocka_unit_test_setup_teardown(a_crash_gives_the_terminal_back, begin, end),
        cmocka_unit_test_setup_teardown(control_c_takes_back_a_form_and_nothing_else, begin, end),
        cmocka_unit_test_setup_teardown(it_stops_and_comes_back, begin, end),
        cmocka_unit_test_setup_teardown(a_form_survives_a_hang_up, begin, end),
        cmocka_unit_test_setup_teardown(idle_costs_nothing, begin, end),
        cmocka_unit_test_setup_teardown(escape_is_quick_and_the_users_delay_wins, begin, end),
        cmocka_unit_test_setup_teardown(a_key_sends_few_bytes, begin, end),
        cmocka_unit_test_setup_teardown(monkeys_do_no_harm, begin, end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
