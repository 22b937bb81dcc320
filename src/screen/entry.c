/* SPDX-License-Identifier: MIT
 * A form: a record being typed, field by field, with the rules of the field table. */
#include "screen/entry.h"

#include <curses.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <caneyear/base/array.h>
#include <caneyear/base/number.h>

#include "screen/keep.h"

static const struct {
    enum cy_field field;
    const char *label;
} asked[] = {
    {CY_SEEN_WHAT, "what was seen"}, {CY_SEEN_DAY, "on"},           {CY_SEEN_HEIGHT, "height"},
    {CY_SEEN_COUNT, "canes"},        {CY_SEEN_KILL, "killed"},      {CY_SEEN_LOW, "low"},
    {CY_SEEN_DEPTH, "depth"},        {CY_SEEN_VOLUME, "or volume"}, {CY_SEEN_RAN, "or ran"},
    {CY_SEEN_ZONE, "all of zone"},   {CY_SEEN_TEXT, "remark"},      {CY_DONE_DAY, "done on"},
    {CY_DONE_HOURS, "hours"},        {CY_DONE_TEXT, "remark"},
};

#define CONTROL(c) ((c)&31)

void cy_entry_begin(struct cy_entry *form, enum cy_kind kind, const struct cy_entry_about *about,
                    enum cy_system system, cy_day today)
{
    *form = (struct cy_entry){.open = true,
                              .fresh = true,
                              .kind = kind,
                              .about = *about,
                              .system = system,
                              .today = today};
    for (size_t i = 0; i < sizeof asked / sizeof *asked; i++)
        if (cy_field_info(asked[i].field)->kind == kind)
            form->fields[form->count++] =
                (struct cy_entry_field){.field = asked[i].field, .label = asked[i].label};
}

void cy_entry_put(struct cy_entry *form, enum cy_field field, const char *text)
{
    for (int i = 0; i < form->count; i++)
        if (form->fields[i].field == field) {
            cy_copy(form->fields[i].text, sizeof form->fields[i].text, text);
            cy_copy(form->fields[i].kept, sizeof form->fields[i].kept, text);
        }
    form->caret = strlen(form->fields[form->chosen].text);
}

static bool says(const struct cy_entry *form, enum cy_sight sight)
{
    const struct cy_field_info *info = cy_field_info(CY_SEEN_WHAT);
    const char *what = form->fields[0].text;
    return cy_word_is(what, strlen(what), info->choices[sight]);
}

bool cy_entry_asks(const struct cy_entry *form, int field)
{
    switch (form->fields[field].field) {
    case CY_SEEN_HEIGHT:
        return says(form, CY_SIGHT_HEIGHT);
    case CY_SEEN_COUNT:
        return says(form, CY_SIGHT_COUNT);
    case CY_SEEN_KILL:
        return says(form, CY_SIGHT_FROST_KILL);
    case CY_SEEN_LOW:
        return says(form, CY_SIGHT_NIGHT_LOW);
    case CY_SEEN_DEPTH:
        return says(form, CY_SIGHT_RAIN) || says(form, CY_SIGHT_GIVEN);
    case CY_SEEN_VOLUME:
    case CY_SEEN_RAN:
    case CY_SEEN_ZONE:
        return says(form, CY_SIGHT_GIVEN);
    default:
        return true;
    }
}

int cy_entry_lines(const struct cy_entry *form)
{
    int lines = 1;
    for (int i = 0; i < form->count; i++)
        lines += cy_entry_asks(form, i);
    return lines;
}

/* ---- checking ------------------------------------------------------------------------------- */

/* A bare number is taken in the unit that the farm is shown in. */
static void add_unit(struct cy_text *out, const struct cy_entry *form,
                     const struct cy_entry_field *field)
{
    const struct cy_field_info *info = cy_field_info(field->field);
    double number;
    cy_text_add(out, field->text);
    if (info->type == CY_TYPE_NUMBER && cy_number_parse(&number, field->text, strlen(field->text)))
        if (info->quantity != CY_Q_SHARE && info->quantity != CY_Q_NUMBER) {
            cy_text_add_char(out, ' ');
            cy_text_add(out, cy_quantity_unit(info->quantity, form->system));
        }
}

static bool lies_ahead(const struct cy_entry *form, const struct cy_entry_field *field,
                       const struct cy_value *value, struct cy_issues *issues)
{
    char today[CY_DAY_TEXT];
    if (cy_field_info(field->field)->type != CY_TYPE_DATE || !value->set ||
        value->number <= form->today)
        return false;
    struct cy_issue *issue = cy_issue_add(issues, CY_ISSUE_OUT_OF_RANGE);
    cy_copy(issue->field, sizeof issue->field, cy_field_info(field->field)->name);
    cy_copy(issue->found, sizeof issue->found, field->text);
    snprintf(issue->allowed, sizeof issue->allowed, "a day up to today, %s",
             cy_day_print(today, form->today));
    return true;
}

static bool is_needed(enum cy_field field)
{
    return field == CY_SEEN_WHAT || field == CY_SEEN_DAY || field == CY_DONE_DAY ||
           field == CY_SEEN_HEIGHT || field == CY_SEEN_COUNT || field == CY_SEEN_KILL ||
           field == CY_SEEN_LOW;
}

static const struct cy_entry_field *field_of(const struct cy_entry *form, enum cy_field field)
{
    for (int i = 0; i < form->count; i++)
        if (form->fields[i].field == field)
            return &form->fields[i];
    return NULL;
}

/* Of rain its depth is needed; of water given one of three amounts. */
static bool amount_is_missing(const struct cy_entry *form, enum cy_field field)
{
    static const enum cy_field amounts[] = {CY_SEEN_DEPTH, CY_SEEN_VOLUME, CY_SEEN_RAN};
    if (field != CY_SEEN_DEPTH)
        return false;
    for (int i = 0; i < (says(form, CY_SIGHT_RAIN) ? 1 : 3); i++)
        if (field_of(form, amounts[i])->text[0])
            return false;
    return true;
}

/* The gauge's rain is the whole farm's, water that a zone was given not the row's alone. */
static bool is_of_row(const struct cy_entry *form)
{
    return !says(form, CY_SIGHT_RAIN) &&
           !(says(form, CY_SIGHT_GIVEN) && field_of(form, CY_SEEN_ZONE)->text[0]);
}

void cy_entry_say_of(struct cy_text *out, const struct cy_entry *form)
{
    if (form->kind != CY_KIND_SEEN || is_of_row(form)) {
        cy_text_add(out, form->title);
    } else if (says(form, CY_SIGHT_RAIN)) {
        cy_text_add(out, "the whole farm");
    } else {
        cy_text_add(out, "zone ");
        cy_text_add(out, field_of(form, CY_SEEN_ZONE)->text);
    }
}

/* Parses one field; an empty one is no value. False with an issue where it is refused. */
static bool parse_field(struct cy_value *out, const struct cy_entry *form, int which,
                        struct cy_issues *issues)
{
    const struct cy_entry_field *field = &form->fields[which];
    *out = (struct cy_value){0};
    if (!field->text[0]) {
        if (!is_needed(field->field) && !amount_is_missing(form, field->field))
            return true;
        cy_issue_say(issues, CY_ISSUE_MISSING, "", cy_field_info(field->field)->name, "",
                     field->label);
        return false;
    }
    struct cy_text text = {0};
    add_unit(&text, form, field);
    int status = cy_value_parse(out, field->field, cy_text_get(&text), text.length, issues);
    cy_text_dispose(&text);
    if (status == CY_OK && lies_ahead(form, field, out, issues)) {
        cy_value_dispose(out);
        status = CY_INVALID;
    }
    return status == CY_OK;
}

static bool chosen_is_fine(const struct cy_entry *form, struct cy_issues *issues)
{
    struct cy_value value;
    /* Only what was typed is judged on leaving a field; what is missing, on keeping the form. */
    if (!form->fields[form->chosen].text[0])
        return true;
    bool fine = parse_field(&value, form, form->chosen, issues);
    cy_value_dispose(&value);
    return fine;
}

static bool refer(struct cy_value *out, const char *key)
{
    if (!*key)
        return true;
    *out = (struct cy_value){.set = true, .text = cy_strdup(key), .basis = CY_BASIS_GROWER};
    return out->text != NULL;
}

static void count(struct cy_value *out, int number)
{
    *out = (struct cy_value){.set = true, .number = number, .basis = CY_BASIS_GROWER};
}

static bool fill_about(struct cy_value *values, const struct cy_entry *form)
{
    int first = cy_kind_info(form->kind)->first_field;
    const struct cy_entry_about *about = &form->about;
    if (form->kind == CY_KIND_SEEN)
        return refer(&values[CY_SEEN_ROW - first], is_of_row(form) ? about->row : "") &&
               refer(&values[CY_SEEN_CORRECTS - first], about->corrects);
    count(&values[CY_DONE_SEASON - first], about->season);
    count(&values[CY_DONE_ROUND - first], about->round);
    return refer(&values[CY_DONE_ROW - first], about->row) &&
           refer(&values[CY_DONE_JOB - first], about->job) &&
           refer(&values[CY_DONE_CORRECTS - first], about->corrects);
}

void cy_entry_free(const struct cy_entry *form, struct cy_value *values)
{
    for (int i = 0; values && i < cy_kind_info(form->kind)->field_count; i++)
        cy_value_dispose(&values[i]);
    free(values);
}

struct cy_value *cy_entry_values(struct cy_entry *form, struct cy_issues *issues)
{
    const struct cy_kind_info *kind = cy_kind_info(form->kind);
    struct cy_value *values = cy_zeroed((size_t)kind->field_count, sizeof *values);
    bool fine = values && fill_about(values, form);
    if (!fine)
        cy_issue_say(issues, CY_ISSUE_NO_MEMORY, "", "", "", "");
    for (int i = 0; fine && i < form->count; i++) {
        if (!cy_entry_asks(form, i))
            continue;
        fine =
            parse_field(&values[(int)form->fields[i].field - kind->first_field], form, i, issues);
        if (!fine) {
            form->chosen = i;
            form->caret = strlen(form->fields[i].text);
        }
    }
    if (fine)
        return values;
    cy_entry_free(form, values);
    return NULL;
}

/* ---- typing --------------------------------------------------------------------------------- */

/* The start of the character before or after a place; what combines belongs to it. */
static size_t step_back(const char *text, size_t at)
{
    while (at > 0) {
        size_t used;
        do
            at--;
        while (at > 0 && ((unsigned char)text[at] & 0xC0) == 0x80);
        if (cy_utf8_width(cy_utf8_next(text + at, strlen(text + at), &used)) != 0)
            break;
    }
    return at;
}

static size_t step_on(const char *text, size_t at)
{
    size_t length = strlen(text), used;
    if (at >= length)
        return length;
    cy_utf8_next(text + at, length - at, &used);
    at += used;
    while (at < length && cy_utf8_width(cy_utf8_next(text + at, length - at, &used)) == 0)
        at += used;
    return at;
}

static void erase_between(struct cy_entry *form, size_t from, size_t to)
{
    char *text = form->fields[form->chosen].text;
    memmove(text + from, text + to, strlen(text + to) + 1);
    form->caret = from;
}

static void insert(struct cy_entry *form, int32_t c)
{
    struct cy_entry_field *field = &form->fields[form->chosen];
    struct cy_text bytes = {0};
    if (cy_utf8_is_control(c))
        return;
    cy_draw_encode(&bytes, c);
    size_t length = strlen(field->text);
    if (!bytes.failed && length + bytes.length < sizeof field->text) {
        memmove(field->text + form->caret + bytes.length, field->text + form->caret,
                length - form->caret + 1);
        memcpy(field->text + form->caret, cy_text_get(&bytes), bytes.length);
        form->caret += bytes.length;
    }
    cy_text_dispose(&bytes);
}

static bool is_choice(const struct cy_entry *form)
{
    return cy_field_info(form->fields[form->chosen].field)->type == CY_TYPE_CHOICE;
}

/* A date or a number is typed anew more often than mended. */
static bool is_replaced(const struct cy_entry *form)
{
    enum cy_type type = cy_field_info(form->fields[form->chosen].field)->type;
    return type != CY_TYPE_TEXT && type != CY_TYPE_CHOICE;
}

/* The next choice in a direction; or, with a letter, the next that begins with it. */
static void turn_choice(struct cy_entry *form, int direction, int letter)
{
    struct cy_entry_field *field = &form->fields[form->chosen];
    const struct cy_field_info *info = cy_field_info(field->field);
    int at = direction > 0 ? -1 : info->choice_count;
    for (int i = 0; i < info->choice_count; i++)
        if (cy_streq(info->choices[i], field->text))
            at = i;
    for (int i = 1; i <= info->choice_count; i++) {
        int next = (at + direction * i + 2 * info->choice_count) % info->choice_count;
        if (letter && info->choices[next][0] != letter)
            continue;
        cy_copy(field->text, sizeof field->text, info->choices[next]);
        break;
    }
    form->caret = strlen(field->text);
}

static void choose(struct cy_entry *form, int direction)
{
    do
        form->chosen = (form->chosen + direction + form->count) % form->count;
    while (!cy_entry_asks(form, form->chosen));
    form->caret = strlen(form->fields[form->chosen].text);
    form->fresh = true;
}

static enum cy_entry_result leave_field(struct cy_entry *form, int direction,
                                        struct cy_issues *issues)
{
    if (!chosen_is_fine(form, issues))
        return CY_ENTRY_REFUSED;
    choose(form, direction);
    return CY_ENTRY_GOES_ON;
}

/* Esc takes back what was typed in the field, then the whole form. */
static enum cy_entry_result take_back(struct cy_entry *form)
{
    struct cy_entry_field *field = &form->fields[form->chosen];
    if (cy_streq(field->text, field->kept))
        return CY_ENTRY_DROP;
    cy_copy(field->text, sizeof field->text, field->kept);
    form->caret = strlen(field->text);
    return CY_ENTRY_GOES_ON;
}

/* Keys that move or cut, as characters of old and as codes; the first of each row is shown. */
static int edit_key(const struct cy_key *key)
{
    if (key->kind == CY_KEY_CODE)
        return key->value;
    switch (key->value) {
    case CONTROL('A'):
        return KEY_HOME;
    case CONTROL('E'):
        return KEY_END;
    case CONTROL('B'):
        return KEY_LEFT;
    case CONTROL('F'):
        return KEY_RIGHT;
    case CONTROL('D'):
        return KEY_DC;
    case CONTROL('H'):
    case 127:
        return KEY_BACKSPACE;
    case CONTROL('P'):
        return KEY_UP;
    case CONTROL('N'):
    case '\t':
        return KEY_DOWN;
    case CONTROL('U'):
        return KEY_DL;
    case CONTROL('G'):
    case 27:
        return KEY_CANCEL;
    case '\r':
    case '\n':
        return KEY_ENTER;
    default:
        return 0;
    }
}

static void edit_text(struct cy_entry *form, int code)
{
    const char *text = form->fields[form->chosen].text;
    switch (code) {
    case KEY_LEFT:
        form->caret = step_back(text, form->caret);
        break;
    case KEY_RIGHT:
        form->caret = step_on(text, form->caret);
        break;
    case KEY_HOME:
        form->caret = 0;
        break;
    case KEY_END:
        form->caret = strlen(text);
        break;
    case KEY_BACKSPACE:
        erase_between(form, step_back(text, form->caret), form->caret);
        break;
    case KEY_DC:
        erase_between(form, form->caret, step_on(text, form->caret));
        break;
    case KEY_DL:
        erase_between(form, 0, strlen(text));
        break;
    default:
        break;
    }
}

enum cy_entry_result cy_entry_key(struct cy_entry *form, const struct cy_key *key,
                                  struct cy_issues *issues)
{
    int code = key->kind == CY_KEY_PASTED ? 0 : edit_key(key);
    bool fresh = form->fresh;
    form->fresh = false;
    switch (code) {
    case KEY_ENTER:
        return chosen_is_fine(form, issues) ? CY_ENTRY_KEEP : CY_ENTRY_REFUSED;
    case KEY_CANCEL:
        return take_back(form);
    case KEY_DOWN:
        return leave_field(form, 1, issues);
    case KEY_UP:
    case KEY_BTAB:
        return leave_field(form, -1, issues);
    case 0:
        if (key->kind == CY_KEY_CODE)
            break;
        if (fresh && is_replaced(form))
            edit_text(form, KEY_DL);
        if (!is_choice(form))
            insert(form, key->value);
        else if (key->kind == CY_KEY_CHAR)
            turn_choice(form, 1, key->value == ' ' ? 0 : key->value);
        break;
    default:
        if (is_choice(form) && (code == KEY_LEFT || code == KEY_RIGHT))
            turn_choice(form, code == KEY_LEFT ? -1 : 1, 0);
        else if (!is_choice(form))
            edit_text(form, code);
    }
    return CY_ENTRY_GOES_ON;
}

/* ---- drawing -------------------------------------------------------------------------------- */

static void say_keys(struct cy_text *out, const struct cy_farm *farm, enum cy_kind kind)
{
    for (const struct cy_thing *thing = cy_farm_next(farm, kind, 0, NULL); thing;
         thing = cy_farm_next(farm, kind, 0, thing)) {
        cy_text_add(out, out->length > 0 ? ", " : "");
        cy_text_add(out, thing->key);
    }
    cy_text_add(out, out->length > 0 ? "" : "there is none");
}

static void draw_field(const struct cy_entry *form, const struct cy_farm *farm, struct cy_pane pane,
                       int which, int y)
{
    const struct cy_entry_field *field = &form->fields[which];
    const struct cy_field_info *info = cy_field_info(field->field);
    bool chosen = which == form->chosen;
    int x = 18, width = pane.rect.width - x - 1;
    if (info->type != CY_TYPE_TEXT && width > 24)
        width = 24;
    if (chosen)
        cy_draw_glyph(pane, 1, y, CY_GLYPH_MARK, CY_ROLE_CHOSEN);
    cy_draw_fit(pane, 3, y, 14, field->label, chosen ? CY_ROLE_CHOSEN : CY_ROLE_NORMAL);
    cy_draw_run(pane, x, y, width, " ", chosen ? CY_ROLE_FIELD_HELD : CY_ROLE_FIELD);

    /* Scrolled so that the caret is in sight. */
    size_t from = 0;
    struct cy_text before = {0};
    for (;;) {
        cy_text_clear(&before);
        cy_text_add_n(&before, field->text + from, chosen ? form->caret - from : 0);
        if (cy_utf8_columns(cy_text_get(&before)) < width || !before.length)
            break;
        from = step_on(field->text, from);
    }
    cy_draw_fit(pane, x, y, width, field->text + from, chosen ? CY_ROLE_FIELD_HELD : CY_ROLE_FIELD);
    if (chosen)
        cy_draw_cursor(pane, x + cy_utf8_columns(cy_text_get(&before)), y);
    cy_text_dispose(&before);

    struct cy_text note = {0};
    if (info->type == CY_TYPE_CHOICE && chosen) {
        cy_text_add(&note, cy_glyph(CY_GLYPH_LEFT, pane.canvas->ascii));
        cy_text_add(&note, cy_glyph(CY_GLYPH_RIGHT, pane.canvas->ascii));
        cy_text_add(&note, " or a first letter");
    } else if (info->type == CY_TYPE_DATE) {
        cy_text_add(&note, "YYYY-MM-DD");
    } else if (info->type == CY_TYPE_NUMBER) {
        cy_field_allowed(&note, field->field, form->system);
    } else if (info->type == CY_TYPE_REFERENCE) {
        say_keys(&note, farm, info->target);
    }
    cy_draw_fit(pane, x + width + 1, y, pane.rect.width - x - width - 2, cy_text_get(&note),
                CY_ROLE_FAINT);
    cy_text_dispose(&note);
}

void cy_entry_draw(const struct cy_entry *form, const struct cy_farm *farm, struct cy_pane pane)
{
    for (int y = 0; y < pane.rect.height; y++)
        cy_draw_run(pane, 0, y, pane.rect.width, " ", CY_ROLE_NORMAL);
    struct cy_text of = {0};
    cy_entry_say_of(&of, form);
    cy_draw_heading(pane, form->kind == CY_KIND_SEEN ? "Note" : "Done", cy_text_get(&of), true);
    cy_text_dispose(&of);
    /* Where there is no room for all, those above the chosen one make way. */
    int chosen_y = 1, hidden = 0, y = 1;
    for (int i = 0; i < form->chosen; i++)
        chosen_y += cy_entry_asks(form, i);
    if (chosen_y > pane.rect.height - 1)
        hidden = chosen_y - (pane.rect.height - 1);
    for (int i = 0; i < form->count; i++) {
        if (!cy_entry_asks(form, i))
            continue;
        if (hidden-- <= 0)
            draw_field(form, farm, pane, i, y++);
    }
}

/* ---- drafts --------------------------------------------------------------------------------- */

static void save_number(struct cy_text *out, const char *name, int number)
{
    char digits[16];
    snprintf(digits, sizeof digits, "%d", number);
    cy_keep_add(out, name, digits);
}

void cy_entry_save(struct cy_text *out, const struct cy_entry *form)
{
    cy_keep_add(out, "form", cy_kind_info(form->kind)->word);
    cy_keep_add(out, "title", form->title);
    cy_keep_add(out, "about.row", form->about.row);
    cy_keep_add(out, "about.job", form->about.job);
    cy_keep_add(out, "about.corrects", form->about.corrects);
    save_number(out, "about.season", form->about.season);
    save_number(out, "about.round", form->about.round);
    save_number(out, "chosen", form->chosen);
    for (int i = 0; i < form->count; i++)
        cy_keep_add(out, cy_field_info(form->fields[i].field)->name, form->fields[i].text);
}

static int load_number(const struct cy_text *lines, const char *name, int low, int high)
{
    char digits[16];
    double number;
    if (!cy_keep_value(digits, sizeof digits, lines, name) ||
        !cy_number_parse(&number, digits, strlen(digits)) || number < low || number > high)
        return low;
    return (int)number;
}

bool cy_entry_load(struct cy_entry *form, const struct cy_text *lines, enum cy_system system,
                   cy_day today)
{
    char word[32];
    struct cy_entry_about about = {0};
    if (!cy_keep_value(word, sizeof word, lines, "form"))
        return false;
    enum cy_kind kind = cy_kind_of_word(word, strlen(word));
    if (kind != CY_KIND_SEEN && kind != CY_KIND_DONE)
        return false;
    cy_keep_value(about.row, sizeof about.row, lines, "about.row");
    cy_keep_value(about.job, sizeof about.job, lines, "about.job");
    cy_keep_value(about.corrects, sizeof about.corrects, lines, "about.corrects");
    about.season = load_number(lines, "about.season", CY_YEAR_MIN, CY_YEAR_MAX);
    about.round = load_number(lines, "about.round", 1, 1000);
    cy_entry_begin(form, kind, &about, system, today);
    cy_keep_value(form->title, sizeof form->title, lines, "title");
    for (int i = 0; i < form->count; i++) {
        char text[CY_ENTRY_TEXT] = "";
        cy_keep_value(text, sizeof text, lines, cy_field_info(form->fields[i].field)->name);
        cy_entry_put(form, form->fields[i].field, cy_utf8_valid(text, strlen(text)) ? text : "");
    }
    int chosen = load_number(lines, "chosen", 0, form->count - 1);
    if (cy_entry_asks(form, chosen))
        form->chosen = chosen;
    form->caret = strlen(form->fields[form->chosen].text);
    return true;
}
