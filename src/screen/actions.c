/* SPDX-License-Identifier: MIT
 * What the reader can ask for, from the one list in actions.h. */
#include "screen/actions.h"

#include <curses.h>

#include "screen/look.h"
#include "screen/screen.h"

struct action {
    enum cy_action_group group;
    int keys[2];
    const char *hint, *help;
};

static const struct action actions[] = {
#define ACTION(name, group, key, second, hint, help)                                               \
    [CY_ACTION_##name] = {CY_GROUP_##group, {key, second}, hint, help},
    CY_ACTIONS(ACTION)
#undef ACTION
};

static const char *const groups[] = {
#define GROUP(name, title) [CY_GROUP_##name] = title,
    CY_ACTION_GROUPS(GROUP)
#undef GROUP
};

/* Curses codes start above every character that is a key here. */
static bool is_code(int key)
{
    return key >= KEY_MIN;
}

enum cy_action cy_action_of_key(int key, bool code)
{
    if (!code && key == '\r')
        key = '\n';
    if (!code && is_code(key))
        return CY_ACTION_NONE;
    for (int i = CY_ACTION_NONE + 1; i < CY_ACTION_COUNT; i++)
        for (int k = 0; k < 2; k++)
            if (actions[i].keys[k] && actions[i].keys[k] == key)
                return (enum cy_action)i;
    return CY_ACTION_NONE;
}

const char *cy_action_hint(enum cy_action action)
{
    return actions[action].hint;
}

static void print_key(struct cy_text *out, int key, bool ascii)
{
    static const struct {
        int key;
        const char *name[2];
    } names[] = {
        {KEY_RIGHT, {"→", "Right"}},
        {KEY_LEFT, {"←", "Left"}},
        {KEY_UP, {"↑", "Up"}},
        {KEY_DOWN, {"↓", "Down"}},
        {KEY_HOME, {"Home", "Home"}},
        {KEY_END, {"End", "End"}},
        {KEY_NPAGE, {"PgDn", "PgDn"}},
        {KEY_PPAGE, {"PgUp", "PgUp"}},
        {KEY_BTAB, {"Shift-Tab", "Shift-Tab"}},
        {KEY_ENTER, {"Enter", "Enter"}},
        {'\t', {"Tab", "Tab"}},
        {'\n', {"Enter", "Enter"}},
        {27, {"Esc", "Esc"}},
        {' ', {"Space", "Space"}},
    };
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        if (names[i].key == key) {
            cy_text_add(out, names[i].name[ascii]);
            return;
        }
    if (key < 32) {
        cy_text_add(out, "Ctrl-");
        key += '@';
    }
    cy_text_add_char(out, (char)key);
}

void cy_action_key(struct cy_text *out, enum cy_action action, bool ascii)
{
    /* A step back and a step on share a hint: both arrows stand before it. */
    if (action == CY_ACTION_DAY_NEXT)
        print_key(out, KEY_LEFT, ascii);
    if (action == CY_ACTION_DOWN)
        print_key(out, KEY_UP, ascii);
    if (ascii && (action == CY_ACTION_DAY_NEXT || action == CY_ACTION_DOWN))
        cy_text_add_char(out, '/');
    print_key(out, actions[action].keys[0], ascii);
}

static void list_action(struct cy_text *out, const struct action *action, const char *before,
                        const char *between, bool ascii)
{
    cy_text_add(out, before);
    size_t start = out->length;
    print_key(out, action->keys[0], ascii);
    /* Enter twice is Enter. */
    if (action->keys[1] && action->keys[1] != KEY_ENTER) {
        cy_text_add(out, ", ");
        print_key(out, action->keys[1], ascii);
    }
    if (*between)
        cy_text_add(out, between);
    else
        cy_text_pad(out, start, 13);
    cy_text_add(out, action->help);
    cy_text_add_char(out, '\n');
}

void cy_actions_list(struct cy_text *out, bool ascii)
{
    for (int group = 0; group < CY_GROUP_COUNT; group++) {
        cy_text_add(out, groups[group]);
        cy_text_add_char(out, '\n');
        for (int i = CY_ACTION_NONE + 1; i < CY_ACTION_COUNT; i++)
            if ((int)actions[i].group == group)
                list_action(out, &actions[i], "  ", "", ascii);
    }
}

void cy_screen_keys(struct cy_text *out)
{
    for (int i = CY_ACTION_NONE + 1; i < CY_ACTION_COUNT; i++)
        list_action(out, &actions[i], "", "\t", true);
}
