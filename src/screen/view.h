/* SPDX-License-Identifier: MIT
 * The screen as a whole, and what a view is: a table of operations on it. A view draws in its
 * pane and answers an action with what should happen next; nobody repaints from deep inside. */
#ifndef SCREEN_VIEW_H
#define SCREEN_VIEW_H

#include "screen/actions.h"
#include "screen/draw.h"
#include "screen/field.h"
#include "screen/entry.h"
#include "screen/keep.h"
#include "screen/layout.h"
#include "screen/model.h"
#include "screen/screen.h"
#include "screen/term.h"
#include "screen/watch.h"
#include "words/sheet.h"

/* What an action led to, as bits. */
enum cy_did {
    CY_DID_NOTHING = 0, /* not meant for this view */
    CY_DID_REDRAW = 1,
    CY_DID_LAYOUT = 2,
    CY_DID_REPLAN = 4,
    CY_DID_QUIT = 8
};

/* TEXT: prose, such as help or a why; LIST: of the pages there are; SHEET: one of them. */
enum cy_page_kind { CY_PAGE_TEXT, CY_PAGE_LIST, CY_PAGE_SHEET };

/* Where a reader stands in a page's lines, so that it is found in lines that were made anew: laid
 * out to another width there are more or fewer of them. */
struct cy_page_standing {
    bool known;
    struct cy_sheet_line figure; /* the chosen one, without its text; without a why: none */
    int below_top;
    size_t top; /* the line there */
};

/* A page, and where in it the reader is. */
struct cy_page_place {
    bool open, whole; /* whole: over all bands; else below the rows */
    enum cy_page_kind kind;
    enum cy_sheet_id sheet;
    int top;                          /* the first line shown, as wrapped */
    size_t line;                      /* the chosen one, among the page's own */
    struct cy_page_standing standing; /* of a page beneath, whose lines are gone */
};

/* What a page was made from: where any of it changes, it is made anew. */
struct cy_page_source {
    unsigned plan_number;
    size_t row;
    cy_day day;
    bool whole_farm;
    int width;
};

/* Lines over the bands. */
struct cy_page {
    struct cy_page_place at, beneath; /* closing one leads back to the page beneath, if any */
    struct cy_text title, text;       /* of prose, as it is written before the page opens */
    struct cy_sheet lines;
    int *starts; /* of each line, as wrapped; one more than there are lines: the end */
    bool made;   /* from the source */
    struct cy_page_source source;
    int height; /* lines that the pane shows */
};

struct cy_screen {
    const struct cy_screen_options *options;
    struct cy_model model;
    struct cy_field_map field;
    unsigned field_number; /* of the plan that it was made from */
    struct cy_layout layout;
    struct cy_canvas canvas;
    int width, height, zoomed; /* zoomed: -1 where no band is */
    enum cy_band focus;
    bool on_week; /* in the jobs band: not a job but the crew's week is chosen */
    struct cy_page page;
    struct cy_entry form;
    struct cy_text message;
    enum cy_role_id message_role;
    struct cy_watch watch;
    struct cy_keep keep;
    char author[CY_AUTHOR_TEXT];
    bool ascii;
    bool look_again; /* another wrote, but the file was busy: in a second */
};

struct cy_view {
    void (*draw)(struct cy_screen *screen, struct cy_pane pane, bool focused);
    unsigned (*act)(struct cy_screen *screen, enum cy_action action); /* a set of enum cy_did */
    unsigned (*click)(struct cy_screen *screen, int x, int y);        /* within its pane */
};

extern const struct cy_view cy_view_rows, cy_view_canes, cy_view_jobs, cy_view_page;
const struct cy_view *cy_view_of_band(enum cy_band band);

/* screen.c */
void cy_screen_say(struct cy_screen *screen, enum cy_role_id role, const char *message);
void cy_screen_say_issue(struct cy_screen *screen, const struct cy_issues *issues);
void cy_screen_draw(struct cy_screen *screen); /* everything, into the canvas */
void cy_screen_arrange(struct cy_screen *screen);
int cy_screen_replan(struct cy_screen *screen);

/* command.c: an action that no view took. */
unsigned cy_screen_act(struct cy_screen *screen, enum cy_action action);
/* A key while a form is open. */
unsigned cy_screen_form_key(struct cy_screen *screen, const struct cy_key *key);
void cy_screen_form_cancel(struct cy_screen *screen);
/* A form that was open when the terminal went away: kept, and opened again. */
void cy_screen_draft_keep(struct cy_screen *screen);
void cy_screen_draft_offer(struct cy_screen *screen);

/* page.c: prose is written into page.title and page.text between cy_page_begin and cy_page_open. */
void cy_page_begin(struct cy_screen *screen);
void cy_page_open(struct cy_screen *screen, bool whole);
void cy_page_close(struct cy_screen *screen);
void cy_page_dispose(struct cy_page *page);
struct cy_rect cy_page_rect(const struct cy_screen *screen);
bool cy_page_line_chosen(const struct cy_page *page); /* and in sight */

/* page_sheet.c: the pages of the plan, and their list. */
unsigned cy_pages_open(struct cy_screen *screen);
void cy_page_make(struct cy_screen *screen); /* the lines of a list or a sheet */
unsigned cy_page_list_act(struct cy_screen *screen, enum cy_action action);
unsigned cy_page_sheet_act(struct cy_screen *screen, enum cy_action action);
/* A letter while the list is open; nothing where it is that of no page. */
unsigned cy_page_list_letter(struct cy_screen *screen, int letter);

/* why.c, help.c */
unsigned cy_why_job(struct cy_screen *screen);
unsigned cy_why_stage(struct cy_screen *screen);
unsigned cy_why_row(struct cy_screen *screen);  /* on the day cursor's day */
unsigned cy_why_week(struct cy_screen *screen); /* of the crew */
unsigned cy_why_line(struct cy_screen *screen); /* the chosen figure of a sheet */
unsigned cy_help_open(struct cy_screen *screen);

/* Small words that several views need. */
enum cy_system cy_screen_system(const struct cy_screen *screen);
void cy_screen_span(struct cy_text *out, cy_day from, cy_day to); /* "3 to 9 May" */
void cy_screen_hours(struct cy_text *out, double hours);          /* "1.5 h", "? h" */
const char *cy_job_name(const struct cy_plan *plan, const struct cy_plan_job *job);
const char *cy_job_row_name(const struct cy_plan *plan, const struct cy_plan_job *job);

#endif
