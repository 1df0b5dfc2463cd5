/* JSON exactly as RFC 8259, read into and written from a cJSON tree.
 *
 * cJSON's own parser forgives too much for a file format (numbers such as 01 or 1., duplicate keys,
 * text after the end, bad UTF-8, numbers cut at 63 characters), so the text is parsed here and only
 * the tree is cJSON's. A number keeps the spelling it was read with in `valuestring` until it is
 * changed, so that numbers this program does not understand are written back digit for digit. */
#pragma once

#include <cjson/cJSON.h>
#include <glib.h>

G_BEGIN_DECLS

/* Arrays and objects within each other, at most. */
#define FW_JSON_DEPTH 64

/* Parses `length` bytes. NULL and FW_DOC_ERROR_SYNTAX with one line, "NAME: line N, column N: what
 * was expected", where the text is not JSON, is not UTF-8, repeats a key within an object, nests
 * deeper than FW_JSON_DEPTH, or holds a number too large for a double or a zero character (cJSON
 * would cut the string there). Columns count characters from 1. Free with cJSON_Delete (). */
cJSON *fw_json_parse (const char *text, gsize length, const char *name, GError **error);

/* The tree as indented text that ends in a newline; what fits stands on one line. */
char *fw_json_print (const cJSON *tree);

/* A value on one line, shortened to about 40 characters, for messages. NULL item: "nothing". */
char *fw_json_brief (const cJSON *item);

/* A string with quotes and escapes, free of control characters. */
char *fw_json_quote (const char *text);

/* The shortest spelling of a number (no unit) that reads back as the same double, with a point in any locale. */
char *fw_json_number_text (double value);

/* As a table or JSON has it in any locale, `format` being one of g_ascii_formatd (): no minus before 0, and `if_none`
 * where it is not a number or has no bound. Free with g_free (). */
char *fw_json_decimal (double value, const char *format, const char *if_none);

/* A number item of nine digits at most; null where it is not a number or has no bound. */
cJSON *fw_json_number (double value);

/* Makes a number item hold `value`; the spelling it was read with is dropped. */
void fw_json_set_number (cJSON *item, double value);

G_END_DECLS
