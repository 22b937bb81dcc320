/* SPDX-License-Identifier: MIT
 * One sentence for each kind of problem. */
#include "words/words.h"

#include <string.h>

/* What is shown of a text that was found; its beginning is enough to find it by. */
enum { FOUND_COLUMNS = 60 };

/* "$" stands for what was found in the first, and for what is allowed in the last. */
struct sentence {
    const char *found;   /* where something was found */
    const char *nothing; /* where the issue does not say what */
    const char *allowed; /* behind either, where the issue says what is allowed */
};

static const struct sentence sentences[CY_ISSUE_COUNT] = {
    [CY_ISSUE_NOT_READABLE] = {"this cannot be read: $", "this cannot be read", "; needed: $"},
    [CY_ISSUE_TOO_LARGE] = {"$ is too large", "this is too large", "; allowed: $"},
    [CY_ISSUE_SYNTAX] = {"this cannot be understood: $", "this cannot be understood", "; $"},
    [CY_ISSUE_NOT_UTF8] = {"$ is not UTF-8 text; save the file as UTF-8",
                           "this is not UTF-8 text; save the file as UTF-8", ""},
    [CY_ISSUE_CONTROL_CHARACTER] = {"a control character ($) is not allowed here",
                                    "a control character is not allowed here", "; $"},
    [CY_ISSUE_ALIAS] = {"found $, but anchors, aliases, tags and directives are not taken; write "
                        "the value itself",
                        "anchors, aliases, tags and directives are not taken; write the value "
                        "itself",
                        ""},
    [CY_ISSUE_TOO_DEEP] = {"$ is nested too deeply", "this is nested too deeply", "; allowed: $"},
    [CY_ISSUE_SECOND_DOCUMENT] = {"a second document begins here; a file holds one",
                                  "a second document begins here; a file holds one", ""},
    [CY_ISSUE_EMPTY_FILE] = {"the file is empty", "the file is empty", "; it begins with \"$\""},
    [CY_ISSUE_DUPLICATE_KEY] = {"$ is given twice", "a key is given twice", ", first on line $"},
    [CY_ISSUE_UNKNOWN_KEY] = {"no key $ is known here", "an unknown key", "; allowed: $"},
    [CY_ISSUE_WRONG_SHAPE] = {"found $", "this has the wrong form", " where $ is needed"},
    [CY_ISSUE_BAD_NUMBER] = {"$ is not a number", "a number is needed", "; allowed: $"},
    [CY_ISSUE_BAD_UNIT] = {"$ does not have a fitting unit", "this does not have a fitting unit",
                           "; needed: $"},
    [CY_ISSUE_MISSING_UNIT] = {"$ has no unit", "the unit is missing", "; needed: $"},
    [CY_ISSUE_OUT_OF_RANGE] = {"$ is out of range", "this is out of range", "; allowed: $"},
    [CY_ISSUE_BAD_DATE] = {"$ is not a date", "a date is needed", "; allowed: $"},
    [CY_ISSUE_BAD_CHOICE] = {"$ is not one of the choices", "this is not one of the choices",
                             "; allowed: $"},
    [CY_ISSUE_BAD_KEY] = {"$ is not a key", "a key is needed", "; allowed: $"},
    [CY_ISSUE_BAD_REFERENCE] = {"nothing of that kind is called $",
                                "this names nothing of that kind", "; allowed: $"},
    [CY_ISSUE_MISSING] = {"found $, which is not all", "this must be given", "; needed: $"},
    [CY_ISSUE_BAD_VERSION] = {"version $ of the format is not known to this program",
                              "this version of the format is not known to this program",
                              "; it reads version $"},
    [CY_ISSUE_PAIR] = {"these do not go together: $", "two values do not go together", "; $"},
    [CY_ISSUE_NO_SUCH_THING] = {"there is no $", "there is no such thing", "; known: $"},
    [CY_ISSUE_NO_SUCH_FIELD] = {"there is no field $", "there is no such field", "; known: $"},
    [CY_ISSUE_CLASH] = {"this was changed since and is now $", "this was changed since",
                        "; expected: $"},
    [CY_ISSUE_NOTHING_TO_UNDO] = {"there is nothing to undo: $", "there is nothing to undo",
                                  "; allowed: $"},
    [CY_ISSUE_NOTHING_TO_REDO] = {"there is nothing to redo: $", "there is nothing to redo",
                                  "; allowed: $"},
    [CY_ISSUE_IN_USE] = {"this is still in use by $", "this is still in use", "; $"},
    [CY_ISSUE_NOT_A_FARM] = {"this is not a caneyear farm: $", "this is not a caneyear farm",
                             "; needed: $"},
    [CY_ISSUE_FUTURE_FARM] = {"a later caneyear made this farm (version $)",
                              "a later caneyear made this farm", "; this one knows version $"},
    [CY_ISSUE_DAMAGED_FARM] = {"the farm is damaged: $", "the farm is damaged", "; $"},
    [CY_ISSUE_READ_ONLY] = {"this can only be read, not changed: $",
                            "this can only be read, not changed", "; $"},
    [CY_ISSUE_LOCKED] = {"another program is writing to it ($); try again",
                         "another program is writing to it; try again", ""},
    [CY_ISSUE_EXISTS] = {"$ is already there and was left alone",
                         "this is already there and was left alone", "; $"},
    [CY_ISSUE_DISK] = {"writing failed: $", "writing failed", "; $"},
    [CY_ISSUE_NO_CATALOGUE] = {"the catalogue was not found in $", "the catalogue was not found",
                               "; set CANEYEAR_SHARE to the folder that holds $"},
    [CY_ISSUE_BAD_ARGUMENT] = {"the argument $ is not understood", "an argument is not understood",
                               "; allowed: $"},
    [CY_ISSUE_NO_MEMORY] = {"out of memory: $", "out of memory", ""},
};

/* What is found in these is the user's own text and stands in quotes; in the others it is words
 * of the program's. */
static bool is_quoted(const struct cy_issue *issue)
{
    switch (issue->code) {
    case CY_ISSUE_DUPLICATE_KEY:
    case CY_ISSUE_UNKNOWN_KEY:
    case CY_ISSUE_BAD_NUMBER:
    case CY_ISSUE_BAD_UNIT:
    case CY_ISSUE_MISSING_UNIT:
    case CY_ISSUE_OUT_OF_RANGE:
    case CY_ISSUE_BAD_DATE:
    case CY_ISSUE_BAD_CHOICE:
    case CY_ISSUE_BAD_KEY:
    case CY_ISSUE_BAD_REFERENCE:
    case CY_ISSUE_BAD_VERSION:
    case CY_ISSUE_NO_SUCH_THING:
    case CY_ISSUE_NO_SUCH_FIELD:
    case CY_ISSUE_CLASH:
    case CY_ISSUE_EXISTS:
    case CY_ISSUE_BAD_ARGUMENT:
        return true;
    case CY_ISSUE_TOO_LARGE: /* a field's text, or "the file" */
        return issue->field[0] != '\0';
    default:
        return false;
    }
}

static void add_outside(struct cy_text *out, const char *text, bool ascii)
{
    cy_text_add_clean(out, text, strlen(text), ascii);
}

static void add_found(struct cy_text *out, const struct cy_issue *issue, bool ascii)
{
    if (!is_quoted(issue)) {
        add_outside(out, issue->found, ascii);
        return;
    }
    struct cy_text clean = {0};
    add_outside(&clean, issue->found, ascii);
    cy_text_add_char(out, '"');
    cy_text_add_fit(out, cy_text_get(&clean), FOUND_COLUMNS, ascii ? "~" : "…");
    cy_text_add_char(out, '"');
    out->failed |= clean.failed;
    cy_text_dispose(&clean);
}

/* A template up to its "$"; what follows it is returned, NULL where there is none. */
static const char *add_until_mark(struct cy_text *out, const char *template)
{
    const char *mark = strchr(template, '$');
    cy_text_add_n(out, template, mark ? (size_t)(mark - template) : strlen(template));
    return mark ? mark + 1 : NULL;
}

/* One name alone is the nearest to what was found; a list or a description is not. */
static bool is_guess(const struct cy_issue *issue)
{
    switch (issue->code) {
    case CY_ISSUE_UNKNOWN_KEY:
    case CY_ISSUE_BAD_REFERENCE:
    case CY_ISSUE_NO_SUCH_THING:
    case CY_ISSUE_NO_SUCH_FIELD:
        return !strpbrk(issue->allowed, ", ");
    default:
        return false;
    }
}

static void add_allowed(struct cy_text *out, const struct cy_issue *issue, bool ascii)
{
    const char *template = sentences[issue->code].allowed;
    if (is_guess(issue))
        template = "; did you mean \"$\"?";
    const char *rest = add_until_mark(out, template);
    if (rest) {
        add_outside(out, issue->allowed, ascii);
        cy_text_add(out, rest);
    }
}

/* "farm.yaml:12:9: row north-1, spacing: ", as far as the issue knows. */
static void add_place(struct cy_text *out, const struct cy_issue *issue, bool ascii)
{
    if (issue->file[0]) {
        add_outside(out, issue->file, ascii);
        if (issue->line > 0) {
            cy_text_add_char(out, ':');
            cy_text_add_int(out, issue->line);
            cy_text_add_char(out, ':');
            cy_text_add_int(out, issue->column);
        }
        cy_text_add(out, ": ");
    }
    if (!issue->thing[0] && !issue->field[0])
        return;
    add_outside(out, issue->thing, ascii);
    if (issue->thing[0] && issue->field[0])
        cy_text_add(out, ", ");
    add_outside(out, issue->field, ascii);
    cy_text_add(out, ": ");
}

void cy_say_issue(struct cy_text *out, const struct cy_issue *issue, bool ascii)
{
    const struct sentence *sentence = &sentences[issue->code];
    add_place(out, issue, ascii);
    const char *rest = add_until_mark(out, issue->found[0] ? sentence->found : sentence->nothing);
    if (rest) {
        add_found(out, issue, ascii);
        cy_text_add(out, rest);
    }
    if (issue->allowed[0])
        add_allowed(out, issue, ascii);
}
