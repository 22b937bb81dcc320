/* SPDX-License-Identifier: MIT
 * What the reader can ask for: one list makes the key map, the hints, the help and the manual. */
#ifndef SCREEN_ACTIONS_H
#define SCREEN_ACTIONS_H

#include <stdbool.h>

#include <caneyear/base/text.h>

/* ACTION(name, group, first key, second key, hint, help). A key is a character or a curses code, 0
 * for none; a letter, Tab, Enter or an arrow comes first, so that no action needs a function key,
 * Alt or Esc. The hint is the word on the hint line, "" for none; hints stand in this order. */
#define CY_ACTIONS(ACTION)                                                                         \
    ACTION(DAY_NEXT, DAY, KEY_RIGHT, 0, "day", "a day on")                                         \
    ACTION(DAY_BACK, DAY, KEY_LEFT, 0, "", "a day back")                                           \
    ACTION(UP, PLACE, KEY_UP, 0, "", "the row, date, job or line before")                          \
    ACTION(DOWN, PLACE, KEY_DOWN, 0, "row", "the next row, date, job or line")                     \
    ACTION(BAND_NEXT, PLACE, '\t', 0, "band",                                                      \
           "the next band takes the up and down keys; the next page")                              \
    ACTION(OPEN, READ, '\n', KEY_ENTER, "why",                                                     \
           "what stands behind the chosen figure, date or job")                                    \
    ACTION(PAGES, READ, 'p', 0, "pages", "the pages of the plan, one subject each")                \
    ACTION(DONE, WRITE, 'd', 0, "done", "mark the chosen job done, or correct its record")         \
    ACTION(NOTE, WRITE, 'n', 0, "note", "note what was seen in the row")                           \
    ACTION(WEEK_NEXT, DAY, 'w', ']', "week", "a week on")                                          \
    ACTION(WEEK_BACK, DAY, 'W', '[', "", "a week back")                                            \
    ACTION(MONTH_NEXT, DAY, 'm', '}', "month", "a month on")                                       \
    ACTION(MONTH_BACK, DAY, 'M', '{', "", "a month back")                                          \
    ACTION(TODAY, DAY, 't', 0, "today", "to today")                                                \
    ACTION(JOB_NEXT, DAY, 'j', 0, "job", "to the day on which the next job opens")                 \
    ACTION(JOB_BACK, DAY, 'J', 0, "", "to the day on which the job before opens")                  \
    ACTION(STAGE_NEXT, DAY, 's', 0, "stage", "to the next stage of the row's canes")               \
    ACTION(STAGE_BACK, DAY, 'S', 0, "", "to the stage before")                                     \
    ACTION(ZOOM, PLACE, 'z', 0, "zoom", "give the band the whole screen, and back")                \
    ACTION(FARM, PLACE, 'f', 0, "farm", "the whole farm, or the row alone, in jobs and pages")     \
    ACTION(UNDO, WRITE, 'u', 0, "undo", "undo your last change of the plan")                       \
    ACTION(REDO, WRITE, 'U', 18, "", "redo what you undid last")                                   \
    ACTION(ROW_NEXT, PLACE, 'r', 0, "", "the next row, whichever band is in hand")                 \
    ACTION(ROW_BACK, PLACE, 'R', 0, "", "the row before")                                          \
    ACTION(BAND_BACK, PLACE, 'b', KEY_BTAB, "", "the band or page before")                         \
    ACTION(FIRST, PLACE, 'g', KEY_HOME, "", "the first row, date or job")                          \
    ACTION(LAST, PLACE, 'G', KEY_END, "", "the last")                                              \
    ACTION(PAGE_DOWN, READ, ' ', KEY_NPAGE, "", "a page further in what is long")                  \
    ACTION(PAGE_UP, READ, '-', KEY_PPAGE, "", "a page back")                                       \
    ACTION(CLOSE, READ, 'x', 27, "", "close the page")                                             \
    ACTION(REPAINT, SCREEN, 12, 0, "", "paint the screen anew")                                    \
    ACTION(MOUSE, SCREEN, '%', 0, "", "mouse on or off; when on, Shift selects text")              \
    ACTION(HELP, SCREEN, '?', 0, "keys", "all the keys, and what the letters and marks mean")      \
    ACTION(QUIT, SCREEN, 'q', 0, "quit", "leave; everything is kept already")

#define CY_ACTION_GROUPS(GROUP)                                                                    \
    GROUP(DAY, "The day")                                                                          \
    GROUP(PLACE, "The row, the band")                                                              \
    GROUP(READ, "Reading")                                                                         \
    GROUP(WRITE, "Writing")                                                                        \
    GROUP(SCREEN, "The screen")

enum cy_action {
    CY_ACTION_NONE,
#define ACTION(name, group, key, second, hint, help) CY_ACTION_##name,
    CY_ACTIONS(ACTION)
#undef ACTION
        CY_ACTION_COUNT
};

enum cy_action_group {
#define GROUP(name, title) CY_GROUP_##name,
    CY_ACTION_GROUPS(GROUP)
#undef GROUP
        CY_GROUP_COUNT
};

/* The action of a key: a character or a curses code. */
enum cy_action cy_action_of_key(int key, bool code);
const char *cy_action_hint(enum cy_action action);
/* Its first key as people call it: "w", "Tab", "Enter", an arrow. */
void cy_action_key(struct cy_text *out, enum cy_action action, bool ascii);
/* Every action under its group: keys and help. */
void cy_actions_list(struct cy_text *out, bool ascii);

#endif
