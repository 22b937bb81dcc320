/* SPDX-License-Identifier: MIT
 * Comma-separated text, as spreadsheets and weather services write it. */
#include "store/csv.h"

#include <string.h>

void cy_csv_begin(struct cy_csv *csv, const char *name, const char *bytes, size_t length,
                  struct cy_issues *issues)
{
    static const char mark[] = "\xEF\xBB\xBF";
    if (length >= 3 && memcmp(bytes, mark, 3) == 0) {
        bytes += 3;
        length -= 3;
    }
    *csv = (struct cy_csv){
        .name = name, .at = bytes, .end = bytes + length, .line = 1, .column = 1, .issues = issues};
}

void cy_csv_dispose(struct cy_csv *csv)
{
    cy_text_dispose(&csv->text);
}

static void complain_at(struct cy_csv *csv, int line, int column, enum cy_issue_code code,
                        const char *field, const char *found, const char *allowed)
{
    if (!csv->issues)
        return;
    struct cy_issue *issue = cy_issue_add(csv->issues, code);
    cy_copy(issue->file, sizeof issue->file, csv->name);
    cy_copy(issue->field, sizeof issue->field, field ? field : "");
    cy_copy(issue->found, sizeof issue->found, found ? found : "");
    cy_copy(issue->allowed, sizeof issue->allowed, allowed ? allowed : "");
    issue->line = line;
    issue->column = column;
    issue->field_id = -1;
}

void cy_csv_complain(struct cy_csv *csv, size_t index, enum cy_issue_code code, const char *field,
                     const char *found, const char *allowed)
{
    size_t last = csv->count > 0 ? csv->count - 1 : 0;
    const struct cy_csv_field *at = &csv->fields[index < csv->count ? index : last];
    complain_at(csv, at->line, at->column, code, field, found, allowed);
}

const char *cy_csv_field(const struct cy_csv *csv, size_t index)
{
    return index < csv->count ? cy_text_get(&csv->text) + csv->fields[index].start : "";
}

static bool at_line_end(const struct cy_csv *csv)
{
    return csv->at < csv->end && (*csv->at == '\n' || *csv->at == '\r');
}

/* Columns count characters: the later bytes of one do not move them. */
static void step(struct cy_csv *csv)
{
    char c = *csv->at++;
    bool ends = c == '\n' || (c == '\r' && !(csv->at < csv->end && *csv->at == '\n'));
    if (ends) {
        csv->line++;
        csv->column = 1;
    } else if (((unsigned char)c & 0xC0) != 0x80) {
        csv->column++;
    }
}

static void skip_blanks(struct cy_csv *csv)
{
    while (csv->at < csv->end && (*csv->at == ' ' || *csv->at == '\t'))
        step(csv);
}

/* Takes what stands up to one of `ends`, all on this line, in one go: most of every file. */
static void take_span(struct cy_csv *csv, const char ends[3])
{
    const char *from = csv->at;
    while (csv->at < csv->end && *csv->at != ends[0] && *csv->at != ends[1] &&
           *csv->at != ends[2]) {
        csv->column += ((unsigned char)*csv->at & 0xC0) != 0x80;
        csv->at++;
    }
    cy_text_add_n(&csv->text, from, (size_t)(csv->at - from));
}

/* From the opening quote to behind the closing one. */
static bool take_quoted(struct cy_csv *csv)
{
    int line = csv->line, column = csv->column;
    step(csv);
    for (;;) {
        take_span(csv, "\"\n\r");
        if (csv->at == csv->end)
            break;
        bool quote = *csv->at == '"';
        if (quote && !(csv->at + 1 < csv->end && csv->at[1] == '"')) {
            step(csv);
            return true;
        }
        if (quote)
            step(csv);
        cy_text_add_char(&csv->text, *csv->at);
        step(csv);
    }
    complain_at(csv, line, column, CY_ISSUE_SYNTAX, NULL, "a quote that never ends", NULL);
    return false;
}

static void take_plain(struct cy_csv *csv, size_t start)
{
    take_span(csv, ",\n\r");
    while (csv->text.length > start && strchr(" \t", csv->text.data[csv->text.length - 1]))
        csv->text.data[--csv->text.length] = '\0';
}

static int take_field(struct cy_csv *csv)
{
    skip_blanks(csv);
    if (csv->count == CY_CSV_COLUMNS) {
        complain_at(csv, csv->line, csv->column, CY_ISSUE_TOO_LARGE, NULL, "the record",
                    "256 columns");
        return CY_INVALID;
    }
    size_t start = csv->text.length;
    csv->fields[csv->count++] = (struct cy_csv_field){start, csv->line, csv->column};
    if (csv->at < csv->end && *csv->at == '"') {
        if (!take_quoted(csv))
            return CY_INVALID;
        skip_blanks(csv);
        if (csv->at < csv->end && *csv->at != ',' && !at_line_end(csv)) {
            complain_at(csv, csv->line, csv->column, CY_ISSUE_SYNTAX, NULL,
                        "characters behind a closing quote", "a comma or the line's end");
            return CY_INVALID;
        }
    } else {
        take_plain(csv, start);
    }
    cy_text_add_char(&csv->text, '\0');
    return csv->text.failed ? CY_NO_MEMORY : CY_OK;
}

int cy_csv_next(struct cy_csv *csv)
{
    csv->count = 0;
    cy_text_clear(&csv->text);
    skip_blanks(csv);
    while (at_line_end(csv)) {
        step(csv);
        skip_blanks(csv);
    }
    if (csv->at == csv->end)
        return 0;
    for (;;) {
        int status = take_field(csv);
        if (status)
            return status;
        if (csv->at == csv->end)
            return 1;
        bool more = *csv->at == ',';
        step(csv);
        if (!more) {
            if (csv->at[-1] == '\r' && csv->at < csv->end && *csv->at == '\n')
                step(csv);
            return 1;
        }
    }
}
