/* SPDX-License-Identifier: MIT
 * What is wrong with an input. */
#include <caneyear/base/issue.h>

#include <caneyear/base/text.h>

struct cy_issue *cy_issue_add(struct cy_issues *issues, enum cy_issue_code code)
{
    struct cy_issue *issue = &issues->scratch;
    if (issues->count < CY_ISSUES_KEPT)
        issue = &issues->items[issues->count++];
    else
        issues->dropped++;
    *issue = (struct cy_issue){.code = code, .field_id = -1};
    return issue;
}

void cy_issue_say(struct cy_issues *issues, enum cy_issue_code code, const char *thing,
                  const char *field, const char *found, const char *allowed)
{
    if (!issues)
        return;
    struct cy_issue *issue = cy_issue_add(issues, code);
    cy_copy(issue->thing, sizeof issue->thing, thing ? thing : "");
    cy_copy(issue->field, sizeof issue->field, field ? field : "");
    cy_copy(issue->found, sizeof issue->found, found ? found : "");
    cy_copy(issue->allowed, sizeof issue->allowed, allowed ? allowed : "");
}
