/* SPDX-License-Identifier: MIT
 * UTF-8 that is never trusted: reading, widths, characters unfit for a terminal. */
#include <caneyear/base/text.h>

#include <string.h>

struct range {
    int32_t first, last;
};

/* Small on purpose: the scripts people type names in, not all of Unicode. Both are sorted. */
static const struct range zero_width[] = {
    {0x0300, 0x036F},   {0x0483, 0x0489},   {0x0591, 0x05BD}, {0x05BF, 0x05BF}, {0x05C1, 0x05C2},
    {0x05C4, 0x05C5},   {0x05C7, 0x05C7},   {0x0610, 0x061A}, {0x064B, 0x065F}, {0x0670, 0x0670},
    {0x06D6, 0x06DC},   {0x06DF, 0x06E4},   {0x06E7, 0x06E8}, {0x06EA, 0x06ED}, {0x0900, 0x0902},
    {0x093A, 0x093A},   {0x093C, 0x093C},   {0x0941, 0x0948}, {0x094D, 0x094D}, {0x0951, 0x0957},
    {0x0E31, 0x0E31},   {0x0E34, 0x0E3A},   {0x0E47, 0x0E4E}, {0x1160, 0x11FF}, {0x1AB0, 0x1ACE},
    {0x1DC0, 0x1DFF},   {0x200B, 0x200F},   {0x202A, 0x202E}, {0x2060, 0x206F}, {0x20D0, 0x20F0},
    {0x302A, 0x302D},   {0x3099, 0x309A},   {0xFE00, 0xFE0F}, {0xFE20, 0xFE2F}, {0xFEFF, 0xFEFF},
    {0xE0001, 0xE007F}, {0xE0100, 0xE01EF},
};

static const struct range two_wide[] = {
    {0x1100, 0x115F},   {0x231A, 0x231B},   {0x2329, 0x232A},   {0x23E9, 0x23EC},
    {0x23F0, 0x23F0},   {0x23F3, 0x23F3},   {0x25FD, 0x25FE},   {0x2614, 0x2615},
    {0x2648, 0x2653},   {0x267F, 0x267F},   {0x2693, 0x2693},   {0x26A1, 0x26A1},
    {0x26AA, 0x26AB},   {0x26BD, 0x26BE},   {0x26C4, 0x26C5},   {0x26CE, 0x26CE},
    {0x26D4, 0x26D4},   {0x26EA, 0x26EA},   {0x26F2, 0x26F3},   {0x26F5, 0x26F5},
    {0x26FA, 0x26FA},   {0x26FD, 0x26FD},   {0x2705, 0x2705},   {0x270A, 0x270B},
    {0x2728, 0x2728},   {0x274C, 0x274C},   {0x274E, 0x274E},   {0x2753, 0x2755},
    {0x2757, 0x2757},   {0x2795, 0x2797},   {0x27B0, 0x27B0},   {0x27BF, 0x27BF},
    {0x2B1B, 0x2B1C},   {0x2B50, 0x2B50},   {0x2B55, 0x2B55},   {0x2E80, 0x303E},
    {0x3041, 0x33FF},   {0x3400, 0x4DBF},   {0x4E00, 0x9FFF},   {0xA000, 0xA4CF},
    {0xA960, 0xA97C},   {0xAC00, 0xD7A3},   {0xF900, 0xFAFF},   {0xFE10, 0xFE19},
    {0xFE30, 0xFE6F},   {0xFF00, 0xFF60},   {0xFFE0, 0xFFE6},   {0x17000, 0x18CFF},
    {0x1B000, 0x1B2FF}, {0x1F004, 0x1F004}, {0x1F0CF, 0x1F0CF}, {0x1F18E, 0x1F18E},
    {0x1F191, 0x1F19A}, {0x1F200, 0x1F320}, {0x1F32D, 0x1F335}, {0x1F337, 0x1F37C},
    {0x1F37E, 0x1F393}, {0x1F3A0, 0x1F3CA}, {0x1F3CF, 0x1F3D3}, {0x1F3E0, 0x1F3F0},
    {0x1F3F4, 0x1F3F4}, {0x1F3F8, 0x1F43E}, {0x1F440, 0x1F440}, {0x1F442, 0x1F4FC},
    {0x1F4FF, 0x1F53D}, {0x1F54B, 0x1F54E}, {0x1F550, 0x1F567}, {0x1F57A, 0x1F57A},
    {0x1F595, 0x1F596}, {0x1F5A4, 0x1F5A4}, {0x1F5FB, 0x1F64F}, {0x1F680, 0x1F6C5},
    {0x1F6CC, 0x1F6CC}, {0x1F6D0, 0x1F6D2}, {0x1F6D5, 0x1F6DF}, {0x1F6EB, 0x1F6EC},
    {0x1F6F4, 0x1F6FC}, {0x1F7E0, 0x1F7F0}, {0x1F90C, 0x1F93A}, {0x1F93C, 0x1F945},
    {0x1F947, 0x1F9FF}, {0x1FA70, 0x1FAFF}, {0x20000, 0x2FFFD}, {0x30000, 0x3FFFD},
};

static bool is_among(int32_t code_point, const struct range *ranges, size_t count)
{
    size_t low = 0, high = count;
    while (low < high) {
        size_t middle = (low + high) / 2;
        if (code_point > ranges[middle].last)
            low = middle + 1;
        else if (code_point < ranges[middle].first)
            high = middle;
        else
            return true;
    }
    return false;
}

int cy_utf8_width(int32_t code_point)
{
    if (code_point < 0x300)
        return 1;
    if (is_among(code_point, zero_width, sizeof zero_width / sizeof *zero_width))
        return 0;
    return is_among(code_point, two_wide, sizeof two_wide / sizeof *two_wide) ? 2 : 1;
}

int32_t cy_utf8_next(const char *bytes, size_t length, size_t *used)
{
    static const int32_t smallest[] = {0, 0x80, 0x800, 0x10000}; /* by continuation bytes */
    *used = length ? 1 : 0;
    if (!length)
        return -1;
    unsigned char first = (unsigned char)bytes[0];
    if (first < 0x80)
        return first;
    size_t more = first >= 0xF0 ? 3 : first >= 0xE0 ? 2 : 1;
    if (first < 0xC2 || first > 0xF4 || more >= length)
        return -1;
    int32_t code_point = first & (0x3F >> more);
    for (size_t i = 1; i <= more; i++) {
        unsigned char byte = (unsigned char)bytes[i];
        if ((byte & 0xC0) != 0x80)
            return -1;
        code_point = code_point << 6 | (byte & 0x3F);
    }
    if (code_point < smallest[more] || code_point > 0x10FFFF ||
        (code_point >= 0xD800 && code_point <= 0xDFFF))
        return -1;
    *used = more + 1;
    return code_point;
}

bool cy_utf8_valid(const char *bytes, size_t length)
{
    size_t used;
    for (size_t i = 0; i < length; i += used) {
        if (cy_utf8_next(bytes + i, length - i, &used) < 0)
            return false;
    }
    return true;
}

bool cy_utf8_is_control(int32_t c)
{
    return c < 0x20 || (c >= 0x7F && c <= 0x9F) || c == 0x061C || c == 0x200E || c == 0x200F ||
           (c >= 0x2028 && c <= 0x202E) || (c >= 0x2066 && c <= 0x206F);
}

bool cy_utf8_has_control(const char *bytes, size_t length)
{
    size_t used;
    for (size_t i = 0; i < length; i += used) {
        if (cy_utf8_is_control(cy_utf8_next(bytes + i, length - i, &used)))
            return true;
    }
    return false;
}

int cy_utf8_columns(const char *string)
{
    int columns = 0;
    size_t length = strlen(string), used;
    for (size_t i = 0; i < length; i += used)
        columns += cy_utf8_width(cy_utf8_next(string + i, length - i, &used));
    return columns;
}
